//! A small water built in code, of which the fixtures of several tests are made.

use sim::angler::{EndTackle, HookbaitId, Phase, Plan, RecipeId, Rules, Tackle};
use sim::bait::{Hookbait, ParticleClass, ParticleShape, Recipe};
use sim::fish::{Shoal, Species, TraitPriors};
use sim::params::DailyDistribution;
use sim::scenario::{Aims, Books, Scenario, SessionKind, Units, WrittenScenario, read};
use sim::water::{BankSounding, Bathymetry, Chart, Clarity, Line, LineId, Point, Weather};

/// A level water with one line, one shoal at it, one bait, one hookbait and no plan. Nothing of it differs between days.
pub(crate) fn small_water(
    at: Point,
    depth_m: f64,
    attractant_mol_kg: f64,
    displaced_share: f64,
) -> Scenario {
    // The smallest scenario that can be read; everything of it is replaced.
    let text = "line.a.distance = \"20 m\"\nshoal.a.count = 1\nplan.a.recast = \"2 min\"\n";
    let mut water = read(text, "small", &[]).expect("it has a line, a shoal and a plan");
    water.title = "A small water".to_owned();
    water.kind = SessionKind::Match;
    water.foul_hooked_counts = true;
    water.units = Units::Metric;
    water.keepnet = None;
    water.chart = Chart {
        width_m: 30.0,
        length_m: 30.0,
        bed: Bathymetry::new(vec![BankSounding { distance_m: 1.0, depth_m }], Vec::new(), 12.0),
        features: Vec::new(),
    };
    water.lines = vec![Line { name: "middle".to_owned(), at }];
    water.weather = Weather {
        temperature_c: DailyDistribution::Fixed(18.0),
        wind_m_s: DailyDistribution::Fixed(0.0),
        wind_to_deg: DailyDistribution::Fixed(0.0),
        oxygen_mg_l: DailyDistribution::Fixed(8.0),
        cloud_share: DailyDistribution::Fixed(0.5),
    };
    water.clarity = Clarity::Coloured;
    water.clock = None;
    let grain = ParticleClass {
        name: "grain".to_owned(),
        diameter_m: 0.002,
        density_kg_m3: 1150.0,
        share: 1.0,
        edible_share: 0.3,
        shape: ParticleShape::Grain,
    };
    let crumb = Recipe {
        name: "crumb".to_owned(),
        classes: vec![grain],
        mouthful_kg: 0.0004,
        attractant_mol_kg,
        opens_after_s: 30.0,
    };
    let pellet = Hookbait {
        name: "pellet".to_owned(),
        lasts_s: 900.0,
        displaced_share,
        temptation: 1.0,
        diameter_m: 0.006,
    };
    water.recipes = vec![crumb.into()];
    water.hookbaits = vec![pellet.into()];
    water.shoals = vec![Shoal {
        name: "small".to_owned(),
        count: DailyDistribution::Fixed(1.0),
        mass_kg: DailyDistribution::Fixed(0.8),
        mass_cv: 0.0,
        home: at,
        home_half_length_m: 8.0,
        home_half_width_m: 6.0,
        home_shift_m: 0.0,
        traits: TraitPriors::default(),
        species: Species::COMMON_CARP,
        stock: None,
        moves: Vec::new(),
    }];
    water.plans = Vec::new();
    water.aims = Aims::default();
    water.books = Books::default();
    water.learned = None;
    water.fixed_days = false;
    water.sha256 = "0".repeat(64);
    water.written = WrittenScenario::default();
    water
}

/// A plan that casts a load of `load_kg` to the only line for the whole session, and winds in after `recast_s`.
pub(crate) fn plan_of_one_phase(name: &str, session_s: f64, recast_s: f64, load_kg: f64) -> Plan {
    Plan {
        name: name.to_owned(),
        phases: vec![Phase {
            from_s: 0.0,
            until_s: session_s,
            tackle: Tackle {
                line: LineId(0),
                recast_s,
                load_kg,
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
