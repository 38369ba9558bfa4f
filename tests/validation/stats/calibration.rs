//! V-314 to V-317 and V-320: calibration from a table of simulated cases.

use sim::engine::Dice;
use sim::stats::{LinearFit, ReferenceTable, share_at_least_as_far};

use crate::measured::measured;

/// χ² of 19 degrees of freedom that chance exceeds once in 16 000.
const CHI_SQUARE_19: f64 = 52.6;

/// θ ~ N(0, 1), one summary y ~ N(θ, 0.25).
fn conjugate(cases: usize, key: u64) -> ReferenceTable {
    let mut dice = Dice::from_key(&[key]);
    let mut table = ReferenceTable { parameters: Vec::new(), summaries: Vec::new() };
    for _ in 0..cases {
        let theta = dice.normal();
        table.summaries.push(vec![theta + 0.5 * dice.normal()]);
        table.parameters.push(vec![theta]);
    }
    table
}

/// V-314.
#[test]
fn a_linear_fit_is_exact_on_a_plane_and_leaves_out_what_repeats() {
    let mut dice = Dice::from_key(&[314]);
    let rows: Vec<Vec<f64>> = (0..50)
        .map(|_| {
            let (a, b) = (dice.normal(), dice.normal());
            vec![a, b, a, 7.0]
        })
        .collect();
    let values: Vec<f64> = rows.iter().map(|row| 2.0 + 3.0 * row[0] - 0.5 * row[1]).collect();
    let weights: Vec<f64> = (1..=50).map(f64::from).collect();
    let fit = LinearFit::weighted(&rows, &values, &weights, 0.0).expect("rows");
    for (row, value) in rows.iter().zip(&values) {
        assert!((fit.value(row) - value).abs() < 1e-9, "{fit:?}");
    }
    assert!((fit.explained_share - 1.0).abs() < 1e-9);
    // Longley 1967 by NIST has 9 digits that only better arithmetic reaches; Norris, also NIST, is linear.
    let norris = [
        (0.2, 0.1),
        (337.4, 338.8),
        (118.2, 118.1),
        (884.6, 888.0),
        (10.1, 9.2),
        (226.5, 228.1),
        (666.3, 668.5),
        (996.3, 998.5),
        (448.6, 449.1),
        (777.0, 778.9),
        (558.2, 559.2),
        (0.4, 0.3),
        (0.6, 0.1),
        (775.5, 778.1),
        (666.9, 668.8),
        (338.0, 339.3),
        (447.5, 448.9),
        (11.6, 10.8),
        (556.0, 557.7),
        (228.1, 228.3),
        (995.8, 998.0),
        (887.6, 888.8),
        (120.2, 119.6),
        (0.3, 0.3),
        (0.3, 0.6),
        (556.8, 557.6),
        (339.1, 339.3),
        (887.2, 888.0),
        (999.0, 998.5),
        (779.0, 778.9),
        (11.1, 10.2),
        (118.3, 117.6),
        (229.2, 228.9),
        (669.1, 668.4),
        (448.9, 449.2),
        (0.5, 0.2),
    ];
    let rows: Vec<Vec<f64>> = norris.iter().map(|&(x, _)| vec![x]).collect();
    let values: Vec<f64> = norris.iter().map(|&(_, y)| y).collect();
    let fit = LinearFit::weighted(&rows, &values, &[1.0; 36], 0.0).expect("rows");
    println!("Norris: {} + {} x, R² {}", fit.intercept, fit.slopes[0], fit.explained_share);
    assert!((fit.slopes[0] - 1.002_116_818_020_45).abs() < 1e-12);
    assert!((fit.intercept + 0.262_323_073_774_029).abs() < 1e-10);
    assert!((fit.explained_share - 0.999_993_745_883_712).abs() < 1e-12);
    measured!("V-314", "slope {:.12}, intercept {:.9}", fit.slopes[0], fit.intercept);
}

/// V-315: with y = 1.2 the posterior is N(0.96, 0.20), whatever share is accepted.
#[test]
fn a_conjugate_posterior_is_exact_after_adjustment_at_every_bandwidth() {
    let table = conjugate(100_000, 315);
    let mut results = Vec::new();
    for accepted in [80_000, 20_000, 5_000] {
        let posterior = table.posterior(&[1.2], accepted).expect("cases");
        let (mean, variance) = (posterior.mean(0), posterior.variance(0));
        let n = posterior.effective_cases();
        // The mean is that of a regression: its error is that of the residuals over the effective cases, twice that at
        // the edge of a kernel with a slope. A variance from n normal residuals has a relative error of √(2/n).
        let (mean_error, variance_error) = (2.0 * (0.2 / n).sqrt(), 0.2 * (2.0 / n).sqrt());
        println!(
            "accepted {accepted}: mean {mean:.4} ± {mean_error:.4}, variance {variance:.4} ± {variance_error:.4}"
        );
        assert!((mean - 0.96).abs() < 4.0 * mean_error, "{mean}");
        assert!((variance - 0.20).abs() < 4.0 * variance_error, "{variance}");
        let raw: Vec<f64> = posterior.cases.iter().map(|&case| table.parameters[case][0]).collect();
        let raw_mean: f64 = raw.iter().zip(&posterior.weights).map(|(x, w)| x * w).sum();
        assert!(
            accepted < 80_000 || (raw_mean - 0.96).abs() > 0.1,
            "unadjusted it is not: {raw_mean}"
        );
        results
            .push(format!("{mean:.3} ± {mean_error:.3} and {variance:.3} ± {variance_error:.3}"));
    }
    measured!("V-315", "mean and variance {}", results.join(", "));
}

/// V-316: five unknowns behind twelve summaries, some of which are noise.
#[test]
fn ranks_of_the_truth_among_draws_are_uniform_for_five_unknowns() {
    const UNKNOWNS: usize = 5;
    let mut dice = Dice::from_key(&[316]);
    let mut case = || {
        let theta: Vec<f64> = (0..UNKNOWNS).map(|_| dice.normal()).collect();
        let mut summaries: Vec<f64> = theta.iter().map(|x| x + 0.7 * dice.normal()).collect();
        summaries.push(theta[0] + theta[1] + 0.5 * dice.normal());
        summaries.push(theta[2] - theta[3] + 0.5 * dice.normal());
        summaries.extend((0..5).map(|_| dice.normal()));
        (theta, summaries)
    };
    let (parameters, summaries) = (0..4000).map(|_| case()).unzip();
    let table = ReferenceTable { parameters, summaries };
    let (tests, draws, bins) = (1000, 99, 20);
    let mut counts = vec![vec![0_u32; bins]; UNKNOWNS];
    let mut inside = [0; UNKNOWNS];
    for _ in 0..tests {
        let (theta, observed) = case();
        let posterior = table.posterior(&observed, 600).expect("cases");
        let rows = posterior.resampled(draws);
        for (unknown, truth) in theta.iter().enumerate() {
            let below = rows.iter().filter(|&&row| posterior.parameters[row][unknown] < *truth);
            counts[unknown][below.count() * bins / (draws + 1)] += 1;
            let (low, high) =
                (posterior.quantile(unknown, 0.05), posterior.quantile(unknown, 0.95));
            inside[unknown] += u32::from((low..=high).contains(truth));
        }
    }
    let expected = f64::from(tests) / bins as f64;
    let mut results = Vec::new();
    for (unknown, counts) in counts.iter().enumerate() {
        let chi_square: f64 =
            counts.iter().map(|&count| (f64::from(count) - expected).powi(2) / expected).sum();
        let coverage = f64::from(inside[unknown]) / f64::from(tests);
        println!(
            "unknown {unknown}: χ²(19) {chi_square:.1}, 90 % intervals hold it in {:.1} %",
            100.0 * coverage
        );
        assert!(chi_square < CHI_SQUARE_19, "{chi_square}: {counts:?}");
        // 4 binomial errors of 1000.
        assert!((coverage - 0.9).abs() < 0.038, "{coverage}");
        results.push(format!("{chi_square:.0} ({:.1} %)", 100.0 * coverage));
    }
    measured!("V-316", "χ²(19), and how often 90 % ranges hold it: {}", results.join(", "));
}

/// V-317.
#[test]
fn a_case_is_unusual_as_often_as_its_share_says_and_an_impossible_one_always() {
    let mut dice = Dice::from_key(&[317]);
    let mut case = || -> Vec<f64> { (0..8).map(|_| dice.normal()).collect() };
    let table: Vec<Vec<f64>> = (0..2000).map(|_| case()).collect();
    let tests = 400;
    let unusual = (0..tests).filter(|_| share_at_least_as_far(&table, &case()) < 0.05).count();
    println!("{unusual} of {tests} below 5 %");
    // 4 binomial errors, and one for the share itself, which comes from 400 cases.
    assert!(
        (unusual as f64 / f64::from(tests) - 0.05).abs() < 5.0 * (0.05_f64 * 0.95 / 400.0).sqrt()
    );
    assert!(share_at_least_as_far(&table, &[6.0; 8]) == 0.0);
    // Each number by itself is usual, all together are not.
    let along: Vec<Vec<f64>> = (0..2000)
        .map(|_| {
            let x = dice.normal();
            vec![x, x + 0.05 * dice.normal()]
        })
        .collect();
    assert!(share_at_least_as_far(&along, &[1.0, -1.0]) == 0.0);
    assert!(share_at_least_as_far(&along, &[1.0, 1.0]) > 0.05);
    measured!("V-317", "{unusual} of {tests}");
}

/// V-320.
#[test]
fn the_chance_of_the_worse_choice_falls_with_what_is_settled() {
    use sim::study::{chance_of_worse, chance_of_worse_after};
    let mut dice = Dice::from_key(&[320]);
    let mut results = Vec::new();
    for (mean, sd, settled) in [(0.0, 1.0, 0.5), (1.0, 2.0, 0.3), (-0.5, 1.0, 0.8), (2.0, 1.5, 0.1)]
    {
        let cases = 200_000;
        let wrong = (0..cases)
            .filter(|_| {
                let shown = mean + sd * f64::sqrt(settled) * dice.normal();
                let truth = shown + sd * f64::sqrt(1.0 - settled) * dice.normal();
                (shown > 0.0) != (truth > 0.0)
            })
            .count();
        let share = wrong as f64 / f64::from(cases);
        let formula = chance_of_worse_after(mean, sd, settled);
        let error = (share * (1.0 - share) / f64::from(cases)).sqrt();
        println!(
            "mean {mean}, sd {sd}, settled {settled}: {formula:.4}, simulated {share:.4} ± {error:.4}"
        );
        assert!((share - formula).abs() < 4.0 * error);
        assert!(formula < chance_of_worse(mean, sd));
        results.push(format!("{formula:.4} against {share:.4} ± {error:.4}"));
    }
    measured!("V-320", "{}", results.join(", "));
    // With a level start and everything in doubt, what is settled turns an angle: arccos √settled over π.
    let level = chance_of_worse_after(0.0, 1.0, 0.25);
    assert!((level - f64::acos(0.5) / std::f64::consts::PI).abs() < 1e-6, "{level}");
    assert!((chance_of_worse_after(1.0, 2.0, 0.0) - chance_of_worse(1.0, 2.0)).abs() < 1e-9);
    assert!(chance_of_worse_after(1.0, 2.0, 1.0).abs() < 1e-12);
}
