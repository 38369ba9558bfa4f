//! How a day fishes for everybody, by what plans that never change weigh in on it.

use std::collections::BTreeMap;

use rayon::prelude::*;
use statrs::distribution::{ContinuousCDF, Normal};

use super::progress::Control;
use crate::scenario::{Scenario, Section};
use crate::session::{Day, fish_session};
use crate::stats::{chance_above, chance_to_place, score_correlation};

/// Plans that make up the yardstick, at most.
const MOST_PLANS: usize = 3;
/// Days against which a day is ranked.
const REFERENCE_DAYS: u32 = 400;
/// The first of them: neither a search nor its confirmation gets so far.
const FIRST_DAY: u32 = 3_000_000_001;

/// What a weight is worth in a section, on a given day.
///
/// Rivals' weights go up and down with how a day fishes. That must not depend on which points a search happens to
/// compare, so it is told by the scenario as written: what its plans, three at most, weigh in together, ranked among
/// what they weigh in on other days. Given that, rivals are independent, and the chance is worked out, not drawn.
pub(super) struct Yardstick {
    scenario: Scenario,
    section: Section,
    /// Places that are good enough.
    places: u32,
    seed: u64,
    /// What the plans weigh in on the days of reference, in order [g].
    reference_g: Vec<u64>,
    /// Scores of days met so far.
    known: BTreeMap<u32, f64>,
}

impl Yardstick {
    /// For a section and the places in it that are good enough.
    pub(super) fn new(scenario: &Scenario, section: &Section, places: u32, seed: u64) -> Self {
        let mut scenario = scenario.clone();
        scenario.plans.truncate(MOST_PLANS);
        let (section, reference_g, known) = (section.clone(), Vec::new(), BTreeMap::new());
        Self { scenario, section, places, seed, reference_g, known }
    }

    /// Sessions that a number of days takes, those of reference among them.
    pub(super) fn sessions(scenario: &Scenario, days: u64) -> u64 {
        (u64::from(REFERENCE_DAYS) + days) * Self::plans(scenario)
    }

    /// Plans fished on each day.
    pub(super) fn plans(scenario: &Scenario) -> u64 {
        scenario.plans.len().min(MOST_PLANS) as u64
    }

    /// Fishes the days that were not met before; the sessions that took, or none if it was stopped.
    pub(super) fn meet(&mut self, days: &[u32], control: Control<'_>) -> Option<u64> {
        let mut fished = 0;
        if self.reference_g.is_empty() {
            let days: Vec<u32> = (FIRST_DAY..FIRST_DAY + REFERENCE_DAYS).collect();
            self.reference_g = self.weigh_in(&days, control)?;
            self.reference_g.sort_unstable();
            fished += days.len();
        }
        let new: Vec<u32> =
            days.iter().copied().filter(|day| !self.known.contains_key(day)).collect();
        let weights_g = self.weigh_in(&new, control)?;
        fished += new.len();
        for (&day, weight_g) in new.iter().zip(weights_g) {
            self.known.insert(day, self.score(weight_g));
        }
        Some(fished as u64 * Self::plans(&self.scenario))
    }

    /// What the plans weigh in together on each day [g].
    fn weigh_in(&self, days: &[u32], control: Control<'_>) -> Option<Vec<u64>> {
        let weigh_in = |&number: &u32| {
            let day = Day::draw(&self.scenario, self.seed, number);
            let of = |plan| {
                let outcome =
                    (!control.is_stopped()).then(|| fish_session(&self.scenario, plan, &day))?;
                control.progress.session_is_done();
                Some(outcome.weight_g)
            };
            self.scenario.plans.iter().map(of).sum()
        };
        days.par_iter().map(weigh_in).collect()
    }

    /// The normal score of a weight among those of the days of reference.
    fn score(&self, weight_g: u64) -> f64 {
        let below = self.reference_g.partition_point(|&other| other < weight_g);
        let level = self.reference_g[below..].partition_point(|&other| other == weight_g);
        let rank = below as f64 + 0.5 * level as f64 + 0.5;
        Normal::standard().inverse_cdf(rank / (self.reference_g.len() + 1) as f64)
    }

    /// The chance that a weight is good enough on a day that was met.
    pub(super) fn chance(&self, weight_kg: f64, day: u32) -> f64 {
        let day = self.known.get(&day).copied().unwrap_or_default();
        let r = score_correlation(self.section.shared);
        let above = chance_above(self.section.weight.score_of(weight_kg), day, r);
        chance_to_place(self.section.rivals, self.places, above)
    }
}
