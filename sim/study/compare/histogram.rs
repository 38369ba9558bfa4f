//! Histogram of the differences in weight between two plans, in steps of a round size.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::units::kg;

const MAX_STEPS: i64 = 30;

/// Number of days by the difference a − b between two plans, in steps with round limits.
///
/// Zero is one of the limits, so that no step mixes days on which a was ahead with days on which it was behind. A step
/// includes its lower limit: days of equal weight count in the step above zero.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DifferenceHistogram {
    /// Lower limit of the first step [g].
    pub from_g: i64,
    /// Width of each step [g]: 1, 2 or 5 times a power of ten.
    pub step_g: i64,
    /// Number of days in each step.
    pub days: Vec<u32>,
}

impl DifferenceHistogram {
    /// Sorts differences [g] into steps; there are no steps if there are no differences.
    #[must_use]
    pub fn from_grams(differences_g: impl Iterator<Item = i64> + Clone) -> Self {
        let low_g = differences_g.clone().min().unwrap_or(0);
        let high_g = differences_g.clone().max().unwrap_or(0);
        let round = (0..).flat_map(|power| [1, 2, 5].map(|digit| digit * 10_i64.pow(power)));
        let steps = |step_g: i64| high_g.div_euclid(step_g) - low_g.div_euclid(step_g) + 1;
        let step_g = round.into_iter().find(|&step_g| steps(step_g) <= MAX_STEPS).unwrap_or(1);
        let first = low_g.div_euclid(step_g);
        let mut days = Vec::new();
        for difference_g in differences_g {
            let step = (difference_g.div_euclid(step_g) - first) as usize;
            if days.len() <= step {
                days.resize(step + 1, 0);
            }
            days[step] += 1;
        }
        Self { from_g: first * step_g, step_g, days }
    }

    /// The same differences with the opposite sign: b − a. A step then includes its upper limit.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let from_g = -(self.from_g + self.step_g * self.days.len() as i64);
        Self { from_g, step_g: self.step_g, days: self.days.iter().rev().copied().collect() }
    }

    /// Limits [kg] and number of days of each step.
    pub fn steps_kg(&self) -> impl Iterator<Item = ((f64, f64), u32)> {
        self.days.iter().zip(0..).map(|(&days, step)| {
            let from_g = self.from_g + step * self.step_g;
            ((kg(from_g as f64), kg((from_g + self.step_g) as f64)), days)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_is_counted_once_and_no_step_spans_zero() {
        let differences_g = [-2_300, -1, 0, 0, 4_999, 5_000, 61_000];
        let histogram = DifferenceHistogram::from_grams(differences_g.into_iter());
        assert_eq!(histogram.days.iter().sum::<u32>() as usize, differences_g.len());
        assert!(histogram.days.len() <= MAX_STEPS as usize, "{histogram:?}");
        for (ends, days) in histogram.steps_kg() {
            assert!(ends.0 >= 0.0 || ends.1 <= 0.0, "{ends:?} spans zero");
            let within = |g: &&i64| (ends.0..ends.1).contains(&(**g as f64 / 1000.0));
            assert_eq!(differences_g.iter().filter(within).count() as u32, days, "{ends:?}");
        }
        // 63.3 kg in at most thirty steps: steps of 5 kg, since 2 kg would need 32 or more.
        assert_eq!((histogram.from_g, histogram.step_g), (-5_000, 5_000));
    }

    #[test]
    fn plans_that_never_differ_fill_one_step_and_no_days_fill_none() {
        assert_eq!(DifferenceHistogram::from_grams([0; 9].into_iter()).days, [9]);
        assert_eq!(DifferenceHistogram::from_grams(std::iter::empty()).days, [] as [u32; 0]);
    }
}
