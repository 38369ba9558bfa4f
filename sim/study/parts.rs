//! The difference between two plans' weights, split into parts that add up to it.
//!
//! A plan's mean weight is a product of things that are measured:
//!
//! W = hours with a bait in the water × bites an hour of that × share of bites landed × mean weight of a fish
//!
//! With L the logarithmic mean of the two weights, (A − B) / ln(A / B), each factor's part is
//! L × ln(its ratio). The logarithms of the four ratios add up to ln(A / B), so that the parts add up to
//! A − B, whichever plan is named first and in whichever order the factors are taken (the logarithmic mean
//! Divisia index of Ang, 2004).

use serde::Serialize;

use super::result::PlanResult;

/// Which factor of the weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PartOf {
    /// Hours a session with a bait in the water [h].
    HoursInWater,
    /// Bites an hour of bait in the water [1/h].
    BitesPerHour,
    /// Share of bites that were landed.
    LandedShare,
    /// Mean weight of a landed fish [kg].
    FishKg,
}

/// One factor of two plans, and its part in the difference of their weights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Which.
    pub of: PartOf,
    /// Its value with a; none where there was nothing to measure it by.
    pub a: Option<f64>,
    /// Its value with b.
    pub b: Option<f64>,
    /// Its part in a − b [kg].
    pub kg: f64,
}

/// The four parts of the difference between two plans' mean weights.
///
/// Where one plan caught nothing, the first factor in which it has nothing takes the whole difference: it is
/// what the parts tend to as that factor goes to nought.
#[must_use]
pub fn parts(a: &PlanResult, b: &PlanResult) -> Vec<Part> {
    let factors = factors(a).into_iter().zip(factors(b));
    let (a_kg, b_kg) = (a.weight_kg.mean, b.weight_kg.mean);
    let positive = a_kg > 0.0 && b_kg > 0.0;
    let mut left_kg = a_kg - b_kg;
    factors
        .map(|((of, x), (_, y))| {
            let kg = if positive {
                log_mean(a_kg, b_kg) * x.zip(y).map_or(0.0, |(x, y)| (x / y).ln())
            } else if is_nought(x) || is_nought(y) {
                std::mem::take(&mut left_kg)
            } else {
                0.0
            };
            Part { of, a: x, b: y, kg }
        })
        .collect()
}

/// A plan's factors, in the order in which one presupposes the other.
fn factors(plan: &PlanResult) -> [(PartOf, Option<f64>); 4] {
    let hours = plan.swim.hours_in_water;
    let (bites, fish) = (plan.bites.mean, plan.fish.mean);
    [
        (PartOf::HoursInWater, Some(hours)),
        (PartOf::BitesPerHour, (hours > 0.0).then(|| bites / hours)),
        (PartOf::LandedShare, (bites > 0.0).then(|| fish / bites)),
        (PartOf::FishKg, (fish > 0.0).then(|| plan.weight_kg.mean / fish)),
    ]
}

fn is_nought(factor: Option<f64>) -> bool {
    factor.is_some_and(|value| value <= 0.0)
}

/// The logarithmic mean of two weights above nought [kg].
fn log_mean(a_kg: f64, b_kg: f64) -> f64 {
    let ln = (a_kg / b_kg).ln();
    if ln.abs() > 0.0 { (a_kg - b_kg) / ln } else { a_kg }
}
