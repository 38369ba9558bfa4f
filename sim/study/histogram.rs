//! How often each difference in weight came, in steps of a round size.

use serde::Serialize;

use super::weights::kg;

/// Most steps.
const MOST: i64 = 30;

/// Days by the difference a − b between two plans, in steps that begin and end at round weights, one of them
/// at nought: no step holds days on which a was ahead and days on which it was behind.
///
/// A step holds its lower end: days on which both weighed the same stand in the step above nought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Histogram {
    /// Where the first step begins [g].
    pub from_g: i64,
    /// Width of each step [g]: 1, 2 or 5 times a power of ten.
    pub step_g: i64,
    /// Days in each step.
    pub days: Vec<u32>,
}

impl Histogram {
    /// Sorts differences [g] into steps; none of nothing.
    #[must_use]
    pub fn of_grams(differences_g: impl Iterator<Item = i64> + Clone) -> Self {
        let low_g = differences_g.clone().min().unwrap_or(0);
        let high_g = differences_g.clone().max().unwrap_or(0);
        let round = (0..).flat_map(|power| [1, 2, 5].map(|digit| digit * 10_i64.pow(power)));
        let steps = |step_g: i64| high_g.div_euclid(step_g) - low_g.div_euclid(step_g) + 1;
        let step_g = round.into_iter().find(|&step_g| steps(step_g) <= MOST).unwrap_or(1);
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

    /// Each step's ends [kg] and days.
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
    fn every_day_is_counted_once_and_no_step_spans_nought() {
        let differences_g = [-2_300, -1, 0, 0, 4_999, 5_000, 61_000];
        let found = Histogram::of_grams(differences_g.into_iter());
        assert_eq!(found.days.iter().sum::<u32>() as usize, differences_g.len());
        assert!(found.days.len() <= MOST as usize, "{found:?}");
        for (ends, days) in found.steps_kg() {
            assert!(ends.0 >= 0.0 || ends.1 <= 0.0, "{ends:?} spans nought");
            let within = |g: &&i64| (ends.0..ends.1).contains(&(**g as f64 / 1000.0));
            assert_eq!(differences_g.iter().filter(within).count() as u32, days, "{ends:?}");
        }
        // 63.3 kg in at most thirty steps: of 5 kg, since 2 kg would make 32 or more.
        assert_eq!((found.from_g, found.step_g), (-5_000, 5_000));
    }

    #[test]
    fn plans_that_never_differ_fill_one_step_and_no_days_fill_none() {
        assert_eq!(Histogram::of_grams([0; 9].into_iter()).days, [9]);
        assert_eq!(Histogram::of_grams(std::iter::empty()).days, [] as [u32; 0]);
    }
}
