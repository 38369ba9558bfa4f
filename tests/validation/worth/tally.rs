//! Two ways to choose between two plans, counted on the same waters.

/// The results of choosing in two ways, water by water.
#[derive(Default)]
pub(super) struct Tally {
    /// Whether the first and the second way chose the better plan.
    right: Vec<[bool; 2]>,
    /// What each lost by its choice [kg].
    lost_kg: Vec<[f64; 2]>,
}

impl Tally {
    /// Adds a water by its true lead of the first plan, and the leads that the two ways went by [kg].
    pub(super) fn add(&mut self, truth_kg: f64, first_kg: f64, second_kg: f64) {
        let is_right = |lead_kg: f64| (lead_kg > 0.0) == (truth_kg > 0.0);
        let right = [is_right(first_kg), is_right(second_kg)];
        self.right.push(right);
        self.lost_kg.push(right.map(|right| if right { 0.0 } else { truth_kg.abs() }));
    }

    /// By how much larger the share of right choices is by the first way, with its standard error.
    pub(super) fn more_often_right(&self) -> [f64; 2] {
        let one = |right: bool| f64::from(u8::from(right));
        mean_and_error(self.right.iter().map(|[first, second]| one(*first) - one(*second)))
    }

    /// How much less the first way loses on a day, with its standard error [kg].
    pub(super) fn saved_kg(&self) -> [f64; 2] {
        mean_and_error(self.lost_kg.iter().map(|[first, second]| second - first))
    }

    /// Adds the waters of another tally.
    pub(super) fn take(&mut self, other: Self) {
        self.right.extend(other.right);
        self.lost_kg.extend(other.lost_kg);
    }

    /// Right choices of the first and the second way [%].
    pub(super) fn right_percent(&self) -> [f64; 2] {
        let right = |way: usize| self.right.iter().filter(|right| right[way]).count() as f64;
        [0, 1].map(|way| 100.0 * right(way) / self.right.len() as f64)
    }

    /// What the first and the second way lose a day by wrong choices [kg].
    pub(super) fn mean_lost_kg(&self) -> [f64; 2] {
        let lost_kg = |way: usize| self.lost_kg.iter().map(|lost| lost[way]).sum::<f64>();
        [0, 1].map(|way| lost_kg(way) / self.lost_kg.len() as f64)
    }

    /// All figures, with 95 % intervals.
    pub(super) fn sentence(&self) -> String {
        let n = self.right.len() as f64;
        let (right, lost_kg) = (self.right_percent(), self.mean_lost_kg());
        let [more, more_error] = self.more_often_right().map(|share| 100.0 * share);
        let [saved_kg, saved_error_kg] = self.saved_kg();
        format!(
            "right {:.1} against {:.1} % of {n}, {more:+.1} ± {:.1} points; lost {:.3} against {:.3} kg a day, {saved_kg:+.3} ± {:.3} kg saved",
            right[0],
            right[1],
            1.96 * more_error,
            lost_kg[0],
            lost_kg[1],
            1.96 * saved_error_kg
        )
    }

    /// The true leads of some waters and the lead without a log, in words.
    pub(super) fn described(truth_kg: &[f64], unfitted_kg: f64) -> String {
        let [mean_kg, error_kg] = mean_and_error(truth_kg.iter().copied());
        let sd_kg = error_kg * (truth_kg.len() as f64).sqrt();
        let first = truth_kg.iter().filter(|lead_kg| **lead_kg > 0.0).count();
        format!(
            "without a log the first plan leads by {unfitted_kg:+.2} kg; its true lead is {mean_kg:+.2} kg in the mean with a spread of {sd_kg:.2} kg, above zero on {first} of {}",
            truth_kg.len()
        )
    }
}

/// Mean, and its standard error.
pub(super) fn mean_and_error(values: impl Iterator<Item = f64>) -> [f64; 2] {
    let values: Vec<f64> = values.collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    [mean, (squares / n / (n - 1.0)).sqrt()]
}
