//! Places in a section during a search: a day is ranked among reference days that no search and no plan changes.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::numerics::normal_quantile;
use crate::scenario::{Scenario, Section};
use crate::session::Day;
use crate::stats::{normal_score_correlation, placing_probability, probability_above};

/// Number of reference days, against which a day is ranked.
const REFERENCE_DAYS: u32 = 400;
/// First reference day; no search and no confirmation reaches it.
const FIRST_REFERENCE_DAY: u32 = 3_000_000_001;

/// Probability that a weight wins a section, or takes one of its places, given the quality of the day.
///
/// Rivals catch more on good days. The quality of a day is [`Day::keen_kg`] of the scenario as written, so that it depends
/// on no plan. Given that quality, rivals are independent, and the probability is computed, not simulated.
pub(super) struct DayQuality {
    scenario: Scenario,
    section: Section,
    /// Number of places that are good enough.
    places: u32,
    seed: u64,
    /// Qualities of the reference days, sorted [kg].
    reference_kg: Vec<f64>,
    /// Normal scores of the days measured so far.
    scores: BTreeMap<u32, f64>,
}

impl DayQuality {
    /// Measures days for a section in which the first `places` places are good enough.
    pub(super) fn new(scenario: &Scenario, section: &Section, places: u32, seed: u64) -> Self {
        let mut reference_kg: Vec<f64> = (FIRST_REFERENCE_DAY
            ..FIRST_REFERENCE_DAY + REFERENCE_DAYS)
            .into_par_iter()
            .map(|number| Day::draw(scenario, seed, number).keen_kg(scenario.session_s))
            .collect();
        reference_kg.sort_unstable_by(f64::total_cmp);
        let (scenario, section) = (scenario.clone(), section.clone());
        Self { scenario, section, places, seed, reference_kg, scores: BTreeMap::new() }
    }

    /// Measures the days that were not measured before.
    pub(super) fn measure(&mut self, days: &[u32]) {
        let new = days.par_iter().filter(|day| !self.scores.contains_key(day));
        let scores: Vec<(u32, f64)> = new
            .map(|&number| {
                let day = Day::draw(&self.scenario, self.seed, number);
                (number, self.score(day.keen_kg(self.scenario.session_s)))
            })
            .collect();
        self.scores.extend(scores);
    }

    /// Normal score of a quality among those of the reference days.
    fn score(&self, keen_kg: f64) -> f64 {
        let below = self.reference_kg.partition_point(|&other_kg| other_kg < keen_kg);
        let equal = self.reference_kg[below..].partition_point(|&other_kg| other_kg <= keen_kg);
        let rank = below as f64 + 0.5 * equal as f64 + 0.5;
        normal_quantile(rank / (self.reference_kg.len() + 1) as f64)
    }

    /// Probability that a weight is good enough on a day that was measured.
    pub(super) fn probability(&self, weight_kg: f64, day: u32) -> f64 {
        let score = self.scores.get(&day).copied().unwrap_or_default();
        let r = normal_score_correlation(self.section.shared);
        let above = probability_above(self.section.weight.score_of(weight_kg), score, r);
        placing_probability(self.section.rivals, self.places, above)
    }
}
