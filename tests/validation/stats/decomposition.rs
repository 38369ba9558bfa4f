//! The decomposition of the difference between two plans.

use sim::study::{Comparison, Factor, PlanResult, decompose};

use crate::demo::{compared, demo};
use crate::evidence::near;

/// A comparison of the demo on six days: four plans that differ in every factor.
fn demo_on_six_days() -> Comparison {
    compared(&demo(&[]), 6)
}

fn plan<'a>(result: &'a Comparison, name: &str) -> &'a PlanResult {
    result.plans.iter().find(|plan| plan.name == name).expect("a pair names plans")
}

/// V-66: sum of L ln(xₐ/x_b) over the factors = L ln(A/B) = A − B.
#[test]
fn parts_add_up_to_the_difference() {
    let result = demo_on_six_days();
    assert_eq!(result.pairs.len(), 6);
    for pair in &result.pairs {
        let sum: f64 = pair.factors.iter().map(|part| part.contribution_kg).sum();
        near("V-66 sum [kg]", sum, pair.difference_kg.value, 1e-9);
    }
}

/// V-66: let every factor change from b to a at a constant rate of its logarithm, x(t) = x_b (xₐ/x_b)^t. The
/// contribution of a factor is ∫ W(t) d ln x(t), with W(t) the product of all factors at t. The integral is computed
/// by Simpson's rule in 200 steps: with ln of the largest ratio 3 its error is below 3⁴/(180 · 200⁴) < 10⁻⁹ of the
/// whole.
#[test]
fn a_part_is_the_integral_of_its_factors_contribution() {
    let result = demo_on_six_days();
    for pair in &result.pairs {
        let ends: Vec<(f64, f64)> = pair
            .factors
            .iter()
            .map(|part| (part.a.expect("measured"), part.b.expect("measured")))
            .collect();
        let weight_kg = |t: f64| ends.iter().map(|(a, b)| b * (a / b).powf(t)).product::<f64>();
        near("V-66 product [kg]", weight_kg(1.0), plan(&result, &pair.a).weight_kg.mean, 1e-9);
        near("V-66 product [kg]", weight_kg(0.0), plan(&result, &pair.b).weight_kg.mean, 1e-9);
        let steps = 200_u32;
        let mean_kg = (0..=steps)
            .map(|k| {
                let times = match k {
                    0 => 1.0,
                    k if k == steps => 1.0,
                    k if k % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                times * weight_kg(f64::from(k) / f64::from(steps)) / (3.0 * f64::from(steps))
            })
            .sum::<f64>();
        for (part, (a, b)) in pair.factors.iter().zip(&ends) {
            let on_the_way_kg = mean_kg * (a / b).ln();
            assert!(
                (part.contribution_kg - on_the_way_kg).abs() < 1e-6,
                "V-66 {:?} of {} and {}: {} kg, by the integral {on_the_way_kg} kg",
                part.factor,
                pair.a,
                pair.b,
                part.contribution_kg
            );
        }
    }
}

/// V-67: with r = 10⁻⁶⁰ of a bite left, the part of the bites is (A − B) ln(r)/(ln(r) + the other logarithms); these
/// add up to less than 2, compared with ln r = −138: within 2 %.
#[test]
fn without_bites_the_whole_difference_is_attributed_to_bites() {
    let result = demo_on_six_days();
    let (one, like) = (plan(&result, "two-minutes"), plan(&result, "ten-minutes"));
    let with = |bites: f64| {
        let mut other = like.clone();
        other.bites.mean *= bites;
        other.fish.mean *= bites;
        other.weight_kg.mean *= bites;
        decompose(one, &other)
    };
    let part = |all: &[sim::study::FactorContribution], of: Factor| {
        all.iter()
            .find(|part| part.factor == of)
            .map(|part| part.contribution_kg)
            .expect("four parts")
    };
    let (none, hardly) = (with(0.0), with(1e-60));
    let whole_kg = one.weight_kg.mean;
    near("V-67 all [kg]", part(&none, Factor::BitesPerHour), whole_kg, 1e-9);
    let hardly_kg = part(&hardly, Factor::BitesPerHour);
    assert!((hardly_kg / whole_kg - 1.0).abs() < 0.02, "V-67: {hardly_kg} of {whole_kg} kg");
    for of in [Factor::HoursInWater, Factor::LandedShare, Factor::FishKg] {
        assert!(part(&none, of).abs() < 1e-12, "V-67 {of:?}");
    }
}

/// V-67: the parts of b − a are those of a − b with the opposite sign.
#[test]
fn parts_change_sign_with_the_order_of_the_plans() {
    let result = demo_on_six_days();
    for pair in &result.pairs {
        let turned = decompose(plan(&result, &pair.b), plan(&result, &pair.a));
        for (part, other) in pair.factors.iter().zip(&turned) {
            near("V-67 opposite [kg]", other.contribution_kg, -part.contribution_kg, 1e-9);
            assert_eq!((part.a, part.b), (other.b, other.a));
        }
    }
}
