//! Pairs of plans across waters: unpaired between two waters, paired within one.

use super::result::{PairDays, WaterPair, WaterPlan};
use crate::scenario::Scenario;
use crate::stats::{MannWhitney, Verdict, Welch};
use crate::study::compare::{Comparison, PairResult, Scoreboard, VerdictRule};
use crate::study::estimate::Estimate;
use crate::study::units::{interval_kg, kg};

/// Confidence level of intervals that decide nothing.
const LEVEL: f64 = 0.95;

/// A plan: the index of its water, and its index among the plans of that water.
pub(super) type PlanAt = (usize, usize);

/// Every plan of every water, in order.
pub(super) fn plans_of(scenarios: &[Scenario]) -> Vec<PlanAt> {
    let plans = |(water, scenario): (usize, &Scenario)| {
        (0..scenario.plans.len()).map(move |plan| (water, plan))
    };
    scenarios.iter().enumerate().flat_map(plans).collect()
}

/// The two samples of days of two plans of different waters, compared.
fn welch(boards: &[Scoreboard], a: PlanAt, b: PlanAt) -> Option<Welch> {
    Welch::new(boards[a.0].moments_g(a.1), boards[b.0].moments_g(b.1))
}

/// Verdict by `rule` on two plans, `a` before `b`.
fn verdict(boards: &[Scoreboard], a: PlanAt, b: PlanAt, rule: &VerdictRule) -> Verdict {
    if a.0 == b.0 {
        return boards[a.0].verdict_between(a.1, b.1, rule);
    }
    let interval_g = welch(boards, a, b).map(|welch| welch.interval(rule.level_of_each));
    Verdict::from_interval(interval_g.map(interval_kg), rule.margin_kg)
}

/// Whether the verdict on the heaviest plan of all is clear against every other one.
pub(super) fn is_clear(boards: &[Scoreboard], plans: &[PlanAt], rule: &VerdictRule) -> bool {
    let mean_g = |at: PlanAt| boards[at.0].moments_g(at.1).mean().unwrap_or(0.0);
    // The first of equals.
    let heavier =
        |best: PlanAt, next: PlanAt| if mean_g(next) > mean_g(best) { next } else { best };
    let Some(best) = plans.iter().copied().reduce(heavier) else { return true };
    plans.iter().filter(|&&other| other != best).all(|&other| {
        verdict(boards, best.min(other), best.max(other), rule) != Verdict::Inconclusive
    })
}

/// Every pair of plans; `waters` are the results of each water by itself.
pub(super) fn pairs(
    boards: &[Scoreboard],
    waters: &[Comparison],
    plans: &[PlanAt],
    rule: &VerdictRule,
) -> Vec<WaterPair> {
    let pairs = plans
        .iter()
        .enumerate()
        .flat_map(|(index, &a)| plans[index + 1..].iter().map(move |&b| (a, b)));
    pairs.filter_map(|(a, b)| pair(boards, waters, (a, b), rule)).collect()
}

fn pair(
    boards: &[Scoreboard],
    waters: &[Comparison],
    (a, b): (PlanAt, PlanAt),
    rule: &VerdictRule,
) -> Option<WaterPair> {
    let name = |at: PlanAt| {
        let water = &waters[at.0];
        let plan = water.plans.get(at.1)?.name.clone();
        Some(WaterPlan { water: water.stamp.scenario.clone(), plan })
    };
    let (a_name, b_name) = (name(a)?, name(b)?);
    if a.0 == b.0 {
        let is_pair = |pair: &&PairResult| pair.a == a_name.plan && pair.b == b_name.plan;
        let pair = waters[a.0].pairs.iter().find(is_pair)?;
        let days = boards[a.0].days();
        return Some(WaterPair {
            a: a_name,
            b: b_name,
            days: PairDays::Same,
            difference_kg: pair.difference_kg,
            difference_se_kg: pair.difference_se_kg,
            degrees_of_freedom: (days > 1).then(|| f64::from(days - 1)),
            verdict: pair.verdict,
            independent_days: pair.superiority.independent_days,
        });
    }
    let (a_board, b_board) = (&boards[a.0], &boards[b.0]);
    let welch = welch(boards, a, b);
    let interval_g = welch.map(|welch| welch.interval(rule.level_of_each));
    let difference_g = a_board.moments_g(a.1).mean()? - b_board.moments_g(b.1).mean()?;
    let superiority = MannWhitney::new(a_board.days_g(a.1), b_board.days_g(b.1));
    Some(WaterPair {
        a: a_name,
        b: b_name,
        days: PairDays::Own,
        difference_kg: Estimate::from_grams(difference_g, interval_g),
        difference_se_kg: welch.map(|welch| kg(welch.se)),
        degrees_of_freedom: welch.map(|welch| welch.degrees_of_freedom),
        verdict: verdict(boards, a, b, rule),
        independent_days: superiority.map(|chance| chance.proportion(LEVEL).into()),
    })
}
