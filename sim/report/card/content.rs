//! The content of a card, in words.

use std::collections::BTreeSet;

use crate::angler::Plan;
use crate::bait::{BaitValue, HookbaitPrior, ParticleClass, RecipePrior};
use crate::report::format::{
    counted, duration, number, one_line, trimmed_number, unbroken, weight, weight_in_column,
};
use crate::report::text::warning_text;
use crate::report::view::{PlanWords, feeding_schedule, hours_minutes, rod_schedule};
use crate::scenario::{Scenario, Units};
use crate::study::{BaitAmount, Comparison, PlanResult};
use crate::water::LineId;

/// Maximum number of rows in the table of what to expect.
const MAX_ROWS: usize = 12;
/// Heads the rules: they may change what the timetable above them says.
pub(super) const RULES_HEAD: &str = "Rules, which may change the above";
/// Shown where one day in ten has nothing yet, so that no weight says that one is behind.
const NEVER_BEHIND: &str = "–";
/// A bait is called a mix unless more than this share of it is of one kind.
const PURE_SHARE: f64 = 0.75;

/// One plan, put into words for the bank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// The plan's name.
    pub(crate) plan: String,
    /// The water and how long the session is.
    pub(crate) about: String,
    /// What to do from when to when.
    pub(crate) steps: Vec<CardStep>,
    /// What to do when something happens, as short instructions, and where the lines are that only these use.
    pub(crate) rules: Vec<String>,
    /// Baits, each with the amount to bring.
    pub(crate) baits: Vec<(String, String)>,
    /// What else to bring: the hookbaits and the nets.
    pub(crate) others: Vec<(String, String)>,
    /// What to expect at different times.
    pub(crate) hours: Vec<Expected>,
    /// What the words at the head of that table mean.
    pub(crate) note: String,
    /// Warnings of this run.
    pub(crate) warnings: Vec<String>,
    /// How the figures were made.
    pub(crate) source: String,
}

/// What to do from one time to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct CardStep {
    /// Start and end.
    pub(crate) times: String,
    /// What to do.
    pub(crate) what: String,
    /// How to do it.
    pub(crate) how: String,
}

/// What to expect at one time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Expected {
    /// Time from the start.
    pub(crate) after: String,
    /// One day in ten has less than this; a dash if it has nothing.
    pub(crate) behind: String,
    /// Half the days have more than this.
    pub(crate) usual: String,
    /// One day in ten has more than this.
    pub(crate) good: String,
    /// Mean number of fish so far.
    pub(crate) fish: String,
}

/// The card of the plan of that name, with figures from a comparison that fished it.
///
/// `None` if the scenario has no such plan or the comparison did not fish it.
pub fn card(
    comparison: &Comparison,
    scenario: &Scenario,
    name: &str,
    units: Units,
) -> Option<Card> {
    let plan = scenario.plans.iter().find(|plan| plan.name == name)?;
    let fished = comparison.plans.iter().find(|plan| plan.name == name)?;
    let words = PlanWords { scenario, units };
    let bring = |bait: &BaitAmount| {
        let recipe = scenario.recipes.iter().find(|recipe| recipe.name == bait.bait);
        (one_line(&bait.bait) + &recipe.map_or_else(String::new, mix), weight(bait.p90, units))
    };
    let stamp = &comparison.stamp;
    let hours = expected(fished, units);
    Some(Card {
        plan: one_line(name),
        about: format!("{}; {}", one_line(&scenario.title), duration(scenario.session_s)),
        steps: steps(plan, &words),
        rules: rules(plan, &words),
        baits: fished.baits.iter().map(bring).collect(),
        others: others(plan, scenario, units),
        note: note(&hours),
        hours,
        warnings: comparison
            .warnings
            .iter()
            .map(|warning| unbroken(&warning_text(warning, units)))
            .collect(),
        source: format!(
            "Simulated, not measured: {} of seed {}, shoalwise {}, scenario {}.",
            counted(comparison.days, "day"),
            stamp.seed,
            stamp.version,
            stamp.scenario_sha256.chars().take(12).collect::<String>()
        ),
    })
}

/// What to do from when to when: the rod first, then the feed.
fn steps(plan: &Plan, words: &PlanWords) -> Vec<CardStep> {
    let fishes = rod_schedule(plan).into_iter().map(|stint| CardStep {
        times: stint.times(),
        what: format!(
            "Fish {}, {} out, {}; recast {}.",
            words.line(stint.action.line),
            words.distance(stint.action.line),
            words.direction(stint.action.line),
            words.recast(&stint.action)
        ),
        how: format!(
            "Load: {}. Hookbait: {}.",
            words.load(&stint.action),
            words.hookbait(&stint.action)
        ),
    });
    let feeds = feeding_schedule(plan).into_iter().map(|stint| CardStep {
        times: stint.times(),
        what: format!("Feed {}.", words.line(stint.action.line)),
        how: match words.on_the_bank(&stint.action) {
            Some(measure) => format!("Throw {} ({measure} each time).", words.feed(&stint.action)),
            None => format!("Throw {}.", words.feed(&stint.action)),
        },
    });
    fishes.chain(feeds).collect()
}

/// The rules of a plan, and where the lines are that it comes to only by a rule.
fn rules(plan: &Plan, words: &PlanWords) -> Vec<String> {
    let listed: BTreeSet<_> = rod_schedule(plan).iter().map(|stint| stint.action.line.0).collect();
    let moves = plan.rules.list.iter().filter_map(|rule| rule.change.tackle.line);
    let feeds = plan.rules.list.iter().flat_map(|rule| &rule.change.feeds).map(|feed| feed.line);
    let unlisted: BTreeSet<_> =
        moves.chain(feeds).map(|line| line.0).filter(|line| !listed.contains(line)).collect();
    let places = unlisted.into_iter().map(LineId).map(|line| {
        format!("{}: {} out, {}.", words.line(line), words.distance(line), words.direction(line))
    });
    plan.rules.list.iter().map(|rule| words.rule(rule)).chain(places).collect()
}

/// The parts of a bait that has several, as ` (half fine-crumb …)`; nothing if almost all of it is one.
fn mix(recipe: &RecipePrior) -> String {
    if recipe.classes.iter().any(|class| class.share > PURE_SHARE) {
        return String::new();
    }
    let mut parts: Vec<_> = recipe.classes.iter().collect();
    parts.sort_by(|a, b| b.share.total_cmp(&a.share));
    let part = |class: &&ParticleClass<BaitValue>| {
        format!("{:.0} % {}", 100.0 * class.share, one_line(&class.name))
    };
    let parts: Vec<_> = parts.iter().map(part).collect();
    format!(" ({})", unbroken(&parts.join(", ")))
}

/// What to bring apart from bait: the hookbaits that the plan or its rules may use, and the nets.
fn others(plan: &Plan, scenario: &Scenario, units: Units) -> Vec<(String, String)> {
    let phases = plan.phases.iter().map(|phase| phase.tackle.hookbait);
    let rules = plan.rules.list.iter().filter_map(|rule| rule.change.tackle.hookbait);
    let used: BTreeSet<_> = phases.chain(rules).map(|hookbait| hookbait.0).collect();
    let names = used.iter().filter_map(|&index| scenario.hookbaits.get(index));
    let named = |hookbait: &HookbaitPrior| {
        let size = trimmed_number((10_000.0 * hookbait.diameter_m).round() / 10.0);
        format!("{} ({size}\u{a0}mm)", one_line(&hookbait.name))
    };
    let names: Vec<_> = names.map(named).collect();
    let hookbaits = (!names.is_empty()).then(|| ("hookbait".to_owned(), names.join(", ")));
    let nets = scenario.keepnet.map(|keepnet| {
        let limit = weight(keepnet.limit_kg, units);
        ("nets".to_owned(), format!("{}, {limit} in each at most", keepnet.nets))
    });
    hookbaits.into_iter().chain(nets).collect()
}

/// What the table of what to expect means.
fn note(hours: &[Expected]) -> String {
    let mut note =
        "On a water like this, one day in ten is behind and one in ten is good.".to_owned();
    if hours.iter().any(|hour| hour.behind == NEVER_BEHIND) {
        note += " –: too early to say.";
    }
    note + " Fish: on average."
}

/// What to expect after each hour and at the end; a long session has fewer rows.
fn expected(plan: &PlanResult, units: Units) -> Vec<Expected> {
    let step = plan.by_hour.len().div_ceil(MAX_ROWS).max(1);
    let top_kg = plan.curve.iter().map(|point| point.p90_kg).fold(0.0, f64::max);
    let shown = |kg: f64| weight_in_column(kg, top_kg, units);
    // Nobody is behind with less than nothing.
    let nothing = shown(0.0);
    let behind = |kg: f64| match shown(kg) {
        weight if weight == nothing => NEVER_BEHIND.to_owned(),
        weight => weight,
    };
    let mut fish = 0.0;
    let mut all = Vec::new();
    for (index, hour) in plan.by_hour.iter().enumerate() {
        fish += hour.by_shoal.iter().map(|shoal| shoal.fish_mean).sum::<f64>();
        let is_last = index + 1 == plan.by_hour.len();
        if !(is_last || (index + 1) % step == 0) {
            continue;
        }
        let Some(point) = plan.curve.iter().find(|point| point.minute >= hour.until_minute) else {
            continue;
        };
        let (behind_kg, good_kg) = plan.day_range_kg(point);
        all.push(Expected {
            after: hours_minutes(60.0 * hour.until_minute),
            behind: behind(behind_kg),
            usual: shown(point.p50_kg),
            good: shown(good_kg),
            fish: number(fish),
        });
    }
    all
}
