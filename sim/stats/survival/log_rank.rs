//! The log-rank test: do several groups share one survival curve?

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::censored_time::CensoredTime;

/// Result of a log-rank test.
#[derive(Clone, Debug, PartialEq)]
pub struct LogRankTest {
    /// Events of each group.
    pub observed: Vec<u64>,
    /// Events that each group would have had if all groups shared one curve.
    pub expected: Vec<f64>,
    /// Distance between the two, in units of its variance.
    pub chi_square: f64,
    /// Degrees of freedom: one less than the number of groups that were ever at risk together.
    pub degrees_of_freedom: u32,
    /// Chance of a distance this large or larger if all groups share one curve.
    pub p_value: f64,
}

/// Sums over event times.
struct Sums {
    observed: Vec<u64>,
    expected: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

/// Compares groups. `None` if no event happened while two groups were at risk.
///
/// At each event time with d events among n at risk, group g with n_g at risk is expected to have d n_g/n events;
/// covariances are those of the hypergeometric distribution.
///
/// - **Holds for** independent times; for times that share a session use [`stratified_log_rank`].
/// - **Source** Mantel 1966; Peto & Peto 1972 (textbook forms).
/// - **Checked by** V-302 (published trial), V-303.
pub fn log_rank(groups: &[Vec<CensoredTime>]) -> Option<LogRankTest> {
    let groups: Vec<&[CensoredTime]> = groups.iter().map(Vec::as_slice).collect();
    test([groups].into_iter())
}

/// Compares groups within strata only: a difference between strata, such as a better day, is no difference between
/// groups. Each stratum lists the times of every group, in the same order; a group may be empty.
///
/// `None` if no event happened while two groups of one stratum were at risk.
pub fn stratified_log_rank(strata: &[Vec<Vec<CensoredTime>>]) -> Option<LogRankTest> {
    test(strata.iter().map(|groups| groups.iter().map(Vec::as_slice).collect()))
}

fn test<'a>(strata: impl Iterator<Item = Vec<&'a [CensoredTime]>>) -> Option<LogRankTest> {
    let mut sums: Option<Sums> = None;
    for groups in strata {
        let count = groups.len();
        let sums = sums.get_or_insert_with(|| Sums {
            observed: vec![0; count],
            expected: vec![0.0; count],
            covariance: vec![vec![0.0; count]; count],
        });
        add_stratum(&groups, sums);
    }
    let Sums { observed, expected, covariance } = sums?;
    let differences: Vec<f64> = observed
        .iter()
        .zip(&expected)
        .map(|(&observed, expected)| observed as f64 - expected)
        .collect();
    let (chi_square, degrees_of_freedom) = quadratic_form(covariance, differences);
    let distribution = ChiSquared::new(f64::from(degrees_of_freedom)).ok()?;
    let p_value = distribution.sf(chi_square);
    Some(LogRankTest { observed, expected, chi_square, degrees_of_freedom, p_value })
}

/// Adds the event times of one stratum.
fn add_stratum(groups: &[&[CensoredTime]], sums: &mut Sums) {
    let mut sorted: Vec<(CensoredTime, usize)> = groups
        .iter()
        .enumerate()
        .flat_map(|(group, times)| times.iter().map(move |&time| (time, group)))
        .collect();
    sorted.sort_by(|a, b| a.0.time.total_cmp(&b.0.time));
    let mut at_risk: Vec<f64> = groups.iter().map(|times| times.len() as f64).collect();
    for tied in sorted.chunk_by(|a, b| a.0.time.total_cmp(&b.0.time).is_eq()) {
        let events = tied.iter().filter(|(time, _)| time.is_event).count() as f64;
        let n: f64 = at_risk.iter().sum();
        if events > 0.0 {
            let spread = if n > 1.0 { events * (n - events) / (n - 1.0) } else { 0.0 };
            for (g, (row, &here)) in sums.covariance.iter_mut().zip(&at_risk).enumerate() {
                sums.expected[g] += events * here / n;
                for (h, (entry, &other)) in row.iter_mut().zip(&at_risk).enumerate() {
                    let same = if g == h { 1.0 } else { 0.0 };
                    *entry += spread * here / n * (same - other / n);
                }
            }
        }
        for (time, group) in tied {
            at_risk[*group] -= 1.0;
            sums.observed[*group] += u64::from(time.is_event);
        }
    }
}

/// dᵀ V⁻¹ d and the rank of V, by Cholesky's elimination with the largest pivot first. V may be singular, as the
/// differences of all groups add up to zero.
fn quadratic_form(mut v: Vec<Vec<f64>>, mut d: Vec<f64>) -> (f64, u32) {
    const ROUNDING: f64 = 1e-10;
    let largest = |v: &[Vec<f64>], open: &[usize]| {
        open.iter().copied().max_by(|&a, &b| v[a][a].total_cmp(&v[b][b]))
    };
    let mut open: Vec<usize> = (0..d.len()).collect();
    let limit = largest(&v, &open).map_or(0.0, |at| ROUNDING * v[at][at]);
    let (mut sum, mut rank) = (0.0, 0);
    while let Some(pivot) = largest(&v, &open).filter(|&at| v[at][at] > limit) {
        open.retain(|&at| at != pivot);
        sum += d[pivot] * d[pivot] / v[pivot][pivot];
        rank += 1;
        let row = v[pivot].clone();
        for &at in &open {
            let factor = v[at][pivot] / row[pivot];
            d[at] -= factor * d[pivot];
            v[at].iter_mut().zip(&row).for_each(|(value, above)| *value -= factor * above);
        }
    }
    (sum, rank)
}
