//! Decomposition of the difference between two plans' weights into contributions that add up to it.
//!
//! The mean weight of a plan is a product of measured factors:
//!
//! W = hours with a bait in the water × bites per hour of that × share of bites landed × mean weight of a fish
//!
//! With L the logarithmic mean of the two weights, (A − B) / ln(A / B), the contribution of each
//! factor is L × ln(its ratio). The logarithms of the four ratios add up to ln(A / B), so that the contributions add
//! up to A − B. The order of the plans and of the factors does not matter (logarithmic mean Divisia index, LMDI;
//! Ang, 2004).

use schemars::JsonSchema;
use serde::Serialize;

use super::plan_result::PlanResult;
use crate::numerics::ln;

/// A factor of the mean weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Factor {
    /// Hours per session with a bait in the water [h].
    HoursInWater,
    /// Bites per hour with a bait in the water [1/h].
    BitesPerHour,
    /// Share of bites that were landed.
    LandedShare,
    /// Mean weight of a landed fish [kg].
    FishKg,
}

/// One factor of two plans, and its contribution to the difference of their weights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FactorContribution {
    /// The factor.
    #[serde(rename = "of")]
    pub factor: Factor,
    /// Value for plan a; `None` if it could not be measured [as the factor].
    pub a: Option<f64>,
    /// Value for plan b; `None` if it could not be measured [as the factor].
    pub b: Option<f64>,
    /// Contribution to a − b [kg].
    #[serde(rename = "kg")]
    pub contribution_kg: f64,
}

/// Contributions of the four factors to the difference between the mean weights of two plans.
///
/// If one plan caught nothing, its first factor that is zero takes the whole difference. This is the limit of the
/// contributions as that factor approaches zero.
#[must_use]
pub fn decompose(a: &PlanResult, b: &PlanResult) -> Vec<FactorContribution> {
    let factors = factors(a).into_iter().zip(factors(b));
    let (a_kg, b_kg) = (a.weight_kg.mean, b.weight_kg.mean);
    let both_caught = a_kg > 0.0 && b_kg > 0.0;
    let mut left_kg = a_kg - b_kg;
    factors
        .map(|((of, a), (_, b))| {
            let kg = if both_caught {
                log_mean(a_kg, b_kg) * a.zip(b).map_or(0.0, |(a, b)| ln(a / b))
            } else if is_zero(a) || is_zero(b) {
                std::mem::take(&mut left_kg)
            } else {
                0.0
            };
            FactorContribution { factor: of, a, b, contribution_kg: kg }
        })
        .collect()
}

/// Factors of a plan; each one needs those before it.
fn factors(plan: &PlanResult) -> [(Factor, Option<f64>); 4] {
    let hours = plan.swim.hours_in_water;
    let (bites, fish) = (plan.bites.mean, plan.fish.mean);
    [
        (Factor::HoursInWater, Some(hours)),
        (Factor::BitesPerHour, (hours > 0.0).then(|| bites / hours)),
        (Factor::LandedShare, (bites > 0.0).then(|| fish / bites)),
        (Factor::FishKg, (fish > 0.0).then(|| plan.weight_kg.mean / fish)),
    ]
}

fn is_zero(factor: Option<f64>) -> bool {
    factor.is_some_and(|value| value <= 0.0)
}

/// Logarithmic mean of two weights above zero [kg].
fn log_mean(a_kg: f64, b_kg: f64) -> f64 {
    let ln = ln(a_kg / b_kg);
    if ln.abs() > 0.0 { (a_kg - b_kg) / ln } else { a_kg }
}
