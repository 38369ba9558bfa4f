//! Paired difference in weight between two plans, on given days and with some inputs held fixed.

use rayon::prelude::*;

use super::effort::REPLICATES;
use crate::angler::PlanId;
use crate::scenario::{Scenario, UncertainInput};
use crate::study::runner::Runner;

/// Fishes two plans and takes the difference of their weights. Every method returns `None` if the study was stopped.
pub(super) struct PairedRuns<'a> {
    pub(super) scenario: &'a Scenario,
    /// Indices of the two plans.
    pub(super) pair: [PlanId; 2],
    pub(super) runner: Runner<'a>,
}

impl PairedRuns<'_> {
    /// Difference on one day of a scenario [kg].
    fn day_kg(&self, scenario: &Scenario, number: u32) -> Option<f64> {
        let day = self.runner.draw(scenario, number)?;
        let [a_kg, b_kg] = self.runner.weigh_pair(scenario, self.pair, &day)?;
        Some(a_kg - b_kg)
    }

    /// Difference on each of the first days of a scenario [kg].
    pub(super) fn days_kg(&self, scenario: &Scenario, days: u32) -> Option<Vec<f64>> {
        (1..=days).into_par_iter().map(|number| self.day_kg(scenario, number)).collect()
    }

    /// Difference in each replicate, on the days from `first`, with some inputs held at the quantiles `point` [kg].
    pub(super) fn replicates_kg(
        &self,
        inputs: &[&UncertainInput],
        point: &[f64],
        first: u32,
    ) -> Option<Vec<f64>> {
        let mut scenario = self.scenario.clone();
        for (input, &quantile) in inputs.iter().zip(point) {
            input.fix_at(&mut scenario, input.quantile(quantile));
        }
        (first..first + REPLICATES).map(|number| self.day_kg(&scenario, number)).collect()
    }
}
