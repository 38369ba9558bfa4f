//! The test water with two shoals, and comparisons of its plans.

use std::path::Path;

use sim::scenario::{Scenario, load};
use sim::study::{Compare, Comparison};

/// The test water, with overrides as on the command line.
pub(crate) fn demo(sets: &[&str]) -> Scenario {
    scenario("tests/waters/two-shoals.toml", sets)
}

/// A scenario file of the project, with overrides as on the command line.
pub(crate) fn scenario(path: &str, sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    load(&file, &sets).unwrap_or_else(|faults| panic!("{path}: {faults}"))
}

/// A comparison of all plans on days 1 to `days` of seed 1.
pub(crate) fn compared(scenario: &Scenario, days: u32) -> Comparison {
    Compare::new(scenario).days(days).run()
}
