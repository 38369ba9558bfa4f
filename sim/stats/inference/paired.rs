//! Paired comparison: two whole numbers per day, compared day by day.

use super::interval::{Interval, mean_interval};
use crate::stats::describe::Moments;

/// Exact sums over pairs (a, b) of whole numbers: everything that a paired comparison needs.
///
/// ```
/// use sim::stats::Paired;
/// let mut weights_g = Paired::default();
/// for (two_minutes_g, ten_minutes_g) in [(9_000, 7_500), (4_000, 4_000), (6_500, 8_000)] {
///     weights_g.add(two_minutes_g, ten_minutes_g);
/// }
/// assert_eq!(weights_g.differences().mean(), Some(0.0));
/// assert_eq!((weights_g.a_larger(), weights_g.ties()), (1, 1));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Paired {
    a: Moments,
    b: Moments,
    differences: Moments,
    sum_of_products: i128,
    a_larger: u64,
    ties: u64,
}

impl Paired {
    /// Adds one day's pair.
    #[inline]
    pub fn add(&mut self, a: i64, b: i64) {
        self.a.add(a);
        self.b.add(b);
        self.differences.add(a - b);
        self.sum_of_products += i128::from(a) * i128::from(b);
        self.a_larger += u64::from(a > b);
        self.ties += u64::from(a == b);
    }

    /// Adds all pairs of another sample.
    pub fn merge(&mut self, other: &Self) {
        self.a.merge(&other.a);
        self.b.merge(&other.b);
        self.differences.merge(&other.differences);
        self.sum_of_products += other.sum_of_products;
        self.a_larger += other.a_larger;
        self.ties += other.ties;
    }

    /// Moments of the differences a − b.
    pub fn differences(&self) -> &Moments {
        &self.differences
    }

    /// Interval for the mean difference by the paired t method. `None` for fewer than two pairs.
    ///
    /// - **Checked by** V-47 (Student's sleep data).
    pub fn interval(&self, level: f64) -> Option<Interval> {
        mean_interval(self.differences.mean()?, self.differences.se()?, self.differences.n(), level)
    }

    /// Factor by which pairing reduces the days needed: (s²(a) + s²(b)) / s²(a − b). `None` if the difference
    /// never varies.
    ///
    /// Unpaired, it takes this many times as many days to estimate the mean difference equally well.
    ///
    /// - **Checked by** V-63 (the demo).
    pub fn days_saved_factor(&self) -> Option<f64> {
        let unpaired = self.a.scatter() + self.b.scatter();
        let paired = self.differences.scatter();
        (paired > 0).then(|| unpaired as f64 / paired as f64)
    }

    /// Number of days on which a was larger.
    pub fn a_larger(&self) -> u64 {
        self.a_larger
    }

    /// Number of days on which both were equal.
    pub fn ties(&self) -> u64 {
        self.ties
    }

    /// Pearson's correlation. `None` if a or b never varies.
    ///
    /// r = (n Σab − Σa Σb) / √((n Σa² − (Σa)²) (n Σb² − (Σb)²)), with the differences in whole numbers.
    pub fn correlation(&self) -> Option<f64> {
        let (scatter_a, scatter_b) = (self.a.scatter(), self.b.scatter());
        let covariation =
            i128::from(self.a.n()) * self.sum_of_products - self.a.sum() * self.b.sum();
        (scatter_a > 0 && scatter_b > 0).then(|| {
            let r = covariation as f64 / (scatter_a as f64 * scatter_b as f64).sqrt();
            r.clamp(-1.0, 1.0)
        })
    }
}
