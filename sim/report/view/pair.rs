//! Plans in order of weight, and a pair of them seen from one of the two.

use std::borrow::Cow;

use crate::stats::{Verdict, wilson_interval};
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

/// A plan's index in the scenario, which gives its colour and mark.
pub(crate) fn index_of(comparison: &Comparison, plan: &PlanResult) -> usize {
    index_among(&comparison.plans, plan)
}

/// A plan's index among some plans.
pub(crate) fn index_among(plans: &[PlanResult], plan: &PlanResult) -> usize {
    plans.iter().position(|other| std::ptr::eq(other, plan)).unwrap_or(0)
}

/// Two plans on the same days, seen from the first of them.
#[derive(Clone, Debug)]
pub(crate) struct PairView<'a> {
    /// The plan from which the pair is seen.
    pub(crate) first: &'a PlanResult,
    /// The other plan.
    pub(crate) second: &'a PlanResult,
    /// How they compare; its plan a is the first one.
    pub(crate) result: Cow<'a, PairResult>,
}

impl<'a> PairView<'a> {
    /// The pair seen from `first`; `None` if the two were not compared.
    pub(crate) fn new(
        comparison: &'a Comparison,
        first: &'a PlanResult,
        second: &'a PlanResult,
    ) -> Option<Self> {
        let between = |a: &PlanResult, b: &PlanResult| {
            comparison.pairs.iter().find(|pair| pair.a == a.name && pair.b == b.name)
        };
        let result = match between(first, second) {
            Some(pair) => Cow::Borrowed(pair),
            None => Cow::Owned(reversed(between(second, first)?, comparison.days)),
        };
        Some(Self { first, second, result })
    }

    /// Mean of first − second [kg].
    pub(crate) fn mean_kg(&self) -> f64 {
        self.result.difference_kg.value
    }

    /// Whether the first plan is clearly better.
    pub(crate) fn is_clearly_ahead(&self) -> bool {
        self.result.verdict == Verdict::Better
    }
}

/// The pair as seen from its other plan.
fn reversed(pair: &PairResult, days: u32) -> PairResult {
    // Level days count for neither plan.
    let ahead_share = (1.0 - pair.a_ahead_share - pair.tie_share).max(0.0);
    let interval = wilson_interval(ahead_share * f64::from(days), u64::from(days), 0.95);
    let superiority = &pair.superiority;
    let factor = |factor: &FactorContribution| FactorContribution {
        a: factor.b,
        b: factor.a,
        contribution_kg: -factor.contribution_kg,
        ..*factor
    };
    PairResult {
        a: pair.b.clone(),
        b: pair.a.clone(),
        difference_kg: pair.difference_kg.negated(),
        a_ahead_share: ahead_share,
        factors: pair.factors.iter().map(factor).collect(),
        histogram: pair.histogram.mirrored(),
        verdict: pair.verdict.reversed(),
        superiority: Superiority {
            same_day: Estimate { value: ahead_share, interval },
            independent_days: superiority.independent_days.map(Estimate::complement),
            mean_higher: superiority.mean_higher.map(Estimate::complement),
        },
        ..pair.clone()
    }
}
