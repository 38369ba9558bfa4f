//! The section: rivals, and what they weigh in.

use statrs::distribution::{ContinuousCDF, Normal};

use crate::params::Spread;
use crate::stats::quantile;

/// What one rival weighs in on a day.
#[derive(Clone, Debug, PartialEq)]
pub enum RivalWeight {
    /// By a law [kg].
    Law(Spread),
    /// As past weigh-ins were [kg], in order of size and evenly between neighbours: never more than the greatest
    /// of them or less than the least.
    Past(Vec<f64>),
}

impl RivalWeight {
    /// The weight with a standard normal score [kg].
    #[must_use]
    pub fn kg_at(&self, score: f64) -> f64 {
        match self {
            Self::Law(law) => law.at_score(score),
            Self::Past(sorted_kg) => {
                quantile(sorted_kg, Normal::standard().cdf(score)).unwrap_or(0.0)
            }
        }
    }

    /// The score of a weight: below nought for one that most rivals beat; infinite beyond all of them.
    #[must_use]
    pub fn score_of(&self, kg: f64) -> f64 {
        match self {
            Self::Law(law) => law.score_of(kg),
            Self::Past(sorted_kg) => Normal::standard().inverse_cdf(share_below(sorted_kg, kg)),
        }
    }
}

/// The share of a sample below a value, evenly between neighbours; half of those equal to it count.
fn share_below(sorted: &[f64], value: f64) -> f64 {
    let below = sorted.partition_point(|&other| other < value);
    let up_to = sorted.partition_point(|&other| other <= value);
    let gaps = (sorted.len() - 1) as f64;
    if up_to > below {
        return 0.5 * (below + up_to - 1) as f64 / gaps;
    }
    match (below.checked_sub(1).and_then(|at| sorted.get(at)), sorted.get(below)) {
        (Some(under), Some(over)) => ((below - 1) as f64 + (value - under) / (over - under)) / gaps,
        (None, _) => 0.0,
        (_, None) => 1.0,
    }
}

/// The section.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Rivals in it.
    pub rivals: u32,
    /// Places that frame.
    pub places: u32,
    /// What each rival weighs in.
    pub weight: RivalWeight,
    /// Rank correlation from day to day between a rival's weight and how the day fishes for us, 0 to 1.
    pub shared: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_and_scores_undo_each_other() {
        let past = RivalWeight::Past(vec![2.0, 5.0, 5.0, 9.0, 20.0]);
        for kg in [2.5, 4.0, 6.0, 9.0, 15.0] {
            let back = past.kg_at(past.score_of(kg));
            assert!((back - kg).abs() < 1e-9, "{kg} kg came back as {back}");
        }
        assert!(past.score_of(1.0) < -1e6 && past.score_of(21.0) > 1e6, "beyond all figures");
        // The three below, and half of the two that are level: rank 1.5 of gaps 4.
        let level = Normal::standard().cdf(past.score_of(5.0));
        assert!((level - 0.375).abs() < 1e-12, "{level}");
    }
}
