//! Searches for the best setting on some days and confirms it on others.

use super::confirm::confirm;
use super::day_quality::DayQuality;
use super::evaluate::{Evaluator, ReadVariant};
use super::request::{SEARCH_DAY, SearchSpec};
use super::result::{PointEvaluation, SearchResult};
use crate::engine::Dice;
use crate::scenario::Scenario;
use crate::stats::{Evaluation, search};
use crate::study::progress::Control;

/// Key of the random stream of a search, separate from those of days.
const SEARCH_STREAM: u64 = 0xbe57;

/// A search that was stopped, with the points it had tried.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchStopped {
    /// Points, in the order in which they were tried.
    pub evaluations: Vec<PointEvaluation>,
    /// Whether the search itself had ended, and only confirmation was missing.
    pub is_searched: bool,
}

/// Searches for the best setting, and estimates on fresh days how good it is.
///
/// `as_read` is the scenario before anything was set; the stamp names it.
///
/// # Errors
///
/// [`SearchStopped`] if the search was stopped.
pub fn find_best<'a>(
    as_read: &Scenario,
    request: &'a SearchSpec,
    read: &'a mut ReadVariant<'a>,
    control: Control<'a>,
) -> Result<SearchResult, SearchStopped> {
    let section = request.objective.places().zip(as_read.aims.section.as_ref());
    let day_quality =
        section.map(|(places, section)| DayQuality::new(as_read, section, places, request.seed));
    let mut evaluator = Evaluator::new(read, request.objective, day_quality, request, control);
    let mut evaluations = Vec::new();
    let searched = search(
        &request.space(),
        request.search_sessions() as u32,
        SEARCH_DAY,
        |best| request.objective.indifference_zone(best),
        &mut Dice::from_key(&[request.seed, SEARCH_STREAM]),
        &mut evaluator,
        &mut evaluations,
    );
    let evaluations: Vec<PointEvaluation> = evaluations
        .iter()
        .filter_map(|evaluations| point_evaluation(request, evaluations))
        .collect();
    let Some(searched) = searched else {
        return Err(SearchStopped { evaluations, is_searched: false });
    };
    confirm(as_read, request, &searched, &evaluations, &mut evaluator)
        .ok_or(SearchStopped { evaluations, is_searched: true })
}

/// Evaluation of a point in the shape of the result. `None` if it was not tried on any day.
fn point_evaluation(request: &SearchSpec, evaluation: &Evaluation) -> Option<PointEvaluation> {
    let summary = evaluation.candidate.summary();
    Some(PointEvaluation {
        round: evaluation.round,
        values: request.values_at(&evaluation.candidate.point),
        days: summary.n(),
        mean: summary.mean()?,
        se: summary.se(),
    })
}
