//! Constants of procedures that choose the best of several, from the integrals that define them.

use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::gamma::ln_gamma;

/// Nodes of a rule on either side of the middle.
const HALF: i32 = 60;
/// How far a rule reaches, in standard deviations.
const REACH: f64 = 9.0;

/// A value and its share of the whole.
type Node = (f64, f64);

/// The one-sided quantile of Dunnett for the best of `k`: with this chance, none of k − 1 others seems further ahead
/// of the one that is best than this many standard errors of a difference.
///
/// P(t_j ≤ d, j = 1 … k−1) for t of `df` degrees of freedom that share one variance and correlate by a half:
///
/// E_s ∫ Φ(x + √2 d s)^(k−1) φ(x) dx,  s² = χ²_df / df
///
/// - **Source** Dunnett 1955 (Journal of the American Statistical Association 50:1096); as used with shared random
///   numbers by Nelson & Matejcik 1995 (Management Science 41:1935). For df without end √2 d is the constant of
///   Bechhofer 1954.
/// - **Checked by** V-89.
///
/// # Panics
///
/// If there are fewer than two to choose from, or `level` is not between a half and 1.
#[must_use]
pub fn dunnett(k: usize, df: u64, level: f64) -> f64 {
    let (normal, spread) = (normal_nodes(), chi_square_nodes(df));
    let phi = Normal::standard();
    let chance = |d: f64| {
        expected(&spread, |chi_square| {
            let apart = std::f64::consts::SQRT_2 * d * (chi_square / df as f64).sqrt();
            expected(&normal, |x| phi.cdf(x + apart).powi(k as i32 - 1))
        })
    };
    solved(k, level, chance)
}

/// Rinott's constant h: each of `k` is tried N = ⌈(h s/δ)²⌉ times, and the one of the highest mean is the best with
/// this chance, where the best leads by δ or more.
///
/// E_Y (E_X Φ(h / √(df (1/X + 1/Y))))^(k−1) = level,  X, Y ~ χ²_df, where s² has `df` degrees of freedom
///
/// - **Holds for** independent trials: of plans that do not share their days, as on the bank.
/// - **Source** Rinott 1978 (Communications in Statistics A7:799).
/// - **Checked by** V-90.
///
/// # Panics
///
/// As [`dunnett`].
#[must_use]
pub fn rinott(k: usize, df: u64, level: f64) -> f64 {
    let nodes = chi_square_nodes(df);
    let phi = Normal::standard();
    let chance = |h: f64| {
        expected(&nodes, |y| {
            let one = expected(&nodes, |x| phi.cdf(h / (df as f64 * (1.0 / x + 1.0 / y)).sqrt()));
            one.powi(k as i32 - 1)
        })
    };
    solved(k, level, chance)
}

fn expected(nodes: &[Node], of: impl Fn(f64) -> f64) -> f64 {
    nodes.iter().map(|&(value, share)| share * of(value)).sum()
}

/// The trapezoidal rule for a density given by its logarithm, which all but vanishes at both ends; there it is
/// exact but for what is cut off.
fn nodes(middle: f64, sd: f64, ln_density: impl Fn(f64) -> f64) -> Vec<Node> {
    let at = |i: i32| middle + REACH * sd * f64::from(i) / f64::from(HALF);
    let dense: Vec<Node> = (-HALF..=HALF).map(|i| (at(i), ln_density(at(i)).exp())).collect();
    let whole: f64 = dense.iter().map(|&(_, density)| density).sum();
    dense.into_iter().map(|(value, density)| (value, density / whole)).collect()
}

fn normal_nodes() -> Vec<Node> {
    nodes(0.0, 1.0, |x| -0.5 * x * x)
}

/// χ² by way of its logarithm, which is near enough to normal for few nodes.
fn chi_square_nodes(df: u64) -> Vec<Node> {
    let half = 0.5 * df as f64;
    // Its left tail falls by exp(half · ln x) only.
    let sd = (1.0 / half).sqrt().max(4.0 / half);
    let ln_density = |ln: f64| half * (ln - 2_f64.ln()) - 0.5 * ln.exp() - ln_gamma(half);
    let by_logarithm = nodes((2.0 * half).ln(), sd, ln_density);
    by_logarithm.into_iter().map(|(ln, share)| (ln.exp(), share)).collect()
}

/// Where a chance that rises reaches `level`, by halving.
fn solved(k: usize, level: f64, chance: impl Fn(f64) -> f64) -> f64 {
    assert!(k > 1, "one cannot be chosen from {k}");
    assert!(0.5 < level && level < 1.0, "a level lies between a half and 1, not at {level}");
    let (mut low, mut high) = (0.0, 1.0);
    while chance(high) < level {
        (low, high) = (high, 2.0 * high);
    }
    // Six decimals: 40 halvings of an interval below 64.
    for _ in 0..26 {
        let middle = 0.5 * (low + high);
        if chance(middle) < level {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
