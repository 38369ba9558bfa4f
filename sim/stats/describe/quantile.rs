//! Quantiles of a sample, by the rule that most programs use by default.

/// Position of a quantile among n sorted values: between two neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct QuantilePosition {
    /// Rank of the lower neighbour, counted from 0.
    pub below: u64,
    /// Rank of the upper neighbour; at most that of the last value.
    pub above: u64,
    /// Fraction of the way from the lower neighbour to the upper one, 0 to 1.
    pub fraction: f64,
}

impl QuantilePosition {
    /// The quantile, interpolated between the values of the two neighbours.
    pub fn interpolate(&self, below: f64, above: f64) -> f64 {
        below + self.fraction * (above - below)
    }
}

/// Position of the quantile `p` among `n` sorted values: type 7 of Hyndman & Fan 1996, h = (n − 1) p.
///
/// # Panics
///
/// If there are no values or `p` is not within 0 to 1.
pub fn quantile_position(n: u64, p: f64) -> QuantilePosition {
    assert!(n > 0, "a quantile needs at least one value");
    assert!((0.0..=1.0).contains(&p), "a probability lies within 0 to 1; {p} does not");
    let h = (n - 1) as f64 * p;
    let below = (h.floor() as u64).min(n - 1);
    QuantilePosition { below, above: (below + 1).min(n - 1), fraction: h - below as f64 }
}

/// Quantile `p` of sorted values. `None` without values.
///
/// ```
/// use sim::stats::quantile;
/// assert_eq!(quantile(&[1_u32, 2, 3, 4], 0.5), Some(2.5));
/// ```
///
/// # Panics
///
/// If `p` is not within 0 to 1.
pub fn quantile<T: Copy + Into<f64>>(sorted: &[T], p: f64) -> Option<f64> {
    (!sorted.is_empty()).then(|| {
        let position = quantile_position(sorted.len() as u64, p);
        let value = |rank: u64| sorted[rank as usize].into();
        position.interpolate(value(position.below), value(position.above))
    })
}

/// Quantile `p` of small whole numbers, from a histogram: `counts[k]` is how often k occurred. `None` if it is empty.
///
/// # Panics
///
/// If `p` is not within 0 to 1.
pub fn histogram_quantile(counts: &[u64], p: f64) -> Option<f64> {
    let n = counts.iter().sum();
    (n > 0).then(|| {
        let position = quantile_position(n, p);
        let value = |rank: u64| {
            let mut passed = 0;
            let value = counts.iter().position(|&count| {
                passed += count;
                passed > rank
            });
            value.expect("a rank is below the number of values") as f64
        };
        position.interpolate(value(position.below), value(position.above))
    })
}
