//! The section: the rivals and what they weigh in.

use crate::numerics::{normal_cumulative, normal_quantile};
use crate::params::DailyDistribution;
use crate::stats::quantile;

/// The weight that one rival weighs in on a day.
#[derive(Clone, Debug, PartialEq)]
pub enum RivalWeight {
    /// Drawn from a distribution [kg].
    Distribution(DailyDistribution),
    /// Drawn from past weigh-ins in ascending order [kg], interpolated between neighbours: never above the largest
    /// or below the smallest of them.
    PastWeighIns(Vec<f64>),
}

impl RivalWeight {
    /// The weight at a standard normal score [kg].
    #[must_use]
    pub fn kg_at_score(&self, score: f64) -> f64 {
        match self {
            Self::Distribution(spread) => spread.value_at_score(score),
            Self::PastWeighIns(sorted_kg) => {
                quantile(sorted_kg, normal_cumulative(score)).unwrap_or(0.0)
            }
        }
    }

    /// The standard normal score of a weight: negative if most rivals weigh in more; infinite outside their range.
    #[must_use]
    pub fn score_of(&self, kg: f64) -> f64 {
        match self {
            Self::Distribution(spread) => spread.score_of(kg),
            Self::PastWeighIns(sorted_kg) => normal_quantile(share_below(sorted_kg, kg)),
        }
    }
}

/// The share of a sample below a value, interpolated between neighbours; values equal to it count half.
fn share_below(sorted: &[f64], value: f64) -> f64 {
    let below = sorted.partition_point(|&other| other < value);
    let up_to = sorted.partition_point(|&other| other <= value);
    let gaps = (sorted.len() - 1) as f64;
    if up_to > below {
        return 0.5 * (below + up_to - 1) as f64 / gaps;
    }
    match (below.checked_sub(1).and_then(|index| sorted.get(index)), sorted.get(below)) {
        (Some(under), Some(over)) => ((below - 1) as f64 + (value - under) / (over - under)) / gaps,
        (None, _) => 0.0,
        (_, None) => 1.0,
    }
}

/// The section of a match: the rivals against whom a weight is placed.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Number of rivals.
    pub rivals: u32,
    /// Number of places that frame.
    pub places: u32,
    /// The weight that each rival weighs in.
    pub weight: RivalWeight,
    /// Rank correlation over days between a rival's weight and the quality of the day for us, 0 to 1.
    pub shared: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_and_scores_are_inverse() {
        let past = RivalWeight::PastWeighIns(vec![2.0, 5.0, 5.0, 9.0, 20.0]);
        for kg in [2.5, 4.0, 6.0, 9.0, 15.0] {
            let back = past.kg_at_score(past.score_of(kg));
            assert!((back - kg).abs() < 1e-9, "{kg} kg came back as {back}");
        }
        assert!(past.score_of(1.0) < -1e6 && past.score_of(21.0) > 1e6, "outside all weigh-ins");
        // One below, and half of the two that are equal: rank 1.5 of 4 gaps.
        let level = normal_cumulative(past.score_of(5.0));
        assert!((level - 0.375).abs() < 1e-12, "{level}");
    }
}
