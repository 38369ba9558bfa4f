//! Constants of selection procedures, computed from the integrals that define them.

use crate::numerics::{exp, ln, ln_gamma, normal_cumulative, powi};

/// Number of integration nodes on each side of zero.
const NODES_PER_SIDE: i32 = 60;
/// Range of integration on each side of zero, in standard deviations.
const RANGE_SD: f64 = 9.0;

/// A value and its weight; the weights of a rule add up to one.
type Node = (f64, f64);

/// Dunnett's one-sided quantile for the best of `k`. With probability `level`, none of the k − 1 others appears ahead
/// of the best by more than this many standard errors of a difference.
///
/// The quantile d solves P(t_j ≤ d, j = 1 … k−1) = `level`, for t with `df` degrees of freedom, a common variance and correlation ½; that probability is
///
/// E_s ∫ Φ(x + √2 d s)^(k−1) φ(x) dx,  s² = χ²_df / df
///
/// - **Source** Dunnett 1955 (Journal of the American Statistical Association 50:1096); as used with common random
///   numbers by Nelson & Matejcik 1995 (Management Science 41:1935). For infinite df, √2 d is the constant of
///   Bechhofer 1954.
/// - **Checked by** V-89.
///
/// # Panics
///
/// If `k` is below two, or `level` is not between ½ and 1.
pub fn dunnett_quantile(k: usize, df: u64, level: f64) -> f64 {
    let (normal, chi_square) = (normal_nodes(), chi_square_nodes(df));
    let probability = |d: f64| {
        expectation(&chi_square, |chi_square| {
            let margin = std::f64::consts::SQRT_2 * d * (chi_square / df as f64).sqrt();
            expectation(&normal, |x| powi(normal_cumulative(x + margin), k as i32 - 1))
        })
    };
    root(k, level, probability)
}

/// Rinott's constant h. Each of `k` candidates is simulated N = ⌈(h s/δ)²⌉ times. If the best leads by δ or more, it
/// has the highest mean with probability `level`.
///
/// E_Y (E_X Φ(h / √(df (1/X + 1/Y))))^(k−1) = level,  X, Y ~ χ²_df, and s² has `df` degrees of freedom
///
/// - **Holds for** independent samples, such as plans fished on different days.
/// - **Source** Rinott 1978 (Communications in Statistics A7:799).
/// - **Checked by** V-90.
///
/// # Panics
///
/// Like [`dunnett_quantile`].
pub fn rinott_constant(k: usize, df: u64, level: f64) -> f64 {
    let nodes = chi_square_nodes(df);
    let probability = |h: f64| {
        expectation(&nodes, |y| {
            let scale = |x: f64| (df as f64 * (1.0 / x + 1.0 / y)).sqrt();
            powi(expectation(&nodes, |x| normal_cumulative(h / scale(x))), k as i32 - 1)
        })
    };
    root(k, level, probability)
}

/// Expectation of a function by a rule's nodes.
fn expectation(nodes: &[Node], function: impl Fn(f64) -> f64) -> f64 {
    nodes.iter().map(|&(value, weight)| weight * function(value)).sum()
}

/// Nodes of the trapezoidal rule for a density given by its logarithm. The rule is nearly exact if the density vanishes
/// at both ends.
fn nodes(middle: f64, sd: f64, ln_density: impl Fn(f64) -> f64) -> Vec<Node> {
    let value = |i: i32| middle + RANGE_SD * sd * f64::from(i) / f64::from(NODES_PER_SIDE);
    let densities: Vec<Node> =
        (-NODES_PER_SIDE..=NODES_PER_SIDE).map(|i| (value(i), exp(ln_density(value(i))))).collect();
    let total: f64 = densities.iter().map(|&(_, density)| density).sum();
    densities.into_iter().map(|(value, density)| (value, density / total)).collect()
}

/// Nodes for the standard normal distribution.
fn normal_nodes() -> Vec<Node> {
    nodes(0.0, 1.0, |x| -0.5 * x * x)
}

/// Nodes for χ² with `df` degrees of freedom, placed by its logarithm, which is close to normal.
fn chi_square_nodes(df: u64) -> Vec<Node> {
    let half = 0.5 * df as f64;
    // The left tail of ln χ² falls only like exp(half · ln x).
    let sd = (1.0 / half).sqrt().max(4.0 / half);
    let ln_density = |y: f64| half * (y - ln(2.0)) - 0.5 * exp(y) - ln_gamma(half);
    let by_logarithm = nodes(ln(2.0 * half), sd, ln_density);
    by_logarithm.into_iter().map(|(y, weight)| (exp(y), weight)).collect()
}

/// Argument at which a rising probability reaches `level`, by bisection.
fn root(k: usize, level: f64, probability: impl Fn(f64) -> f64) -> f64 {
    assert!(k > 1, "a choice needs two candidates or more, not {k}");
    assert!(0.5 < level && level < 1.0, "the level lies between 0.5 and 1; {level} does not");
    let (mut low, mut high) = (0.0, 1.0);
    while probability(high) < level {
        (low, high) = (high, 2.0 * high);
    }
    // Six decimals: 26 halvings of an interval of at most 64.
    for _ in 0..26 {
        let middle = 0.5 * (low + high);
        if probability(middle) < level {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
