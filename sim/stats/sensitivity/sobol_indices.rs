//! Sobol' indices: the share of an output's variance that each input causes, alone and with others.
//!
//! The output may be noisy: the mean over replicates that all points of a row share. The variance that remaining noise
//! adds is estimated from the scatter over the replicates and subtracted.

use rand::Rng;

use crate::stats::describe::{Summary, quantile};
use crate::stats::design::{Sobol, uniform};
use crate::stats::inference::Interval;

/// Number of bootstrap samples of the rows, for the intervals.
const BOOTSTRAP_SAMPLES: usize = 400;

/// One row of Saltelli's design: two points, and the points mixed from them.
#[derive(Clone, Debug, PartialEq)]
pub struct SaltelliRow {
    /// First point.
    pub a: Vec<f64>,
    /// Second point.
    pub b: Vec<f64>,
}

impl SaltelliRow {
    /// The first point with one coordinate replaced by that of the second.
    pub fn mixed(&self, input: usize) -> Vec<f64> {
        let mut point = self.a.clone();
        point[input] = self.b[input];
        point
    }
}

/// Rows of Saltelli's design, from a scrambled Sobol' sequence. `rows` should be a power of two.
///
/// # Panics
///
/// If `inputs` is more than half of [`Sobol::MAX_DIMENSIONS`].
pub fn saltelli_rows(rows: u32, inputs: usize, rng: &mut impl Rng) -> Vec<SaltelliRow> {
    let sequence = Sobol::scrambled(2 * inputs, rng);
    (0..rows)
        .map(|row| {
            let mut a = sequence.point(row);
            let b = a.split_off(inputs);
            SaltelliRow { a, b }
        })
        .collect()
}

/// Outputs of one row, all with the same replicates. A function without noise needs one replicate.
#[derive(Clone, Debug, PartialEq)]
pub struct SaltelliOutputs {
    /// Outputs at the first point.
    pub a: Vec<f64>,
    /// Outputs at the second point.
    pub b: Vec<f64>,
    /// By input: outputs at the first point with that coordinate of the second.
    pub mixed: Vec<Vec<f64>>,
}

/// Sobol' indices of one input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SobolIndex {
    /// First-order index: share of the variance that the input causes alone.
    pub first: f64,
    /// Total index: share that it causes alone or together with others.
    pub total: f64,
    /// 95 % interval of the total index, by bootstrap over the rows.
    pub total95: Interval,
}

/// Sobol' indices of all inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct SobolIndices {
    /// Variance over the inputs, with the noise variance subtracted.
    pub variance: f64,
    /// Noise variance of the output at a single point.
    pub noise_variance: f64,
    /// Indices by input.
    pub inputs: Vec<SobolIndex>,
}

/// Contribution of one row to the estimates.
struct RowTerms {
    outputs: [f64; 2],
    noise_variance: f64,
    first: Vec<f64>,
    total: Vec<f64>,
}

/// First-order and total indices. `None` for fewer than two rows, or if nothing varies beyond noise.
///
/// V_i = mean f_B (f_ABi − f_A) and V_Ti = mean (f_A − f_ABi)²/2. The points of a row share their noise; it adds to
/// every product the covariance over the replicates divided by their number. That is subtracted.
///
/// - **Source** Saltelli et al. 2010 (Computer Physics Communications 181:259); Jansen 1999 (same journal
///   117:35) for totals.
/// - **Checked by** V-114 (Ishigami's and Sobol's functions), V-115 (the effect of noise, and its subtraction).
pub fn sobol_indices(rows: &[SaltelliOutputs], rng: &mut impl Rng) -> Option<SobolIndices> {
    let inputs = rows.first()?.mixed.len();
    let centre = {
        let mut all = Summary::default();
        rows.iter().flat_map(|row| row.a.iter().chain(&row.b)).for_each(|&y| all.add(y));
        all.mean()?
    };
    let terms: Vec<RowTerms> = rows.iter().map(|row| row_terms(row, centre)).collect();
    let all_rows: Vec<usize> = (0..terms.len()).collect();
    let estimates = estimates(&terms, &all_rows, inputs)?;
    let mut totals = vec![Vec::with_capacity(BOOTSTRAP_SAMPLES); inputs];
    for _ in 0..BOOTSTRAP_SAMPLES {
        let drawn: Vec<usize> = all_rows
            .iter()
            .map(|_| ((uniform(rng) * terms.len() as f64) as usize).min(terms.len() - 1))
            .collect();
        // A sample in which nothing varies has no shares.
        if let Some(sample) = self::estimates(&terms, &drawn, inputs) {
            let sample_totals = sample.shares.iter().map(|&(_, total)| total);
            totals.iter_mut().zip(sample_totals).for_each(|(totals, total)| totals.push(total));
        }
    }
    let interval = |totals: &mut Vec<f64>| {
        totals.sort_by(f64::total_cmp);
        let end = |p| quantile(totals, p);
        end(0.025).zip(end(0.975)).map(|(low, high)| Interval { low, high })
    };
    let inputs = estimates
        .shares
        .iter()
        .zip(&mut totals)
        .map(|(&(first, total), totals)| {
            Some(SobolIndex { first, total, total95: interval(totals)? })
        })
        .collect::<Option<Vec<SobolIndex>>>()?;
    Some(SobolIndices {
        variance: estimates.variance,
        noise_variance: estimates.noise_variance,
        inputs,
    })
}

/// Terms of one row; outputs in products are relative to `centre`.
fn row_terms(row: &SaltelliOutputs, centre: f64) -> RowTerms {
    let replicates = row.a.len() as f64;
    let (mean_a, variance_a) = moments(&row.a);
    let (mean_b, variance_b) = moments(&row.b);
    let by_input = row.mixed.iter().map(|mixed| {
        let change: Vec<f64> = mixed.iter().zip(&row.a).map(|(m, a)| m - a).collect();
        let (mean, variance) = moments(&change);
        let covariance = if row.a.len() < 2 {
            0.0
        } else {
            let products = row.b.iter().zip(&change).map(|(b, c)| (b - mean_b) * (c - mean));
            products.sum::<f64>() / (replicates - 1.0)
        };
        (
            (mean_b - centre) * mean - covariance / replicates,
            0.5 * (mean * mean - variance / replicates),
        )
    });
    let (first, total) = by_input.unzip();
    let noise_variance = 0.5 * (variance_a + variance_b) / replicates;
    RowTerms { outputs: [mean_a, mean_b], noise_variance, first, total }
}

/// Estimates from some of the rows.
struct Estimates {
    variance: f64,
    noise_variance: f64,
    /// By input: first-order and total index.
    shares: Vec<(f64, f64)>,
}

/// Estimates from the rows with these indices. `None` if nothing varies beyond noise.
fn estimates(terms: &[RowTerms], rows: &[usize], inputs: usize) -> Option<Estimates> {
    let mut outputs = Summary::default();
    rows.iter().flat_map(|&row| terms[row].outputs).for_each(|y| outputs.add(y));
    let n = rows.len() as f64;
    let noise_variance = rows.iter().map(|&row| terms[row].noise_variance).sum::<f64>() / n;
    let variance = outputs.variance()? - noise_variance;
    let mean = |term: &dyn Fn(&RowTerms) -> f64| {
        rows.iter().map(|&row| term(&terms[row])).sum::<f64>() / n
    };
    let share = |input: usize| {
        (mean(&|row| row.first[input]) / variance, mean(&|row| row.total[input]) / variance)
    };
    (variance > 0.0).then(|| Estimates {
        variance,
        noise_variance,
        shares: (0..inputs).map(share).collect(),
    })
}

/// Mean and variance; the variance of a single value counts as zero.
fn moments(values: &[f64]) -> (f64, f64) {
    let mut summary = Summary::default();
    values.iter().for_each(|&value| summary.add(value));
    (summary.mean().unwrap_or(f64::NAN), summary.variance().unwrap_or(0.0))
}
