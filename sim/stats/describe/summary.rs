//! Mean and variance of a sample: exact for whole numbers, mergeable for all.

/// Count, sum and sum of squares of whole numbers, all exact.
///
/// Values can be added and merged in any order; the result is the same to the last bit. The variance loses no
/// digits to cancellation:
///
/// s² = (n Σx² − (Σx)²) / (n (n − 1))
///
/// - **Holds for** up to 10⁹ values of up to 10⁹ each; beyond that the products overflow.
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
    /// From `n` values that were summed up before: their sum and the sum of their squares.
    pub fn from_sums(n: u64, sum: i128, sum_of_squares: i128) -> Self {
        Self { n, sum, sum_of_squares }
    }

    /// Adds one value.
    #[inline]
    pub fn add(&mut self, value: i64) {
        let value = i128::from(value);
        self.n += 1;
        self.sum += value;
        self.sum_of_squares += value * value;
    }

    /// Adds all values of another sample.
    pub fn merge(&mut self, other: &Self) {
        self.n += other.n;
        self.sum += other.sum;
        self.sum_of_squares += other.sum_of_squares;
    }

    /// Number of values.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Sum of the values.
    pub fn sum(&self) -> i128 {
        self.sum
    }

    /// Sum of the squares of the values.
    pub fn sum_of_squares(&self) -> i128 {
        self.sum_of_squares
    }

    /// Mean. `None` without values.
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then(|| self.sum as f64 / self.n as f64)
    }

    /// n Σx² − (Σx)²: n² times the variance with divisor n.
    pub(in crate::stats) fn scatter(&self) -> i128 {
        i128::from(self.n) * self.sum_of_squares - self.sum * self.sum
    }

    /// Variance with divisor n − 1. `None` for fewer than two values.
    pub fn variance(&self) -> Option<f64> {
        let pairs = i128::from(self.n) * (i128::from(self.n) - 1);
        (self.n > 1).then(|| self.scatter() as f64 / pairs as f64)
    }

    /// Standard error of the mean. `None` for fewer than two values.
    pub fn se(&self) -> Option<f64> {
        self.variance().map(|variance| (variance / self.n as f64).sqrt())
    }
}

/// Count, mean and sum of squared deviations of any numbers.
///
/// Adds values by Welford's recurrence and merges by that of Chan, Golub & LeVeque. Unlike [`Moments`], the last
/// bits depend on the order: merge in a fixed one.
///
/// - **Checked by** V-48, NIST StRD `NumAcc1` to `NumAcc4`, whole and in merged parts.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Summary {
    n: u64,
    mean: f64,
    squared_deviations: f64,
}

impl Summary {
    /// Adds one value.
    #[inline]
    pub fn add(&mut self, value: f64) {
        self.n += 1;
        let deviation = value - self.mean;
        self.mean += deviation / self.n as f64;
        self.squared_deviations += deviation * (value - self.mean);
    }

    /// Adds all values of another sample.
    pub fn merge(&mut self, other: &Self) {
        if other.n == 0 {
            return;
        }
        let n = self.n + other.n;
        let gap = other.mean - self.mean;
        let share = other.n as f64 / n as f64;
        self.squared_deviations += other.squared_deviations + gap * gap * self.n as f64 * share;
        self.mean += gap * share;
        self.n = n;
    }

    /// Number of values.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Mean. `None` without values.
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then_some(self.mean)
    }

    /// Variance with divisor n − 1. `None` for fewer than two values.
    pub fn variance(&self) -> Option<f64> {
        (self.n > 1).then(|| self.squared_deviations / (self.n - 1) as f64)
    }

    /// Standard error of the mean. `None` for fewer than two values.
    pub fn se(&self) -> Option<f64> {
        self.variance().map(|variance| (variance / self.n as f64).sqrt())
    }
}
