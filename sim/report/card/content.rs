//! What stands on a card, in words.

use super::super::measures::{alike, duration, number, weight};
use super::super::schedule::{Words, feeding, hour, rod};
use super::super::table::{days, shown_name};
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, PlanResult};

/// Most hours for which it is told what to expect.
const MOST_HOURS: usize = 12;

/// One plan, put into words for the bank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// The plan's name.
    pub(super) plan: String,
    /// The water and how long the session is.
    pub(super) about: String,
    /// What to do from when to when.
    pub(super) steps: Vec<Step>,
    /// What to do if something happens, as short imperatives.
    pub(super) rules: Vec<String>,
    /// Baits with the amount to bring.
    pub(super) baits: Vec<(String, String)>,
    /// What to expect by when.
    pub(super) hours: Vec<Expected>,
    /// What this run warns of.
    pub(super) warnings: Vec<String>,
    /// How the figures came about.
    pub(super) source: String,
}

/// What to do from one time to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Step {
    /// From, to.
    pub(super) times: String,
    /// What.
    pub(super) what: String,
    /// How.
    pub(super) how: String,
}

/// What to expect by a time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Expected {
    /// Time from the start.
    pub(super) after: String,
    /// One day in ten has less.
    pub(super) behind: String,
    /// Half the days have more.
    pub(super) usual: String,
    /// One day in ten has more.
    pub(super) good: String,
    /// Mean number of fish so far.
    pub(super) fish: String,
}

/// The card of the plan of that name, with figures from a comparison that fished it.
///
/// None where the scenario has no such plan or the comparison did not fish it.
#[must_use]
pub fn card(
    comparison: &Comparison,
    scenario: &Scenario,
    name: &str,
    units: Units,
) -> Option<Card> {
    let plan = scenario.plans.iter().find(|plan| plan.name == name)?;
    let fished = comparison.plans.iter().find(|plan| plan.name == name)?;
    let words = Words { scenario, units };
    let fishes = rod(plan).into_iter().map(|stint| Step {
        times: stint.times(),
        what: format!(
            "Fish {}, {} out; recast {}.",
            words.line(stint.does.line),
            words.distance(stint.does.line),
            words.recast(stint.does)
        ),
        how: format!("Load: {}. Hookbait: {}.", words.load(stint.does), words.hookbait(stint.does)),
    });
    let feeds = feeding(plan).into_iter().map(|stint| Step {
        times: stint.times(),
        what: format!("Feed {}.", words.line(stint.does.line)),
        how: format!("Throw {}.", words.feed(&stint.does)),
    });
    let bring = |bait: &crate::study::BaitOf| (shown_name(&bait.bait), weight(bait.p90, units));
    let stamp = &comparison.stamp;
    Some(Card {
        plan: shown_name(name),
        about: format!("{}; {}", shown_name(&scenario.title), duration(scenario.session_s)),
        steps: fishes.chain(feeds).collect(),
        rules: plan.rules.list.iter().map(|rule| words.rule(rule)).collect(),
        baits: fished.baits.iter().map(bring).collect(),
        hours: expected(fished, units),
        warnings: comparison.warnings.iter().map(|warning| shown_name(&warning.says)).collect(),
        source: format!(
            "Simulated, not measured: {} of seed {}, shoalwise {}, scenario {}.",
            days(comparison.days),
            stamp.seed,
            stamp.version,
            stamp.scenario_sha256.chars().take(12).collect::<String>()
        ),
    })
}

/// What to expect by each hour and by the end; fewer times of a long session.
fn expected(plan: &PlanResult, units: Units) -> Vec<Expected> {
    let step = plan.by_hour.len().div_ceil(MOST_HOURS).max(1);
    let top_kg = plan.curve.iter().map(|point| point.p90_kg).fold(0.0, f64::max);
    let shown = |kg: f64| alike(kg, top_kg, units);
    let mut fish = 0.0;
    let mut all = Vec::new();
    for (at, of) in plan.by_hour.iter().enumerate() {
        fish += of.by_shoal.iter().map(|shoal| shoal.fish_mean).sum::<f64>();
        let is_last = at + 1 == plan.by_hour.len();
        if !(is_last || (at + 1) % step == 0) {
            continue;
        }
        let Some(point) = plan.curve.iter().find(|point| point.minute >= of.until_minute) else {
            continue;
        };
        all.push(Expected {
            after: hour(60.0 * of.until_minute),
            behind: shown(point.p10_kg),
            usual: shown(point.p50_kg),
            good: shown(point.p90_kg),
            fish: number(fish),
        });
    }
    all
}
