//! A small invented pond, built in code, for tests with many sessions.

use std::convert::Infallible;

use sim::angler::{EndTackle, HookbaitId, Phase, Plan, RecipeId, Rules, Tackle};
use sim::bait::{Hookbait, ParticleClass, ParticleShape, Recipe};
use sim::fish::{Shoal, Species, TraitPriors};
use sim::params::DailyDistribution;
use sim::scenario::{Aims, Books, Scenario, SessionKind, Units, WrittenScenario, read};
use sim::study::{Compare, Comparison, DayOutcomes};
use sim::water::{
    BankSounding, Bathymetry, Chart, Clarity, Conditions, Line, LineId, Point, Weather,
};

/// Weather of an ordinary day.
pub(crate) const FAIR: Conditions = Conditions {
    temperature_c: 18.0,
    wind_m_s: 2.0,
    wind_to_rad: 0.0,
    oxygen_mg_l: 8.0,
    cloud_share: 0.5,
};

/// Length of the pond's session [s].
pub(crate) const SESSION_S: f64 = 1800.0;

/// A plan that casts 20 g to the only line and winds in after `recast_s`.
pub(crate) fn plan(name: &str, recast_s: f64) -> Plan {
    Plan {
        name: name.to_owned(),
        phases: vec![Phase {
            from_s: 0.0,
            until_s: SESSION_S,
            tackle: Tackle {
                line: LineId(0),
                recast_s,
                load_kg: 0.02,
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
    }
}

/// The smallest scenario that can be read; everything of it is replaced.
fn smallest() -> Scenario {
    let text = "line.a.distance = \"20 m\"\nshoal.a.count = 1\nplan.a.recast = \"2 min\"\n";
    read(text, "smallest", &[]).expect("it has a line, a shoal and a plan")
}

/// Half an hour on a shallow pond with some 240 small fish in reach, and two plans.
pub(crate) fn pond() -> Scenario {
    let at = Point { x_m: 0.0, y_m: 15.0 };
    let mut pond = smallest();
    pond.name = "pond".to_owned();
    pond.title = "A pond".to_owned();
    pond.session_s = SESSION_S;
    pond.kind = SessionKind::Match;
    pond.foul_hooked_counts = true;
    pond.units = Units::Metric;
    pond.keepnet = None;
    pond.chart = Chart {
        width_m: 30.0,
        length_m: 25.0,
        bed: Bathymetry::new(
            vec![BankSounding { distance_m: 1.0, depth_m: 1.2 }],
            Vec::new(),
            12.0,
        ),
        features: Vec::new(),
    };
    pond.lines = vec![Line { name: "middle".to_owned(), at }];
    pond.weather = Weather {
        temperature_c: DailyDistribution::Uniform { low: 16.0, high: 21.0 },
        wind_m_s: DailyDistribution::Uniform { low: 0.5, high: 4.0 },
        wind_to_deg: DailyDistribution::Fixed(0.0),
        oxygen_mg_l: DailyDistribution::Fixed(8.0),
        cloud_share: DailyDistribution::Fixed(0.5),
    };
    pond.clarity = Clarity::Coloured;
    pond.clock = None;
    pond.recipes = vec![
        Recipe {
            name: "crumb".to_owned(),
            classes: vec![ParticleClass {
                name: "grain".to_owned(),
                diameter_m: 0.002,
                density_kg_m3: 1150.0,
                share: 1.0,
                edible_share: 0.3,
                shape: ParticleShape::Grain,
            }],
            mouthful_kg: 0.0004,
            attractant_mol_kg: 0.09,
            opens_after_s: 30.0,
        }
        .into(),
    ];
    pond.hookbaits = vec![
        Hookbait {
            name: "pellet".to_owned(),
            lasts_s: 900.0,
            displaced_share: 0.2,
            temptation: 1.0,
            diameter_m: 0.006,
        }
        .into(),
    ];
    pond.shoals = vec![Shoal {
        name: "small".to_owned(),
        count: DailyDistribution::Uniform { low: 180.0, high: 300.0 },
        mass_kg: DailyDistribution::Fixed(0.8),
        mass_cv: 0.3,
        home: at,
        home_half_length_m: 8.0,
        home_half_width_m: 6.0,
        home_shift_m: 1.0,
        traits: TraitPriors::default(),
        species: Species::COMMON_CARP,
        stock: None,
        moves: Vec::new(),
    }];
    pond.plans = vec![plan("often", 90.0), plan("seldom", 420.0)];
    pond.aims = Aims::default();
    pond.books = Books::default();
    pond.learned = None;
    pond.fixed_days = false;
    pond.sha256 = "0".repeat(64);
    pond.written = WrittenScenario::default();
    pond
}

/// Ignores a finished day.
pub(crate) fn ignored(_: &DayOutcomes) -> Result<(), Infallible> {
    Ok(())
}

/// A comparison of all plans on days 1 to `days` of a seed.
pub(crate) fn compared(scenario: &Scenario, seed: u64, days: u32) -> Comparison {
    Compare::new(scenario).seed(seed).days(days).run()
}
