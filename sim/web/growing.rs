//! A comparison whose results are shown after every few days.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::report::{ComparisonDocument, early_sentence, reasons, verdict};
use crate::scenario::{Scenario, Units};
use crate::study::{DayOutcomes, Scoreboard, comparison};

/// Days before the first results are sent.
const FIRST_DAYS: u32 = 4;
/// Maximum number of size classes; the last one holds all larger fish.
const MAX_CLASSES: usize = 40;
/// Width of a size class in imperial units: one pound [kg].
const POUND_KG: f64 = 0.453_592_37;
/// Width of a size class in metric units [kg].
const HALF_KG: f64 = 0.5;

/// A comparison to fish.
pub(super) struct ComparisonRequest {
    /// Name that the page gave it; every event carries it.
    pub(super) run: String,
    pub(super) scenario: Scenario,
    pub(super) seed: u64,
    pub(super) days: u32,
    pub(super) units: Units,
}

/// A comparison in progress: the days added so far.
pub(super) struct GrowingComparison {
    request: Arc<ComparisonRequest>,
    board: Scoreboard,
    size_classes: SizeClasses,
    /// Weight of each day [g], by plan; with them the page compares two settings of one plan on the same days.
    weights_g: Vec<Vec<u64>>,
}

impl GrowingComparison {
    /// A comparison without any day yet.
    pub(super) fn new(request: Arc<ComparisonRequest>) -> Self {
        let size_classes = SizeClasses::new(request.scenario.plans.len(), request.units);
        let weights_g = vec![Vec::new(); request.scenario.plans.len()];
        Self { board: Scoreboard::new(&request.scenario), size_classes, weights_g, request }
    }

    /// Adds one day; days must come in order.
    pub(super) fn add(&mut self, day: &DayOutcomes) {
        self.board.add(day);
        self.size_classes.add(day);
        for (weights_g, outcome) in self.weights_g.iter_mut().zip(&day.outcomes) {
            weights_g.push(outcome.weight_g);
        }
    }

    /// The day after which results are shown next: after a few days at first, later after a quarter more days.
    pub(super) fn next_report(&self) -> u32 {
        let done = self.board.days();
        (done + (done / 4).max(FIRST_DAYS)).min(self.request.days)
    }

    /// The results so far, for the page.
    pub(super) fn results(&self) -> Value {
        let ComparisonRequest { run, scenario, seed, days, units } = &*self.request;
        let comparison = comparison(scenario, *seed, &self.board);
        json!({
            "run": run,
            "days": comparison.days,
            "of": days,
            "early": early_sentence(&comparison),
            "verdict": verdict(&comparison, *units),
            "reasons": reasons(&comparison, *units),
            "sizes": self.size_classes.document(comparison.days),
            "weights_g": self.weights_g,
            "comparison": ComparisonDocument::new(&comparison, scenario, *units).with_words_in(*units),
        })
    }
}

/// Number of fish landed, by plan and size class.
struct SizeClasses {
    class_kg: f64,
    counts: Vec<Vec<u64>>,
}

impl SizeClasses {
    fn new(plans: usize, units: Units) -> Self {
        let class_kg = match units {
            Units::Imperial => POUND_KG,
            Units::Metric => HALF_KG,
        };
        Self { class_kg, counts: vec![Vec::new(); plans] }
    }

    fn add(&mut self, day: &DayOutcomes) {
        for (counts, outcome) in self.counts.iter_mut().zip(&day.outcomes) {
            for fish in &outcome.catches {
                let class = f64::from(fish.mass_g) / 1000.0 / self.class_kg;
                let class = (class as usize).min(MAX_CLASSES - 1);
                if counts.len() <= class {
                    counts.resize(class + 1, 0);
                }
                counts[class] += 1;
            }
        }
    }

    /// Mean number of fish per day in each class, as JSON.
    fn document(&self, days: u32) -> Value {
        let per_day = |counts: &Vec<u64>| -> Vec<f64> {
            counts.iter().map(|&count| count as f64 / f64::from(days)).collect()
        };
        json!({
            "class_kg": self.class_kg,
            "plans": self.counts.iter().map(per_day).collect::<Vec<_>>(),
        })
    }
}
