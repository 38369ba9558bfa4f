//! Placing in a section, and the expected loss of a wrong choice.

use sim::params::DailyDistribution;
use sim::scenario::RivalWeight;
use sim::stats::{
    expected_loss_of_choice, expected_maximum, normal_score_correlation, normal_scores,
    placing_probability, probability_above, unit_normal_loss,
};
use statrs::distribution::{ContinuousCDF, Normal};

fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}"
    );
}

/// V-58: the largest of several normal values.
#[test]
fn the_largest_of_normal_values_has_its_tabulated_mean() {
    // Harter 1961, Biometrika 48:151; to seven digits, and to five beyond twenty.
    for (n, expected) in [
        (2, 0.564_189_6),
        (3, 0.846_284_4),
        (4, 1.029_375_4),
        (5, 1.162_964_5),
        (6, 1.267_206_4),
        (7, 1.352_178_4),
        (8, 1.423_600_3),
        (9, 1.485_013_2),
        (10, 1.538_752_7),
        (12, 1.629_227_6),
        (15, 1.735_913_4),
        (20, 1.867_475_1),
        (25, 1.965_31),
        (30, 2.042_76),
        (50, 2.249_07),
        (100, 2.507_59),
        (500, 3.036_70),
    ] {
        let digit = if n > 20 { 0.51e-5 } else { 0.6e-7 };
        near(&format!("of {n}"), expected_maximum(n, 0.0, |z| z), expected, digit);
    }
    // Clark 1961: of two with correlation ρ, √((1 − ρ)/π); the scores' r is √ρ.
    for rho in [0.0_f64, 0.3, 0.7, 0.95] {
        let expected = ((1.0 - rho) / std::f64::consts::PI).sqrt();
        near(&format!("of two, ρ = {rho}"), expected_maximum(2, rho.sqrt(), |z| z), expected, 1e-9);
    }
}

/// The chance to be first, averaged over `days` midpoints of a normal distribution with mean `d` and spread `sd`.
fn first_of(n: u32, d: f64, sd: f64) -> f64 {
    let normal = Normal::standard();
    let days = 20_000;
    let chance = |day: u32| {
        let weight = d + sd * normal.inverse_cdf((f64::from(day) + 0.5) / f64::from(days));
        placing_probability(n, 1, probability_above(weight, 0.0, 0.0))
    };
    (0..days).map(chance).sum::<f64>() / f64::from(days)
}

/// V-59: chances to win a section of normal weights.
#[test]
fn the_chance_to_win_a_section_is_as_tabulated() {
    // A plan N(d, sd²) against n rivals N(0, 1), by quadrature with another program, to four digits; 1/(n + 1) where
    // all are equal. Midpoints of 20 000 parts are exact to less than a digit.
    for (n, d, expected) in [
        (1, 0.0, 0.5),
        (1, 0.25, 0.5702),
        (1, 0.5, 0.6382),
        (1, 1.0, 0.7602),
        (1, 2.0, 0.9214),
        (5, 0.0, 0.1667),
        (5, 0.25, 0.2247),
        (5, 0.5, 0.2925),
        (5, 1.0, 0.4494),
        (5, 2.0, 0.7585),
        (9, 0.0, 0.1),
        (9, 0.25, 0.1440),
        (9, 0.5, 0.1992),
        (9, 1.0, 0.3409),
        (9, 2.0, 0.6736),
        (19, 0.0, 0.05),
        (19, 0.25, 0.0780),
        (19, 0.5, 0.1164),
        (19, 1.0, 0.2284),
        (19, 2.0, 0.5580),
    ] {
        near(&format!("{n} rivals, {d} ahead"), first_of(n, d, 1.0), expected, 0.6e-4);
    }
    // An average but variable plan wins more often, a steady one less.
    for (n, sd, expected) in [
        (9, 0.5, 0.0234),
        (9, 1.5, 0.1789),
        (9, 2.0, 0.2386),
        (19, 0.5, 0.0035),
        (19, 1.5, 0.1228),
        (19, 2.0, 0.1863),
    ] {
        near(&format!("{n} rivals, spread {sd}"), first_of(n, 0.0, sd), expected, 0.6e-4);
    }
}

/// V-60: framing, and the effects that all share.
#[test]
fn what_all_competitors_share_cancels() {
    // Where our own weight and the rivals' have the same distribution and depend on the day to the same degree, the
    // chance of one of m places is m/(n + 1), for any degree: midpoints over the day and over our own noise, 200
    // each.
    let normal = Normal::standard();
    let middles: Vec<f64> =
        (0..200).map(|k| normal.inverse_cdf((f64::from(k) + 0.5) / 200.0)).collect();
    for (n, places) in [(1, 1), (9, 1), (9, 3), (19, 5)] {
        for r in [0.0_f64, 0.4, 0.8] {
            let mut sum = 0.0;
            for day in &middles {
                for luck in &middles {
                    let ours = r * day + (1.0 - r * r).sqrt() * luck;
                    sum += placing_probability(n, places, probability_above(ours, *day, r));
                }
            }
            let expected = f64::from(places) / f64::from(n + 1);
            near(&format!("{places} of {}, r = {r}", n + 1), sum / 40_000.0, expected, 2e-3);
        }
    }
    near("more places than rivals", placing_probability(3, 4, 0.1), 1.0, 0.0);
}

/// V-60: rank correlation and correlation of the scores.
#[test]
fn scores_have_the_requested_rank_correlation() {
    // Pearson 1907: ρ = 6/π asin(r/2), inverted. On 20 000 days the ranks have the requested correlation, to four
    // standard errors of 1/√n.
    near("none", normal_score_correlation(0.0), 0.0, 0.0);
    near("half", normal_score_correlation(0.5), 0.517_638_1, 1e-7);
    let mut dice = sim::engine::Dice::from_key(&[60]);
    let r = normal_score_correlation(0.5);
    let days = 20_000;
    let (ours, theirs): (Vec<f64>, Vec<f64>) = (0..days)
        .map(|_| {
            let (day, luck) = (dice.normal(), dice.normal());
            (day.exp(), r * day + (1.0 - r * r).sqrt() * luck)
        })
        .unzip();
    let normal = Normal::standard();
    let ranks = |values: &[f64]| -> Vec<f64> {
        normal_scores(values).into_iter().map(|score| normal.cdf(score) - 0.5).collect()
    };
    let (x, y) = (ranks(&ours), ranks(&theirs));
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    near("ranks", dot(&x, &y) / dot(&x, &x), 0.5, 4.0 / f64::from(days).sqrt());
}

/// V-60: weights of rivals at their scores.
#[test]
fn rivals_have_the_weights_of_their_distribution() {
    for law in [
        DailyDistribution::Uniform { low: 5.0, high: 30.0 },
        DailyDistribution::LogNormal { mean: 27.0, cv: 0.5 },
    ] {
        let rival = RivalWeight::Distribution(law);
        for score in [-2.0, -0.5, 0.0, 1.3] {
            near(
                &format!("{law:?} at {score}"),
                rival.score_of(rival.kg_at_score(score)),
                score,
                1e-9,
            );
        }
        // Its mean over evenly spaced scores is that of the distribution: midpoints of 20 000 parts.
        let normal = Normal::standard();
        let at = |k: u32| rival.kg_at_score(normal.inverse_cdf((f64::from(k) + 0.5) / 20_000.0));
        let mean = (0..20_000).map(at).sum::<f64>() / 20_000.0;
        near(&format!("mean of {law:?}"), mean / law.mean(), 1.0, 2e-4);
    }
}

/// V-61: the expected loss of not knowing which is better.
#[test]
fn the_unit_normal_loss_is_as_tabulated() {
    for (z, expected) in
        [(0.0, 0.398_942), (0.5, 0.197_797), (1.0, 0.083_315), (1.5, 0.029_307), (2.0, 0.008_491)]
    {
        near(&format!("L({z})"), unit_normal_loss(z), expected, 0.6e-6);
        near("in its unit", expected_loss_of_choice(-3.0 * z, 3.0), 3.0 * expected, 2e-6);
    }
    // A difference 0.2 + 0.4 x + 0.3 y, both standard normal: 0.115219 by another program.
    near("two causes", expected_loss_of_choice(0.2, 0.5), 0.115_219, 0.6e-6);
    near("nothing unknown", expected_loss_of_choice(1.0, 0.0), 0.0, 0.0);
}
