//! Plans of several waters in order of weight, and a pair of them seen from one of the two.

use crate::stats::Verdict;
use crate::study::{Estimate, PairDays, PlanResult, WaterPair, WatersComparison};

/// A plan of one of several waters.
#[derive(Clone, Debug)]
pub(crate) struct WaterRow<'a> {
    /// Name of the water.
    water: &'a str,
    /// Its result.
    pub(crate) plan: &'a PlanResult,
    /// `water: plan`.
    pub(crate) name: String,
}

/// Plans of all waters by mean weight, best first; equal ones in the order given.
pub(crate) fn rows_by_weight(waters: &WatersComparison) -> Vec<WaterRow<'_>> {
    let mut rows: Vec<WaterRow<'_>> = waters
        .waters
        .iter()
        .flat_map(|water| {
            let name = water.stamp.scenario.as_str();
            water.plans.iter().map(move |plan| WaterRow {
                water: name,
                plan,
                name: format!("{name}: {}", plan.name),
            })
        })
        .collect();
    rows.sort_by(|a, b| b.plan.weight_kg.mean.total_cmp(&a.plan.weight_kg.mean));
    rows
}

/// Two plans of one or two waters, seen from the first of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WaterPairView {
    /// Mean of first − second, with its 95 % interval [kg].
    pub(crate) difference_kg: Estimate,
    /// Verdict on the mean weights, from the first plan's side.
    pub(crate) verdict: Verdict,
    /// Chance that the first is heavier on a day of its own than the second on another.
    pub(crate) two_days: Option<Estimate>,
    /// On which days they were compared.
    pub(crate) days: PairDays,
}

impl WaterPairView {
    /// The pair seen from `first`; `None` if the two were not compared.
    pub(crate) fn new(
        waters: &WatersComparison,
        first: &WaterRow<'_>,
        second: &WaterRow<'_>,
    ) -> Option<Self> {
        let is = |name: &crate::study::WaterPlan, row: &WaterRow<'_>| {
            name.water == row.water && name.plan == row.plan.name
        };
        let is_forward = |pair: &&WaterPair| is(&pair.a, first) && is(&pair.b, second);
        let is_reversed = |pair: &&WaterPair| is(&pair.a, second) && is(&pair.b, first);
        if let Some(pair) = waters.pairs.iter().find(is_forward) {
            return Some(Self {
                difference_kg: pair.difference_kg,
                verdict: pair.verdict,
                two_days: pair.independent_days,
                days: pair.days,
            });
        }
        let pair = waters.pairs.iter().find(is_reversed)?;
        Some(Self {
            difference_kg: pair.difference_kg.negated(),
            verdict: pair.verdict.reversed(),
            two_days: pair.independent_days.map(Estimate::complement),
            days: pair.days,
        })
    }
}
