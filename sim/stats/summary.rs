//! Means and variances: exact for whole numbers, mergeable for others.

/// Number, sum and sum of squares of whole numbers, kept exactly.
///
/// Exact sums can be added and merged in any order with the same result to the last bit, and the
/// variance suffers no cancellation:
///
/// s² = (n Σx² − (Σx)²) / (n (n − 1))
///
/// - **Holds for** n up to 10⁹ values of size up to 10⁹; beyond that the products overflow.
/// - **Checked by** V-48, NIST StRD `NumAcc1` to `NumAcc4`.
///
/// ```
/// use sim::stats::Moments;
/// let mut weights_g = Moments::default();
/// for weight_g in [12_300, 8_700, 15_000] {
///     weights_g.add(weight_g);
/// }
/// assert_eq!(weights_g.sum(), 36_000);
/// assert_eq!(weights_g.mean(), Some(12_000.0));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Moments {
    n: u64,
    sum: i128,
    sum_of_squares: i128,
}

impl Moments {
    /// What was kept of `n` values: their sum and the sum of their squares.
    #[must_use]
    pub fn kept(n: u64, sum: i128, sum_of_squares: i128) -> Self {
        Self { n, sum, sum_of_squares }
    }

    /// Takes in one value.
    #[inline]
    pub fn add(&mut self, value: i64) {
        let value = i128::from(value);
        self.n += 1;
        self.sum += value;
        self.sum_of_squares += value * value;
    }

    /// Takes in all that another has seen.
    pub fn merge(&mut self, other: &Self) {
        self.n += other.n;
        self.sum += other.sum;
        self.sum_of_squares += other.sum_of_squares;
    }

    /// How many values were taken in.
    #[must_use]
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Their sum.
    #[must_use]
    pub fn sum(&self) -> i128 {
        self.sum
    }

    /// The sum of their squares.
    #[must_use]
    pub fn sum_of_squares(&self) -> i128 {
        self.sum_of_squares
    }

    /// Their mean; none of no values.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then(|| self.sum as f64 / self.n as f64)
    }

    /// n Σx² − (Σx)²: n² times the variance about the mean with divisor n.
    pub(super) fn scatter(&self) -> i128 {
        i128::from(self.n) * self.sum_of_squares - self.sum * self.sum
    }

    /// Variance with divisor n − 1; none of fewer than two values.
    #[must_use]
    pub fn variance(&self) -> Option<f64> {
        let pairs = i128::from(self.n) * (i128::from(self.n) - 1);
        (self.n > 1).then(|| self.scatter() as f64 / pairs as f64)
    }

    /// Standard error of the mean; none of fewer than two values.
    #[must_use]
    pub fn se(&self) -> Option<f64> {
        self.variance().map(|variance| (variance / self.n as f64).sqrt())
    }
}

/// Number, mean and sum of squared deviations of any numbers.
///
/// Single values by Welford's recurrence, merging by Chan, Golub & LeVeque's; unlike [`Moments`] the
/// last bits depend on the order, so merge in a fixed one.
///
/// - **Checked by** V-48, NIST StRD `NumAcc1` to `NumAcc4`, whole and in merged parts.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Summary {
    n: u64,
    mean: f64,
    squared_deviations: f64,
}

impl Summary {
    /// Takes in one value.
    #[inline]
    pub fn add(&mut self, value: f64) {
        self.n += 1;
        let before = value - self.mean;
        self.mean += before / self.n as f64;
        self.squared_deviations += before * (value - self.mean);
    }

    /// Takes in all that another has seen.
    pub fn merge(&mut self, other: &Self) {
        if other.n == 0 {
            return;
        }
        let n = self.n + other.n;
        let apart = other.mean - self.mean;
        let share = other.n as f64 / n as f64;
        self.squared_deviations += other.squared_deviations + apart * apart * self.n as f64 * share;
        self.mean += apart * share;
        self.n = n;
    }

    /// How many values were taken in.
    #[must_use]
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Their mean; none of no values.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then_some(self.mean)
    }

    /// Variance with divisor n − 1; none of fewer than two values.
    #[must_use]
    pub fn variance(&self) -> Option<f64> {
        (self.n > 1).then(|| self.squared_deviations / (self.n - 1) as f64)
    }

    /// Standard error of the mean; none of fewer than two values.
    #[must_use]
    pub fn se(&self) -> Option<f64> {
        self.variance().map(|variance| (variance / self.n as f64).sqrt())
    }
}
