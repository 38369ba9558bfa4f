//! Quality of a day, measured by what the scenario's own reference plans catch on it.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::numerics::normal_quantile;
use crate::scenario::{Scenario, Section};
use crate::stats::{normal_score_correlation, placing_probability, probability_above};
use crate::study::progress::Control;
use crate::study::runner::Runner;

/// Maximum number of reference plans.
const MAX_PLANS: usize = 3;
/// Number of reference days, against which a day is ranked.
const REFERENCE_DAYS: u32 = 400;
/// First reference day; no search and no confirmation reaches it.
const FIRST_REFERENCE_DAY: u32 = 3_000_000_001;

/// Probability that a weight wins a section, or takes one of its places, given the quality of the day.
///
/// Rivals catch more on good days. The quality of a day must not depend on which points a search happens to compare.
/// It is therefore measured by the scenario as written: the total weight of its plans (at most three), ranked among
/// their totals on the reference days. Given that quality, rivals are independent, and the probability is computed, not
/// simulated.
pub(super) struct DayQuality {
    scenario: Scenario,
    section: Section,
    /// Number of places that are good enough.
    places: u32,
    seed: u64,
    /// Total weights on the reference days, sorted [g].
    reference_g: Vec<u64>,
    /// Normal scores of the days measured so far.
    scores: BTreeMap<u32, f64>,
}

impl DayQuality {
    /// Measures days for a section in which the first `places` places are good enough.
    pub(super) fn new(scenario: &Scenario, section: &Section, places: u32, seed: u64) -> Self {
        let mut scenario = scenario.clone();
        scenario.plans.truncate(MAX_PLANS);
        let (section, reference_g, scores) = (section.clone(), Vec::new(), BTreeMap::new());
        Self { scenario, section, places, seed, reference_g, scores }
    }

    /// Number of sessions needed to measure `days` days, including the reference days.
    pub(super) fn sessions(scenario: &Scenario, days: u64) -> u64 {
        (u64::from(REFERENCE_DAYS) + days) * Self::plans(scenario)
    }

    /// Number of plans fished on each day.
    pub(super) fn plans(scenario: &Scenario) -> u64 {
        scenario.plans.len().min(MAX_PLANS) as u64
    }

    /// Measures the days that were not measured before; returns the number of sessions fished. `None` if the study was
    /// stopped.
    pub(super) fn measure(&mut self, days: &[u32], control: Control<'_>) -> Option<u64> {
        let mut fished = 0;
        if self.reference_g.is_empty() {
            let days: Vec<u32> =
                (FIRST_REFERENCE_DAY..FIRST_REFERENCE_DAY + REFERENCE_DAYS).collect();
            self.reference_g = self.totals_g(&days, control)?;
            self.reference_g.sort_unstable();
            fished += days.len();
        }
        let new: Vec<u32> =
            days.iter().copied().filter(|day| !self.scores.contains_key(day)).collect();
        let totals_g = self.totals_g(&new, control)?;
        fished += new.len();
        for (&day, total_g) in new.iter().zip(totals_g) {
            self.scores.insert(day, self.score(total_g));
        }
        Some(fished as u64 * Self::plans(&self.scenario))
    }

    /// Total weight of the plans on each day [g].
    fn totals_g(&self, days: &[u32], control: Control<'_>) -> Option<Vec<u64>> {
        let runner = Runner { seed: self.seed, control };
        let plans = self.scenario.plans.len();
        let total_g = |&number: &u32| {
            let day = runner.draw(&self.scenario, number)?;
            let outcomes = runner.fish_plans(&self.scenario, 0..plans, &day)?;
            Some(outcomes.iter().map(|outcome| outcome.weight_g).sum())
        };
        days.par_iter().map(total_g).collect()
    }

    /// Normal score of a total weight among those of the reference days.
    fn score(&self, total_g: u64) -> f64 {
        let below = self.reference_g.partition_point(|&other_g| other_g < total_g);
        let equal = self.reference_g[below..].partition_point(|&other_g| other_g == total_g);
        let rank = below as f64 + 0.5 * equal as f64 + 0.5;
        normal_quantile(rank / (self.reference_g.len() + 1) as f64)
    }

    /// Probability that a weight is good enough on a day that was measured.
    pub(super) fn probability(&self, weight_kg: f64, day: u32) -> f64 {
        let score = self.scores.get(&day).copied().unwrap_or_default();
        let r = normal_score_correlation(self.section.shared);
        let above = probability_above(self.section.weight.score_of(weight_kg), score, r);
        placing_probability(self.section.rivals, self.places, above)
    }
}
