//! The demo scenario, and comparisons of its plans.

use std::convert::Infallible;
use std::path::Path;

use sim::scenario::{Scenario, load};
use sim::study::{Comparison, Control, compare};

/// The demo, with overrides as on the command line.
pub(crate) fn demo(sets: &[&str]) -> Scenario {
    scenario("scenarios/hazel-mere.toml", sets)
}

/// A scenario file of the project, with overrides as on the command line.
pub(crate) fn scenario(path: &str, sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    load(&file, &sets).unwrap_or_else(|faults| panic!("{path}: {faults}"))
}

/// A comparison of all plans on days 1 to `days` of seed 1.
pub(crate) fn compared(scenario: &Scenario, days: u32) -> Comparison {
    let ignored = |_: &_| Ok::<(), Infallible>(());
    let Ok(comparison) = compare(scenario, 1, days, Control::default(), ignored);
    comparison
}
