//! Plans compared on the same days.

use super::aims::aims;
use super::progress::Control;
use super::replicate::{DayFished, replicate};
use super::result::{Comparison, Rule, Stopped};
use super::scoreboard::Scoreboard;
use super::stamp::Stamp;
use super::verdicts::{looks, rule};
use super::warnings::warnings;
use crate::scenario::Scenario;

/// Fishes every plan on days 1 to `days` of a seed and compares them; fewer days if it was stopped.
///
/// `each_day` sees the days in order as they are done. Whether it was stopped shows in the comparison's number
/// of days: it is then the comparison that this number of days would have given.
///
/// ```no_run
/// use std::path::Path;
/// use sim::scenario::load;
/// use sim::study::{Control, Stopped, compare};
/// let scenario = load(Path::new("scenarios/first-try.toml"), &[]).expect("a scenario without faults");
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

/// What a comparison that stops when it is clear came to.
#[derive(Clone, Debug, PartialEq)]
pub enum UntilClear {
    /// It came to its end: every verdict is clear, or the limit was reached.
    Done(Box<Comparison>),
    /// It was stopped from outside before.
    Interrupted {
        /// Days done by then.
        days: u32,
    },
}

/// Fishes every plan on days 1, 2, … of a seed until the heaviest is told apart from every other, or is surely
/// level with it within the margin, or `limit_days` are done.
///
/// It looks after 200 days and after each doubling, and nowhere between. An error of 5 % is split evenly over all
/// looks and all pairs of plans, so that with probability 95 % at least no verdict at all is false, at whichever
/// look it stops.
///
/// # Errors
///
/// The first error of `each_day`.
///
/// # Panics
///
/// If `limit_days` is below two: an interval needs as many.
pub fn compare_until_clear<E>(
    scenario: &Scenario,
    seed: u64,
    limit_days: u32,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayFished) -> Result<(), E>,
) -> Result<UntilClear, E> {
    let mut board = Scoreboard::new(scenario);
    let looks = looks(limit_days);
    for (look_days, taken) in looks.all().zip(1..) {
        let from = board.days() + 1;
        let sessions = u64::from(look_days - board.days()) * scenario.plans.len() as u64;
        control.progress.sessions_are_ahead(sessions);
        let done = replicate(scenario, seed, from..=look_days, control, |day| {
            board.add(day);
            each_day(day)
        })?;
        if done < look_days {
            break;
        }
        let rule = rule(scenario, &board, taken, looks.count());
        let is_clear = board.is_clear(&rule);
        if is_clear || look_days == limit_days {
            let stopped = if is_clear { Stopped::Clear } else { Stopped::Limit };
            let judged = judged(scenario, seed, &board, stopped, rule);
            return Ok(UntilClear::Done(Box::new(judged)));
        }
    }
    Ok(UntilClear::Interrupted { days: board.days() })
}

/// What a scoreboard says so far, looked at once.
#[must_use]
pub fn comparison(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    stopped: Stopped,
) -> Comparison {
    judged(scenario, seed, board, stopped, rule(scenario, board, 1, 1))
}

/// What a scoreboard says by a rule.
fn judged(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    stopped: Stopped,
    rule: Rule,
) -> Comparison {
    let plans = board.plans(scenario);
    let mut found = Comparison {
        format: Comparison::FORMAT,
        stamp: Stamp::new(&scenario.name, &scenario.sha256, seed),
        days: board.days(),
        stopped_because: stopped,
        plans,
        pairs: board.pairs(scenario, &rule),
        aims: aims(scenario, seed, board, &rule),
        rule,
        warnings: Vec::new(),
    };
    found.warnings = warnings(scenario, &found, &board.weather);
    found
}

impl Comparison {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/compare/1";
}
