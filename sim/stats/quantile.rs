//! Quantiles of a sample, by the rule that most programs default to.

/// Where a quantile lies among n sorted values: between two neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// The neighbour below, counted from 0.
    pub below: u64,
    /// The neighbour above; the same where the quantile falls on a value.
    pub above: u64,
    /// How far from one to the other, 0 to 1.
    pub share: f64,
}

impl Place {
    /// The quantile, from the values of the two neighbours.
    #[must_use]
    pub fn between(&self, below: f64, above: f64) -> f64 {
        below + self.share * (above - below)
    }
}

/// Where the quantile `p` of `n` values lies: type 7 of Hyndman & Fan 1996, h = (n − 1) p.
///
/// # Panics
///
/// If there are no values or `p` is not within 0 to 1.
#[must_use]
pub fn place(n: u64, p: f64) -> Place {
    assert!(n > 0, "a quantile needs at least one value");
    assert!((0.0..=1.0).contains(&p), "a probability lies within 0 to 1, not at {p}");
    let h = (n - 1) as f64 * p;
    let below = (h.floor() as u64).min(n - 1);
    Place { below, above: (below + 1).min(n - 1), share: h - below as f64 }
}

/// The quantile `p` of sorted values; none of no values.
///
/// ```
/// use sim::stats::quantile;
/// assert_eq!(quantile(&[1_u32, 2, 3, 4], 0.5), Some(2.5));
/// ```
///
/// # Panics
///
/// If `p` is not within 0 to 1.
#[must_use]
pub fn quantile<T: Copy + Into<f64>>(sorted: &[T], p: f64) -> Option<f64> {
    (!sorted.is_empty()).then(|| {
        let place = place(sorted.len() as u64, p);
        let of = |rank: u64| sorted[rank as usize].into();
        place.between(of(place.below), of(place.above))
    })
}

/// The quantile `p` of small whole numbers, where `counts[k]` says how often k occurred; none of none.
///
/// # Panics
///
/// If `p` is not within 0 to 1.
#[must_use]
pub fn quantile_of_counts(counts: &[u64], p: f64) -> Option<f64> {
    let n = counts.iter().sum();
    (n > 0).then(|| {
        let place = place(n, p);
        let of = |rank: u64| {
            let mut seen = 0;
            let at = counts.iter().position(|&count| {
                seen += count;
                seen > rank
            });
            at.expect("a rank below the number of values is met") as f64
        };
        place.between(of(place.below), of(place.above))
    })
}
