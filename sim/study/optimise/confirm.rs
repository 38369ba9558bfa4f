//! Confirms the finalists of a search on fresh days.

use super::evaluate::Evaluator;
use super::objective::Objective;
use super::request::{MAX_OTHER_VALUES, SearchSpec};
use super::result::{
    BaselineResult, Finalist, FinalistVerdict, MeanDifference, MeanEstimate, PointEvaluation,
    SearchResult, SettingResult, ValueEffect,
};
use crate::scenario::Scenario;
use crate::stats::{
    Candidate, GridPoint, SearchOutcome, Simulator, Summary, Trial, dunnett_quantile,
    mean_interval, rinott_constant, t_quantile, wilson_interval,
};
use crate::study::stamp::Stamp;

/// Confidence level of all statements.
const LEVEL: f64 = 0.95;

/// Fishes the finalists of a search on fresh days. `None` if it was stopped.
pub(super) fn confirm(
    as_read: &Scenario,
    request: &SearchSpec,
    searched: &SearchOutcome,
    tried: &[PointEvaluation],
    evaluator: &mut Evaluator<'_>,
) -> Option<SearchResult> {
    let mut points = searched.finalists.clone();
    if request.has_baseline {
        points.push(Vec::new());
    }
    let mut finalists = evaluate(evaluator, points, request.days)?;
    let baseline = request.has_baseline.then(|| finalists.pop()).flatten();
    let best = finalists.first()?;
    let settings = settings(request, best, evaluator)?;
    let as_written = baseline.map(|baseline| BaselineResult {
        value: estimate(request.objective, &baseline),
        shortfall: gap(&best.paired_differences(&baseline), half_width_in_errors(request.days)),
        real_sessions: bank_sessions(best, &baseline),
    });
    Some(SearchResult {
        format: SearchResult::FORMAT,
        stamp: Stamp::new(&as_read.name, &as_read.sha256, request.seed),
        objective: request.objective,
        combinations: request.space().size(),
        method: searched.method,
        sessions: evaluator.sessions(),
        days: request.days,
        best: estimate(request.objective, best),
        settings,
        finalists: other_finalists(request, &finalists),
        baseline: as_written,
        evaluations: tried.to_vec(),
    })
}

/// Fishes points on days 1 to `days`. `None` if it was stopped.
fn evaluate(
    evaluator: &mut Evaluator<'_>,
    points: Vec<GridPoint>,
    days: u32,
) -> Option<Vec<Candidate>> {
    let trial = |point: &GridPoint| Trial { point: point.clone(), days: 1..days + 1 };
    let values = evaluator.simulate(&points.iter().map(trial).collect::<Vec<_>>())?;
    let candidate = |(point, values)| Candidate { point, first_day: 1, values };
    Some(points.into_iter().zip(values).map(candidate).collect())
}

/// All finalists except the best, compared with it. Dunnett's quantile makes all bounds hold together.
fn other_finalists(request: &SearchSpec, finalists: &[Candidate]) -> Vec<Finalist> {
    let Some((best, others)) = finalists.split_first() else { return Vec::new() };
    if others.is_empty() {
        return Vec::new();
    }
    let half_width = dunnett_quantile(finalists.len(), u64::from(request.days) - 1, LEVEL);
    let finalist = |candidate: &Candidate| {
        let ahead = gap(&candidate.paired_differences(best), half_width);
        let stands = match ahead {
            MeanDifference { high95, .. } if high95 < 0.0 => FinalistVerdict::Worse,
            MeanDifference { low95, .. } if low95 > 0.0 => FinalistVerdict::Better,
            _ => FinalistVerdict::Inconclusive,
        };
        Finalist {
            values: request.values_at(&candidate.point),
            value: estimate(request.objective, candidate),
            difference: ahead,
            verdict: stands,
        }
    };
    others.iter().map(finalist).collect()
}

/// Effect of each setting: other values of it, while the other settings stay at their best values. `None` if it was
/// stopped.
fn settings(
    request: &SearchSpec,
    best: &Candidate,
    evaluator: &mut Evaluator<'_>,
) -> Option<Vec<SettingResult>> {
    let days = request.value_days();
    let mut settings = Vec::new();
    for (index, setting) in request.settings.iter().enumerate() {
        let mut points: Vec<GridPoint> = other_levels(setting.values.len(), best.point[index])
            .into_iter()
            .map(|level| {
                let mut point = best.point.clone();
                point[index] = level;
                point
            })
            .collect();
        points.retain(|point| evaluator.is_possible(point));
        let others = evaluate(evaluator, points, days)?;
        let worth = others.iter().map(|other| ValueEffect {
            value: setting.values[other.point[index]].clone(),
            difference: gap(&other.paired_differences(best), half_width_in_errors(days)),
        });
        settings.push(SettingResult {
            key: setting.key.clone(),
            values: setting.values.clone(),
            is_ordered: setting.is_ordered,
            best_value: setting.values[best.point[index]].clone(),
            effects: worth.collect(),
            effect_days: days,
        });
    }
    Some(settings)
}

/// Levels other than the best: all of them, or some spread from the first to the last.
fn other_levels(levels: usize, best: usize) -> Vec<usize> {
    let mut others: Vec<usize> = (0..levels).filter(|&level| level != best).collect();
    if others.len() > MAX_OTHER_VALUES {
        let last = others.len() - 1;
        others = (0..MAX_OTHER_VALUES).map(|k| others[k * last / (MAX_OTHER_VALUES - 1)]).collect();
    }
    others
}

/// Half the width of a 95 % interval for a mean, in standard errors.
fn half_width_in_errors(days: u32) -> f64 {
    t_quantile(LEVEL, u64::from(days) - 1)
}

/// Mean difference with an interval of `half_width` standard errors on each side.
fn gap(differences: &Summary, half_width: f64) -> MeanDifference {
    let mean = differences.mean().unwrap_or(f64::NAN);
    let half_width = half_width * differences.se().unwrap_or(f64::NAN);
    MeanDifference { mean, low95: mean - half_width, high95: mean + half_width }
}

/// Mean value of a candidate with its interval.
fn estimate(objective: Objective, candidate: &Candidate) -> MeanEstimate {
    let summary = candidate.summary();
    let (mean, n) = (summary.mean(), summary.n());
    let interval = if objective.is_probability() {
        wilson_interval(candidate.values.iter().sum(), n, LEVEL)
    } else {
        mean.zip(summary.se()).and_then(|(mean, se)| mean_interval(mean, se, n, LEVEL))
    };
    MeanEstimate {
        mean: mean.unwrap_or(f64::NAN),
        low95: interval.map_or(f64::NAN, |interval| interval.low),
        high95: interval.map_or(f64::NAN, |interval| interval.high),
    }
}

/// Number of real sessions with each of two plans after which the better one is known with 95 %, if each plan is fished
/// on its own days (Rinott's procedure). `None` if it is not clear that one plan is better.
fn bank_sessions(best: &Candidate, other: &Candidate) -> Option<u64> {
    let ahead = best.paired_differences(other);
    let gap = gap(&ahead, half_width_in_errors(ahead.n() as u32));
    let is_clear = gap.low95 > 0.0;
    let variance = |candidate: &Candidate| candidate.summary().variance().unwrap_or(0.0);
    let deviation = variance(best).max(variance(other)).sqrt();
    let h = is_clear.then(|| rinott_constant(2, ahead.n() - 1, LEVEL))?;
    Some((h * deviation / gap.mean).powi(2).ceil().max(1.0) as u64)
}
