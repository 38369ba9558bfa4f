//! Plans in order of weight, and a pair of them seen from one of the two.

use crate::stats::{Interval, Verdict, wilson_interval};
use crate::study::{Comparison, Estimate, FactorContribution, PairResult, PlanResult, Superiority};

/// Plans by mean weight, best first; equal ones in the order of the scenario.
pub(crate) fn by_weight(comparison: &Comparison) -> Vec<&PlanResult> {
    plans_by_weight(&comparison.plans)
}

/// Some plans by mean weight, best first; equal ones in their order.
pub(crate) fn plans_by_weight(plans: &[PlanResult]) -> Vec<&PlanResult> {
    let mut ranked: Vec<_> = plans.iter().collect();
    ranked.sort_by(|a, b| b.weight_kg.mean.total_cmp(&a.weight_kg.mean));
    ranked
}

/// Chance that the second plan of a pair is heavier on the same day; level days count for neither.
fn second_ahead(pair: &PairResult, days: u32) -> Estimate {
    let share = (1.0 - pair.a_ahead_share - pair.tie_share).max(0.0);
    let interval = wilson_interval(share * f64::from(days), u64::from(days), 0.95);
    Estimate { value: share, interval }
}

/// A plan's index in the scenario, which gives its colour and mark.
pub(crate) fn index_of(comparison: &Comparison, plan: &PlanResult) -> usize {
    index_among(&comparison.plans, plan)
}

/// A plan's index among some plans.
pub(crate) fn index_among(plans: &[PlanResult], plan: &PlanResult) -> usize {
    plans.iter().position(|other| std::ptr::eq(other, plan)).unwrap_or(0)
}

/// Two plans on the same days, seen from the first of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PairView<'a> {
    /// The plan from which the pair is seen.
    pub(crate) first: &'a PlanResult,
    /// The other plan.
    pub(crate) second: &'a PlanResult,
    /// Mean of first − second [kg].
    pub(crate) mean_kg: f64,
    /// Its 95 % interval [kg]; `None` for a single day.
    pub(crate) interval_kg: Option<Interval>,
    /// Share of days on which the first weighed more.
    pub(crate) ahead_share: f64,
    /// Share of days on which both weighed the same.
    pub(crate) tie_share: f64,
    /// Verdict on the mean weights, from the first plan's side.
    pub(crate) verdict: Verdict,
    /// Chance that the first is heavier when both are fished on the same day.
    pub(crate) same_day: Estimate,
    /// Chance that the first is heavier when they are fished on different days.
    pub(crate) two_days: Option<Estimate>,
    /// Chance that the first has the higher true mean, uncertain inputs included.
    pub(crate) on_average: Option<Estimate>,
    /// How many times as many days it would take on different days.
    pub(crate) days_saved_factor: Option<f64>,
    /// The pair as in the comparison.
    pair: &'a PairResult,
    /// Correlation of their weights over days.
    pub(crate) correlation: Option<f64>,
}

impl<'a> PairView<'a> {
    /// The pair seen from `first`; `None` if the two were not compared.
    pub(crate) fn new(
        comparison: &'a Comparison,
        first: &'a PlanResult,
        second: &'a PlanResult,
    ) -> Option<Self> {
        let pair = comparison.pairs.iter().find(|pair| {
            (pair.a == first.name && pair.b == second.name)
                || (pair.a == second.name && pair.b == first.name)
        })?;
        let as_compared = Self {
            first,
            second,
            mean_kg: pair.difference_kg.value,
            interval_kg: pair.difference_kg.interval,
            ahead_share: pair.a_ahead_share,
            tie_share: pair.tie_share,
            verdict: pair.verdict,
            same_day: pair.superiority.same_day,
            two_days: pair.superiority.independent_days,
            on_average: pair.superiority.mean_higher,
            days_saved_factor: pair.days_saved_factor,
            pair,
            correlation: pair.correlation,
        };
        Some(if pair.a == first.name {
            as_compared
        } else {
            let difference_kg = pair.difference_kg.negated();
            Self {
                mean_kg: difference_kg.value,
                interval_kg: difference_kg.interval,
                ahead_share: (1.0 - as_compared.ahead_share - as_compared.tie_share).max(0.0),
                verdict: as_compared.verdict.reversed(),
                same_day: second_ahead(pair, comparison.days),
                two_days: as_compared.two_days.map(Estimate::complement),
                on_average: as_compared.on_average.map(Estimate::complement),
                ..as_compared
            }
        })
    }

    /// Whether the first is clearly better.
    pub(crate) fn is_clearly_ahead(&self) -> bool {
        self.verdict == Verdict::Better
    }

    /// The three chances that the first beats the second.
    pub(crate) fn superiority(&self) -> Superiority {
        let (same_day, two_days, on_average) = (self.same_day, self.two_days, self.on_average);
        Superiority { same_day, independent_days: two_days, mean_higher: on_average }
    }

    /// The factors of first − second, which add up to it.
    pub(crate) fn factors(&self) -> Vec<FactorContribution> {
        let reversed = |part: &FactorContribution| FactorContribution {
            a: part.b,
            b: part.a,
            contribution_kg: -part.contribution_kg,
            ..*part
        };
        if self.pair.a == self.first.name {
            self.pair.factors.clone()
        } else {
            self.pair.factors.iter().map(reversed).collect()
        }
    }

    /// Bins of first − second [kg] with the number of days in each, lowest first.
    pub(crate) fn histogram_kg(&self) -> Vec<((f64, f64), u32)> {
        let steps = self.pair.histogram.steps_kg();
        if self.pair.a == self.first.name {
            steps.collect()
        } else {
            let mut reversed: Vec<_> =
                steps.map(|((from, to), days)| ((-to, -from), days)).collect();
            reversed.reverse();
            reversed
        }
    }
}
