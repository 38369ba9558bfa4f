//! A stationary swim: the real angler and engine against the rates and best intervals of renewal-reward theory.
//!
//! One cast is a cycle. With survival S, F = 1 − S, M(T) = ∫₀ᵀ S, an overhead c for each cast and b more for each
//! bite, waiting at most T gives R(T) = F(T) / (M(T) + c + b F(T)) bites a unit of time.

use sim::angler::{EndTackle, HookbaitId, Phase, Plan, RecipeId, Rules, Tackle};
use sim::bait::{Hookbait, ParticleClass, ParticleShape, Recipe};
use sim::engine::Dice;
use sim::fish::{Shoal, Species, TraitPriors};
use sim::params::DailyDistribution;
use sim::scenario::{Aims, Books, Scenario, SessionKind, Units, WrittenScenario, read};
use sim::session::{Day, run_with_waiting_times};
use sim::water::{BankSounding, Bathymetry, Chart, Clarity, Line, LineId, Point, Weather};

/// Length of one session [min]: some thousands of cycles, so that the last incomplete one does not matter.
const SESSION_MIN: f64 = 12_000.0;
const SESSIONS: u32 = 60;

/// A distribution of waiting times [min].
#[derive(Clone, Copy)]
enum Law {
    Weibull {
        shape: f64,
        scale_min: f64,
    },
    /// No bite at all with this chance, else exponential.
    Never {
        share: f64,
        mean_min: f64,
    },
}

impl Law {
    fn wait_min(self, dice: &mut Dice) -> f64 {
        match self {
            Self::Weibull { shape, scale_min } => {
                scale_min * dice.exponential(1.0).powf(1.0 / shape)
            }
            Self::Never { share, mean_min } => {
                let wait_min = dice.exponential(mean_min);
                if dice.bernoulli(share) { f64::INFINITY } else { wait_min }
            }
        }
    }

    /// Share still waiting after `t` [min].
    fn survival(self, t: f64) -> f64 {
        match self {
            Self::Weibull { shape, scale_min } => (-(t / scale_min).powf(shape)).exp(),
            Self::Never { share, mean_min } => share + (1.0 - share) * (-t / mean_min).exp(),
        }
    }

    /// R(T) [1/min] by Simpson's rule, in s = √t so that a steep start causes no error.
    fn rate(self, wait_min: f64, over_min: f64, bite_min: f64) -> f64 {
        let (steps, top) = (20_000, wait_min.sqrt());
        let width = top / f64::from(steps);
        let term = |i: u32| {
            let s = width * f64::from(i);
            let weight = if i == 0 || i == steps {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            weight * 2.0 * s * self.survival(s * s)
        };
        let waited_min = (0..=steps).map(term).sum::<f64>() * width / 3.0;
        let bitten = 1.0 - self.survival(wait_min);
        bitten / (waited_min + over_min + bite_min * bitten)
    }
}

const K07: Law = Law::Weibull { shape: 0.7, scale_min: 8.0 };
const CONSTANT: Law = Law::Weibull { shape: 1.0, scale_min: 8.0 };
const RISING: Law = Law::Weibull { shape: 1.5, scale_min: 8.0 };
const NEVER40: Law = Law::Never { share: 0.4, mean_min: 4.0 };

/// The smallest scenario that can be read; everything of it is replaced.
fn smallest() -> Scenario {
    let text = "line.a.distance = \"20 m\"\nshoal.a.count = 1\nplan.a.recast = \"2 min\"\n";
    read(text, "smallest", &[]).expect("it has a line, a shoal and a plan")
}

/// One line, one plan with this waiting time, one fish that goes back each time.
fn bank(wait_min: f64, mass_kg: f64) -> Scenario {
    let at = Point { x_m: 0.0, y_m: 20.0 };
    let mut books = Books::default();
    for book in [&mut books.water, &mut books.bait, &mut books.fish, &mut books.angler] {
        book.fix_all();
    }
    let mut bank = smallest();
    bank.aims = Aims::default();
    bank.name = "bank".to_owned();
    bank.title = "A bank".to_owned();
    bank.session_s = 60.0 * SESSION_MIN;
    bank.kind = SessionKind::Pleasure;
    bank.foul_hooked_counts = true;
    bank.units = Units::Metric;
    bank.keepnet = None;
    bank.chart = Chart {
        width_m: 30.0,
        length_m: 30.0,
        bed: Bathymetry::new(
            vec![BankSounding { distance_m: 1.0, depth_m: 1.0 }],
            Vec::new(),
            12.0,
        ),
        features: Vec::new(),
    };
    bank.lines = vec![Line { name: "only".to_owned(), at }];
    bank.weather = Weather {
        temperature_c: DailyDistribution::Fixed(18.0),
        wind_m_s: DailyDistribution::Fixed(0.0),
        wind_to_deg: DailyDistribution::Fixed(0.0),
        oxygen_mg_l: DailyDistribution::Fixed(8.0),
        cloud_share: DailyDistribution::Fixed(0.5),
    };
    bank.clarity = Clarity::Coloured;
    bank.clock = None;
    bank.recipes = vec![
        Recipe {
            name: "none".to_owned(),
            classes: vec![ParticleClass {
                name: "grain".to_owned(),
                diameter_m: 0.002,
                density_kg_m3: 1150.0,
                share: 1.0,
                edible_share: 0.3,
                shape: ParticleShape::Grain,
            }],
            mouthful_kg: 0.0004,
            attractant_mol_kg: 0.0,
            opens_after_s: 30.0,
        }
        .into(),
    ];
    bank.hookbaits = vec![
        Hookbait {
            name: "pellet".to_owned(),
            lasts_s: 900.0,
            displaced_share: 0.0,
            temptation: 1.0,
            diameter_m: 0.006,
        }
        .into(),
    ];
    bank.shoals = vec![Shoal {
        name: "all alike".to_owned(),
        count: DailyDistribution::Fixed(1.0),
        mass_kg: DailyDistribution::Fixed(mass_kg),
        mass_cv: 0.0,
        home: at,
        home_half_length_m: 5.0,
        home_half_width_m: 5.0,
        home_shift_m: 0.0,
        traits: TraitPriors::default(),
        species: Species::COMMON_CARP,
        stock: None,
        moves: Vec::new(),
    }];
    bank.plans = vec![Plan {
        name: "wait".to_owned(),
        phases: vec![Phase {
            from_s: 0.0,
            until_s: 60.0 * SESSION_MIN,
            tackle: Tackle {
                line: LineId(0),
                // A wait begins with the cast; the bait sinks for this time before it fishes.
                recast_s: 60.0 * wait_min + SINKS_S,
                load_kg: 0.0,
                feeder_kg: 0.03,
                recipe: RecipeId(0),
                buried: false,
                compression: 1.0,
                hookbait: HookbaitId(0),
                end: EndTackle::default(),
            },
            loose_feed: Vec::new(),
        }],
        bait_limit_kg: None,
        rules: Rules::default(),
    }];
    bank.books = books;
    bank.learned = None;
    bank.fixed_days = false;
    bank.sha256 = "0".repeat(64);
    bank.written = WrittenScenario::default();
    bank
}

const SINKS_S: f64 = 2.0;
const FLIES_S: f64 = 3.0;
const WINDS_IN_S: f64 = 20.0;

/// A day on which every cast costs `over_min` and every bite `bite_min` more, to the microsecond.
fn day(scenario: &Scenario, number: u32, over_min: f64, bite_min: f64) -> Day {
    let mut day = Day::draw(scenario, 5, number);
    let angler = &mut day.angler;
    angler.time_spread_ln = 0.0;
    angler.cast_spread_share = 0.0;
    angler.sink_m_s = 1.0 / SINKS_S;
    angler.cast_flight_s = FLIES_S;
    angler.wind_in_m_s = 20.0 / WINDS_IN_S;
    angler.load_s = 60.0 * over_min - SINKS_S - FLIES_S - WINDS_IN_S;
    // A fish is wound in with the rig; only its additional time counts for the bite.
    angler.unhook_s = 15.0;
    angler.fight_s = 60.0 * bite_min + WINDS_IN_S - angler.unhook_s;
    angler.fight_s_kg = 0.0;
    angler.hooks_share = 1.0;
    // The odds of losing a fish are one to a million, so none is lost.
    angler.lands_share = 1.0 - 1e-9;
    angler.loss_per_kg = 0.0;
    day
}

/// Bites and weight of each session.
fn fished(law: Law, wait_min: f64, over_min: f64, bite_min: f64, mass_kg: f64) -> Vec<(f64, f64)> {
    let scenario = bank(wait_min, mass_kg);
    let in_seconds = |dice: &mut Dice| 60.0 * law.wait_min(dice);
    (1..=SESSIONS)
        .map(|number| {
            let day = day(&scenario, number, over_min, bite_min);
            let outcome = run_with_waiting_times(&scenario, &scenario.plans[0], &day, &in_seconds);
            (outcome.bites as f64, outcome.weight_g as f64)
        })
        .collect()
}

/// Mean and standard error of bites a minute.
fn rate(sessions: &[(f64, f64)]) -> (f64, f64) {
    let n = sessions.len() as f64;
    let rates = || sessions.iter().map(|(bites, _)| bites / SESSION_MIN);
    let mean = rates().sum::<f64>() / n;
    let variance = rates().map(|one| (one - mean).powi(2)).sum::<f64>() / (n - 1.0);
    (mean, (variance / n).sqrt())
}

/// V-106: rates of waiting at most T, at the best T of each distribution and at two and ten minutes.
#[test]
#[cfg_attr(debug_assertions, ignore = "long; runs in release")]
fn bite_rates_agree_with_renewal_theory() {
    // All cases draw their waits from the same streams, so their errors are common: with this seed the drawn waits
    // are 2.6 standard errors too long in the mean for an unlimited wait, and 3.6 with three minutes to play.
    //
    // (distribution, overhead, additional time for a bite, wait, bites a minute computed from the closed form)
    let cases = [
        (K07, 0.75, 0.0, 1.945_230, 0.133_735),
        (K07, 0.75, 3.0, 1.945_230, 0.095_443),
        (CONSTANT, 0.75, 0.0, 200.0, 0.114_286),
        (CONSTANT, 0.75, 3.0, 200.0, 0.085_106),
        (RISING, 0.75, 0.0, 200.0, 0.125_440),
        (RISING, 0.75, 3.0, 200.0, 0.091_141),
        (NEVER40, 0.75, 0.0, 3.336_736, 0.098_608),
        (NEVER40, 0.75, 3.0, 3.336_736, 0.076_097),
        (NEVER40, 1.5, 0.0, 4.465_716, 0.082_346),
        (NEVER40, 1.5, 3.0, 4.465_716, 0.066_034),
        (NEVER40, 0.75, 3.0, 2.0, 0.073_716),
        (NEVER40, 0.75, 3.0, 10.0, 0.064_002),
    ];
    for (law, over_min, bite_min, wait_min, known) in cases {
        // The closed form itself, to the digits given (a wait of 200 min represents an unlimited one).
        let exact = law.rate(wait_min, over_min, bite_min);
        assert!((exact - known).abs() < 1e-6, "closed form {exact}, known {known}");
        let (mean, se) = rate(&fished(law, wait_min, over_min, bite_min, 1.0));
        let z = (mean - exact) / se;
        println!(
            "T {wait_min} min, c {over_min}, b {bite_min}: {mean:.6} of {exact:.6}, z = {z:+.1}"
        );
        // A session ends within a cycle: an error of less than one bite in some thousand.
        let cut = 0.5 / SESSION_MIN;
        assert!((mean - exact).abs() < 4.0 * se + cut, "{mean} ± {se} bites/min of {exact}");
    }
}

/// V-107: the best wait, and what it does not depend on.
#[test]
#[cfg_attr(debug_assertions, ignore = "long; runs in release")]
fn the_best_wait_agrees_with_theory_for_any_fish_mass_and_fight_duration() {
    // Waits a factor of 1.8 apart about the theoretical optimum, 3.337 min. Its neighbours are 4 % and more below it
    // (in closed form). The standard error of each is 0.4 % at 60 sessions, that of a difference 0.6 %, so a false
    // optimum would be more than six standard errors away.
    let waits_min = [1.03, 1.854, 3.337, 6.006, 10.81];
    let best = |bite_min: f64, mass_kg: f64| {
        let weights = waits_min.map(|wait_min| {
            fished(NEVER40, wait_min, 0.75, bite_min, mass_kg).iter().map(|s| s.1).sum::<f64>()
        });
        println!("fish of {mass_kg} kg, {bite_min} min to play: {:?} kg", weights.map(|g| g / 6e4));
        (0..weights.len()).max_by(|&a, &b| weights[a].total_cmp(&weights[b]))
    };
    assert_eq!(best(0.0, 1.0), Some(2), "one kilogram, no time to play");
    assert_eq!(best(0.0, 6.0), Some(2), "six kilograms");
    assert_eq!(best(3.0, 1.0), Some(2), "three minutes to play");
}

/// V-108: if the hazard of a bite does not fall with the wait, recasting early never helps.
#[test]
#[cfg_attr(debug_assertions, ignore = "long; runs in release")]
fn with_a_constant_or_rising_hazard_longer_waits_are_always_better() {
    for law in [CONSTANT, RISING] {
        let rates = [1.0, 2.0, 4.0, 8.0, 16.0].map(|t| rate(&fished(law, t, 0.75, 3.0, 1.0)).0);
        println!("bites a minute after waits of 1 to 16 min: {rates:.5?}");
        // In closed form each step gains 2.7 % or more; the standard error of a difference is 0.6 %.
        assert!(rates.is_sorted(), "a longer wait gave fewer bites: {rates:?}");
    }
    // The opposite case: with a falling hazard some wait is too long.
    let short = rate(&fished(K07, 1.945, 0.75, 3.0, 1.0));
    let long = rate(&fished(K07, 30.0, 0.75, 3.0, 1.0));
    assert!(short.0 - long.0 > 4.0 * (short.1 + long.1), "{short:?} against {long:?}");
}
