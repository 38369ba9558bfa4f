//! Searches for the best setting on some days and confirms it on others.

use super::confirm::confirm;
use super::day_quality::DayQuality;
use super::evaluate::{Evaluator, ReadPoint};
use super::request::{BestAsked, SEARCH_DAY};
use super::result::{Best, TriedPoint};
use crate::engine::Dice;
use crate::scenario::Scenario;
use crate::stats::{Evaluation, search};
use crate::study::progress::Control;

/// Key of the random stream of a search, separate from those of days.
const SEARCH_STREAM: u64 = 0xbe57;

/// A search that was stopped, with the points it had tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Unfinished {
    /// Points, in the order in which they were tried.
    pub tried: Vec<TriedPoint>,
    /// Whether the search itself had ended, and only confirmation was missing.
    pub is_searched: bool,
}

/// Searches for the best setting, and estimates on fresh days how good it is.
///
/// `as_read` is the scenario before anything was set; the stamp names it.
///
/// # Errors
///
/// [`Unfinished`] if the search was stopped.
pub fn best<'a>(
    as_read: &Scenario,
    request: &BestAsked,
    read: &'a mut ReadPoint<'a>,
    control: Control<'a>,
) -> Result<Best, Unfinished> {
    let section = request.wanted.places().zip(as_read.aims.section.as_ref());
    let day_quality =
        section.map(|(places, section)| DayQuality::new(as_read, section, places, request.seed));
    let mut evaluator = Evaluator::new(read, request.wanted, day_quality, request.seed, control);
    let mut tried = Vec::new();
    let searched = search(
        &request.space(),
        request.search_sessions(as_read) as u32,
        SEARCH_DAY,
        |best| request.wanted.indifference(best),
        &mut Dice::from_key(&[request.seed, SEARCH_STREAM]),
        &mut evaluator,
        &mut tried,
    );
    let tried: Vec<TriedPoint> = tried.iter().map(|tried| tried_point(request, tried)).collect();
    let Some(searched) = searched else {
        return Err(Unfinished { tried, is_searched: false });
    };
    confirm(as_read, request, &searched, &tried, &mut evaluator)
        .ok_or(Unfinished { tried, is_searched: true })
}

fn tried_point(request: &BestAsked, tried: &Evaluation) -> TriedPoint {
    let summary = tried.candidate.summary();
    TriedPoint {
        round: tried.round,
        values: request.values_at(&tried.candidate.point),
        days: summary.n(),
        mean: summary.mean().unwrap_or(f64::NAN),
        se: summary.se(),
    }
}
