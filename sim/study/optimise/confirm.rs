//! Confirms the finalists of a search on fresh days.

use super::evaluate::Evaluator;
use super::objective::Objective;
use super::request::{MAX_OTHER_VALUES, SearchSpec};
use super::result::{
    BaselineResult, Finalist, FinalistVerdict, PointEvaluation, SearchResult, SettingResult,
    ValueEffect,
};
use crate::numerics::square;
use crate::scenario::Scenario;
use crate::stats::{
    Candidate, GridPoint, Interval, SearchOutcome, Simulator, Summary, Trial, dunnett_quantile,
    mean_interval, rinott_constant, t_quantile, wilson_interval,
};
use crate::study::estimate::Estimate;
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
    let baseline = match baseline {
        Some(baseline) => Some(compared_with_baseline(request, best, &baseline)?),
        None => None,
    };
    Some(SearchResult {
        format: SearchResult::FORMAT,
        stamp: Stamp::from_scenario(as_read, request.seed),
        objective: request.objective,
        combinations: request.space().size(),
        method: searched.method,
        sessions: evaluator.sessions(),
        days: request.days,
        best: estimate(request.objective, best)?,
        settings,
        finalists: other_finalists(request, &finalists)?,
        baseline,
        evaluations: tried.to_vec(),
    })
}

/// The best plan compared with the baseline. `None` without days.
fn compared_with_baseline(
    request: &SearchSpec,
    best: &Candidate,
    baseline: &Candidate,
) -> Option<BaselineResult> {
    let differences = best.paired_differences(baseline);
    Some(BaselineResult {
        value: estimate(request.objective, baseline)?,
        shortfall: mean_difference(&differences, half_width_in_errors(request.days))?,
        real_sessions: bank_sessions(best, baseline),
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
/// `None` without days.
fn other_finalists(request: &SearchSpec, finalists: &[Candidate]) -> Option<Vec<Finalist>> {
    let (best, others) = finalists.split_first()?;
    if others.is_empty() {
        return Some(Vec::new());
    }
    let half_width = dunnett_quantile(finalists.len(), u64::from(request.days) - 1, LEVEL);
    let finalist = |candidate: &Candidate| {
        let difference = mean_difference(&candidate.paired_differences(best), half_width)?;
        let verdict = match difference.interval {
            Some(interval) if interval.high < 0.0 => FinalistVerdict::Worse,
            Some(interval) if interval.low > 0.0 => FinalistVerdict::Better,
            _ => FinalistVerdict::Inconclusive,
        };
        Some(Finalist {
            values: request.values_at(&candidate.point),
            value: estimate(request.objective, candidate)?,
            difference,
            verdict,
        })
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
        let half_width = half_width_in_errors(days);
        let effect = |other: &Candidate| {
            Some(ValueEffect {
                value: setting.values[other.point[index]].clone(),
                difference: mean_difference(&other.paired_differences(best), half_width)?,
            })
        };
        settings.push(SettingResult {
            key: setting.key.clone(),
            values: setting.values.clone(),
            is_ordered: setting.is_ordered,
            best_value: setting.values[best.point[index]].clone(),
            effects: others.iter().map(effect).collect::<Option<_>>()?,
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

/// Mean difference with an interval of `half_width` standard errors on each side. `None` without days.
fn mean_difference(differences: &Summary, half_width: f64) -> Option<Estimate> {
    let mean = differences.mean()?;
    let interval = differences
        .se()
        .map(|se| Interval { low: mean - half_width * se, high: mean + half_width * se });
    Some(Estimate { value: mean, interval })
}

/// Mean value of a candidate with its interval. `None` without days.
fn estimate(objective: Objective, candidate: &Candidate) -> Option<Estimate> {
    let summary = candidate.summary();
    let (mean, n) = (summary.mean()?, summary.n());
    let interval = if objective.is_probability() {
        wilson_interval(candidate.values.iter().sum(), n, LEVEL)
    } else {
        summary.se().and_then(|se| mean_interval(mean, se, n, LEVEL))
    };
    Some(Estimate { value: mean, interval }.of_weight())
}

/// Number of real sessions with each of two plans after which the better one is known with 95 %, if each plan is fished
/// on its own days (Rinott's procedure). `None` if it is not clear that one plan is better.
fn bank_sessions(best: &Candidate, other: &Candidate) -> Option<u64> {
    let ahead = best.paired_differences(other);
    let difference = mean_difference(&ahead, half_width_in_errors(ahead.n() as u32))?;
    let is_clear = difference.low95().is_some_and(|low| low > 0.0);
    let variance = |candidate: &Candidate| candidate.summary().variance().unwrap_or(0.0);
    let deviation = variance(best).max(variance(other)).sqrt();
    let h = is_clear.then(|| rinott_constant(2, ahead.n() - 1, LEVEL))?;
    Some(square(h * deviation / difference.value).ceil().max(1.0) as u64)
}
