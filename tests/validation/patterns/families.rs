//! Families of waters for the patterns of recognisable fish, and ratios of sums over days.

use sim::scenario::Scenario;
use sim::session::Outcome;

use super::sessions::fished;
use crate::demo::scenario;
use crate::evidence::{mean, standard_error};

/// Number of blocks of days from which the error of a ratio is taken.
const BLOCKS: usize = 10;

/// One of the invented waters next to these tests.
pub(super) fn water(name: &str, sets: &[&str]) -> Scenario {
    scenario(&format!("tests/validation/patterns/{name}.toml"), sets)
}

/// One plan of a water on many days.
pub(super) fn outcomes(name: &str, sets: &[&str], plan: &str, many: u32) -> Vec<Outcome> {
    fished(&water(name, sets), plan, many)
}

/// Weight of each day [kg].
pub(super) fn kg(outcomes: &[Outcome]) -> Vec<f64> {
    outcomes.iter().map(|outcome| outcome.weight_g as f64 / 1e3).collect()
}

/// Fish of each day.
pub(super) fn fish(outcomes: &[Outcome]) -> Vec<f64> {
    outcomes.iter().map(|outcome| outcome.catches.len() as f64).collect()
}

/// Fish netted between two times of each day [s].
pub(crate) fn fish_between(outcomes: &[Outcome], from_s: f64, until_s: f64) -> Vec<f64> {
    let within = |at_s: f64| from_s <= at_s && at_s < until_s;
    outcomes
        .iter()
        .map(|outcome| outcome.catches.iter().filter(|catch| within(catch.at_s)).count() as f64)
        .collect()
}

/// Logarithm of the ratio of two sums over the same days, with its standard error from blocks of days.
///
/// A tenth of what a block has in the mean is added to either sum, so that a block without a catch has a ratio.
pub(super) fn log_ratio(a: &[f64], b: &[f64]) -> (f64, f64) {
    let little = 0.1 * (mean(a) + mean(b)) / 2.0 * a.len() as f64 / BLOCKS as f64;
    let of = |keeps: &dyn Fn(usize) -> bool, little: f64| {
        let sum = |x: &[f64]| -> f64 {
            x.iter().enumerate().filter(|(day, _)| keeps(*day)).map(|(_, x)| x).sum()
        };
        ((sum(a) + little) / (sum(b) + little)).ln()
    };
    let blocks: Vec<f64> =
        (0..BLOCKS).map(|block| of(&|day| day % BLOCKS == block, little)).collect();
    (of(&|_| true, 1e-9), standard_error(&blocks))
}
