//! Plans compared on the same days.

use super::progress::Control;
use super::replicate::{DayFished, replicate};
use super::result::{Comparison, Stopped};
use super::scoreboard::Scoreboard;
use super::stamp::Stamp;
use super::warnings::warnings;
use crate::scenario::Scenario;

/// Fishes every plan on days 1 to `days` of a seed and compares them; fewer days if it was stopped.
///
/// `each_day` sees the days in order as they are done. Whether it was stopped shows in the comparison's number
/// of days: it is then the comparison that this number of days would have given.
///
/// ```no_run
/// use sim::study::{Control, Stopped, compare};
/// # fn scenario() -> sim::scenario::Scenario { unimplemented!() }
/// let scenario = scenario();
/// let nobody = |_: &_| Ok::<(), std::convert::Infallible>(());
/// let Ok(found) = compare(&scenario, 1, 400, Stopped::Asked, Control::default(), nobody);
/// println!("{} kg", found.plans[0].weight_kg.mean);
/// ```
///
/// # Errors
///
/// The first error of `each_day`.
pub fn compare<E>(
    scenario: &Scenario,
    seed: u64,
    days: u32,
    stopped: Stopped,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayFished) -> Result<(), E>,
) -> Result<Comparison, E> {
    let mut board = Scoreboard::new(scenario);
    replicate(scenario, seed, 1..=days, control, |day| {
        board.add(day);
        each_day(day)
    })?;
    Ok(comparison(scenario, seed, &board, stopped))
}

/// What a scoreboard says so far.
#[must_use]
pub fn comparison(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    stopped: Stopped,
) -> Comparison {
    let plans = board.plans(scenario);
    let warnings = warnings(scenario, &plans, board.days(), &board.weather);
    Comparison {
        format: Comparison::FORMAT,
        stamp: Stamp::new(&scenario.name, &scenario.sha256, seed),
        days: board.days(),
        stopped_because: stopped,
        plans,
        pairs: board.pairs(scenario),
        warnings,
    }
}

impl Comparison {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/compare/1";
}
