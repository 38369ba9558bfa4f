//! Plans of several waters in order of weight, and a pair of them seen from one of the two.

use std::borrow::Cow;

use crate::study::{Estimate, PlanResult, WaterPair, WaterPlan, WatersComparison};

/// A plan of one of several waters.
#[derive(Clone, Debug)]
pub(crate) struct WaterRow<'a> {
    /// Name of the water.
    water: &'a str,
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

/// How two plans of one or two waters compare, the first being plan a; `None` if they were not compared.
pub(crate) fn pair_between<'a>(
    waters: &'a WatersComparison,
    first: &WaterRow<'_>,
    second: &WaterRow<'_>,
) -> Option<Cow<'a, WaterPair>> {
    let is = |name: &WaterPlan, row: &WaterRow<'_>| {
        name.water == row.water && name.plan == row.plan.name
    };
    let between = |a: &WaterRow<'_>, b: &WaterRow<'_>| {
        waters.pairs.iter().find(|pair| is(&pair.a, a) && is(&pair.b, b))
    };
    if let Some(pair) = between(first, second) {
        return Some(Cow::Borrowed(pair));
    }
    let pair = between(second, first)?;
    Some(Cow::Owned(WaterPair {
        a: pair.b.clone(),
        b: pair.a.clone(),
        difference_kg: pair.difference_kg.negated(),
        verdict: pair.verdict.reversed(),
        independent_days: pair.independent_days.map(Estimate::complement),
        ..pair.clone()
    }))
}
