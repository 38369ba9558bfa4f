//! Variance explained by uncertain inputs, estimated from the days as they are.

use sim::engine::Dice;
use sim::stats::{InputScores, wilson_interval};

fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}"
    );
}

/// About as many inputs as the parameter books have.
const INPUTS: usize = 80;

/// Days with many drawn inputs, two of which have an effect, one of them a curved one. Their variance, 0.36 + 0.09 +
/// 2 · 0.04, is as large as that of the added noise.
fn days(n: usize, key: u64) -> (Vec<Vec<f32>>, Vec<f64>) {
    let mut dice = Dice::from_key(&[key, 62]);
    let mut columns = vec![Vec::new(); INPUTS];
    let mut values = Vec::with_capacity(n);
    for _ in 0..n {
        let today: Vec<f64> = (0..INPUTS).map(|_| dice.normal()).collect();
        let known = 0.6 * today[3] - 0.3 * today[40] + 0.2 * (today[7] * today[7] - 1.0);
        values.push(1.0 + known + 0.53_f64.sqrt() * dice.normal());
        columns.iter_mut().zip(&today).for_each(|(column, &x)| column.push(x.exp() as f32));
    }
    (columns, values)
}

/// V-62: the share of variance explained by inputs.
#[test]
fn the_explained_share_of_variance_is_estimated_without_bias() {
    // 200 runs of 200 days. The mean of the estimates has a standard error of their spread over √200; four of them
    // are allowed. Ranks distort (z² − 1)/√2 a little at the ends: a twentieth of that part, 0.04 · 0.08 of the
    // whole.
    let runs = 200;
    let result: Vec<_> = (0..runs)
        .map(|run| {
            let (columns, values) = days(200, run);
            InputScores::from_columns(&columns).explained_variance(values).expect("they vary")
        })
        .collect();
    let n = runs as f64;
    let mean = result.iter().map(|result| result.share).sum::<f64>() / n;
    let spread =
        (result.iter().map(|result| (result.share - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    near("mean share", mean, 0.5, 4.0 * spread / n.sqrt() + 0.02);
    // The reported standard error is that spread, to a fifth; its formula is for many days.
    let given = result.iter().map(|result| result.se).sum::<f64>() / n;
    near("standard error over spread", given / spread, 1.0, 0.2);
}

/// V-62: the chance of a mean above zero.
#[test]
fn the_interval_of_the_chance_of_a_positive_mean_has_its_coverage() {
    // The mean given the inputs is 1 + their effects: above zero with probability Φ(1/√0.53) = 0.915 if it were
    // normal, and 0.928 by 10⁶ draws as it is. Each end of the interval has half of the error, so that it covers in
    // 95 of 100 runs or more; the standard error in 200 runs is 0.0154, three of which are allowed.
    let mut dice = Dice::from_key(&[63]);
    let draws = 1_000_000;
    let above = (0..draws).filter(|_| {
        let (x, y, z) = (dice.normal(), dice.normal(), dice.normal());
        1.0 + 0.6 * x - 0.3 * y + 0.2 * (z * z - 1.0) > 0.0
    });
    let truth = above.count() as f64 / f64::from(draws);
    let runs = 200;
    let covered = (0..runs).filter(|&run| {
        let (columns, values) = days(400, 1000 + run);
        let mean = values.iter().sum::<f64>() / 400.0;
        let result =
            InputScores::from_columns(&columns).explained_variance(values).expect("they vary");
        let chance = result.probability_above_zero(mean, (result.variance / 400.0).sqrt(), 0.95);
        assert!(chance.interval.contains(chance.estimate), "{chance:?}");
        chance.interval.contains(truth)
    });
    let covered = covered.count() as f64 / runs as f64;
    assert!(covered >= 0.95 - 3.0 * 0.0154, "the intervals of {covered} of the runs hold {truth}");
}

/// V-62: inputs without effect explain nothing.
#[test]
fn inputs_that_do_nothing_explain_nothing() {
    let result = |run: u64| {
        let (columns, _) = days(300, 5000 + run);
        let mut dice = Dice::from_key(&[64, run]);
        let values: Vec<f64> = (0..300).map(|_| dice.normal()).collect();
        InputScores::from_columns(&columns).explained_variance(values).expect("they vary")
    };
    let shares: Vec<f64> = (0..100).map(|run| result(run).share / result(run).se).collect();
    let mean = shares.iter().sum::<f64>() / 100.0;
    near("mean of shares in their standard errors", mean, 0.0, 4.0 / 10.0);
    let beyond = shares.iter().filter(|share| share.abs() > 1.96).count() as f64;
    let interval = wilson_interval(beyond, 100, 0.999).expect("runs");
    assert!(interval.contains(0.05), "{beyond} of 100 lie beyond two standard errors");
    let (columns, values) = days(300, 1);
    let inputs = InputScores::from_columns(&columns);
    assert!(inputs.explained_variance(values[..299].to_vec()).is_none(), "a value is missing");
    assert!(inputs.explained_variance([1.0; 300]).is_none(), "nothing varies");
    let never = InputScores::from_columns(&[vec![2.0; 300]]);
    assert!(
        never.explained_variance(values).is_none(),
        "an input that never varies explains nothing"
    );
}
