//! Plans in order of weight, and a pair of them seen from one of the two.

use crate::stats::{Verdict, wilson_interval};
use crate::study::{
    Comparison, FactorContribution, PairResult, PlanResult, Probability, Superiority,
};

/// Plans by mean weight, best first; equal ones in the order of the scenario.
pub(crate) fn by_weight(comparison: &Comparison) -> Vec<&PlanResult> {
    let mut plans: Vec<_> = comparison.plans.iter().collect();
    let weight = |plan: &PlanResult| match plan.weight_kg.mean {
        kg if kg.is_finite() => kg,
        _ => f64::NEG_INFINITY,
    };
    plans.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    plans
}

/// Chance that the second plan of a pair is heavier on the same day; level days count for neither.
fn second_ahead(pair: &PairResult, days: u32) -> Probability {
    let share = (1.0 - pair.a_ahead_share - pair.tie_share).max(0.0);
    let interval = wilson_interval(share * f64::from(days), u64::from(days), 0.95);
    let (low95, high95) = interval.map_or((0.0, 1.0), |interval| (interval.low, interval.high));
    Probability { value: share, low95, high95 }
}

/// A plan's index in the scenario, which gives its colour and mark.
pub(crate) fn index_of(comparison: &Comparison, plan: &PlanResult) -> usize {
    let is_same = |other: &PlanResult| std::ptr::eq(other, plan);
    comparison.plans.iter().position(is_same).unwrap_or(0)
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
    /// Lower end of its 95 % interval [kg].
    pub(crate) low_kg: f64,
    /// Upper end [kg].
    pub(crate) high_kg: f64,
    /// Share of days on which the first weighed more.
    pub(crate) ahead_share: f64,
    /// Share of days on which both weighed the same.
    pub(crate) tie_share: f64,
    /// Verdict on the mean weights, from the first plan's side.
    pub(crate) verdict: Verdict,
    /// Chance that the first is heavier when both are fished on the same day.
    pub(crate) same_day: Probability,
    /// Chance that the first is heavier when they are fished on different days.
    pub(crate) two_days: Option<Probability>,
    /// Chance that the first has the higher true mean, uncertain inputs included.
    pub(crate) on_average: Option<Probability>,
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
        let difference = &pair.difference_kg;
        let as_compared = Self {
            first,
            second,
            mean_kg: difference.mean,
            low_kg: difference.low95,
            high_kg: difference.high95,
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
        let reversed = |chance: Probability| Probability {
            value: 1.0 - chance.value,
            low95: 1.0 - chance.high95,
            high95: 1.0 - chance.low95,
        };
        Some(if pair.a == first.name {
            as_compared
        } else {
            Self {
                mean_kg: -as_compared.mean_kg,
                low_kg: -as_compared.high_kg,
                high_kg: -as_compared.low_kg,
                ahead_share: (1.0 - as_compared.ahead_share - as_compared.tie_share).max(0.0),
                verdict: as_compared.verdict.reversed(),
                same_day: second_ahead(pair, comparison.days),
                two_days: as_compared.two_days.map(reversed),
                on_average: as_compared.on_average.map(reversed),
                ..as_compared
            }
        })
    }

    /// Whether the first is clearly better.
    pub(crate) fn is_clearly_ahead(&self) -> bool {
        self.verdict == Verdict::Better
    }

    /// The three chances that the first beats the second.
    pub(crate) fn beats(&self) -> Superiority {
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
