//! The lines of `replay --json`.

use schemars::{JsonSchema, Schema};
use serde::Serialize;
use serde_json::Value;

use crate::angler::Plan;
use crate::scenario::Scenario;
use crate::session::{Event, Outcome, TimeUse};
use crate::study::Stamp;

/// Meaning of the numbers of events whose type does not say it.
const EVENT_NUMBERS: [(&str, &str); 20] = [
    ("phase", "Number of the phase of the plan, from 0."),
    ("feed", "Number of the loose feed of the phase, from 0."),
    ("turn", "Number of the angler's turn."),
    ("mass_kg", "Mass of the bait [kg]."),
    ("cast", "Number of the cast, from 1."),
    ("throw", "Number of the throw, from 0."),
    ("mind", "Generation of the fish's event; only the latest is current."),
    ("touch", "Number of the line bite."),
    ("look", "Which evaluation of the rules this is, counted over the session."),
    ("rule", "Number of the rule of the plan, from 0."),
    ("why", "Why the fish left."),
    ("quiet_s", "Time without a bite that the rule counts [s]."),
    ("bites", "Bites that the rule counts."),
    ("missed", "Missed bites that the rule counts."),
    ("shows", "Fish that showed at the surface, as far as the rule counts them."),
    ("line_bites", "Line bites that the rule counts."),
    ("lost", "Fish lost, as far as the rule counts them."),
    ("landed", "Fish landed, as far as the rule counts them."),
    ("foul_hooked", "Fish hooked outside the mouth, as far as the rule counts them."),
    ("guessed_kg", "Weight in the net as the angler guesses it, if the rule looks at it [kg]."),
];

/// Describes the numbers of events.
fn describe_numbers(schema: &mut Schema) {
    let kinds = schema.get_mut("oneOf").and_then(Value::as_array_mut);
    for kind in kinds.into_iter().flatten() {
        for (name, meaning) in EVENT_NUMBERS {
            let field = kind.get_mut("properties").and_then(|fields| fields.get_mut(name));
            if let Some(Value::Object(field)) = field {
                field.insert("description".to_owned(), meaning.into());
            }
        }
    }
}

/// One event with its time.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(transform = describe_numbers)]
pub(in crate::cli) struct EventLine {
    /// Time from the start [s].
    pub(in crate::cli) t_s: f64,
    #[serde(flatten)]
    pub(in crate::cli) event: Event,
}

/// The last line: the outcome of the session.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct ReplayEnd<'a> {
    /// Name and version of the format.
    format: &'static str,
    /// Version, seed and scenario.
    stamp: Stamp,
    /// Name of the plan.
    plan: &'a str,
    /// Number of the day, from 1.
    day: u32,
    /// What the session came to.
    outcome: SessionEntry<'a>,
}

/// The outcome of a session.
#[derive(Debug, Serialize, JsonSchema)]
struct SessionEntry<'a> {
    /// Weight at the scales.
    weight_g: u64,
    /// Number of fish that count.
    fish: usize,
    /// How often a hookbait was taken.
    bites: u32,
    /// Number of fish hooked and lost.
    lost: u32,
    /// Number of fish hooked outside the mouth, landed or lost.
    foul_hooked: u32,
    /// Number of casts.
    casts: u32,
    /// Fish that count, in order of time.
    catches: Vec<CatchEntry<'a>>,
    /// How often each rule of the plan fired.
    rules: Vec<RuleEntry<'a>>,
    /// How the time was spent.
    time_s: TimeUse,
    /// Where the bait went.
    bait_kg: BaitEntry,
}

/// A fish that was landed and counts.
#[derive(Debug, Serialize, JsonSchema)]
struct CatchEntry<'a> {
    /// When it was netted, from the start.
    at_s: f64,
    /// Its weight.
    mass_g: u32,
    /// Name of its shoal.
    shoal: Option<&'a str>,
    /// Whether it was hooked outside the mouth.
    foul: bool,
}

/// How often a rule fired.
#[derive(Debug, Serialize, JsonSchema)]
struct RuleEntry<'a> {
    /// Name of the rule.
    rule: &'a str,
    /// How often the rule fired.
    fired: u32,
}

/// Where the bait went.
#[derive(Debug, Serialize, JsonSchema)]
struct BaitEntry {
    /// Cast on the feeder.
    feeder: f64,
    /// Thrown as loose feed.
    loose: f64,
    /// Eaten, on the bed or on its way there.
    eaten: f64,
    /// Washed off, silted up, thinned out or wound in again.
    lost: f64,
    /// Food and inert matter on the bed at the end.
    on_bed: f64,
    /// Hanging in the water, or still falling, at the end.
    hanging: f64,
    /// Still on the feeder at the end.
    on_feeder: f64,
}

impl<'a> ReplayEnd<'a> {
    /// Name and version of the format.
    pub(super) const FORMAT: &'static str = "shoalwise/replay/1";

    /// The last line of a session of a plan.
    pub(in crate::cli) fn new(
        scenario: &'a Scenario,
        plan: &'a Plan,
        (seed, day): (u64, u32),
        outcome: &Outcome,
    ) -> Self {
        let stamp = Stamp::from_scenario(scenario, seed);
        let outcome = SessionEntry::new(scenario, plan, outcome);
        Self { format: Self::FORMAT, stamp, plan: &plan.name, day, outcome }
    }
}

impl<'a> SessionEntry<'a> {
    fn new(scenario: &'a Scenario, plan: &'a Plan, outcome: &Outcome) -> Self {
        let shoal_name = |shoal: usize| scenario.shoals.get(shoal).map(|shoal| shoal.name.as_str());
        let catches = outcome.catches.iter().map(|fish| CatchEntry {
            at_s: fish.at_s,
            mass_g: fish.mass_g,
            shoal: shoal_name(fish.shoal),
            foul: fish.foul,
        });
        let rules = plan.rules.list.iter().zip(&outcome.fired);
        let bait = &outcome.bait;
        Self {
            weight_g: outcome.weight_g,
            fish: outcome.catches.len(),
            bites: outcome.bites,
            lost: outcome.lost,
            foul_hooked: outcome.foul_hooked,
            casts: outcome.casts,
            catches: catches.collect(),
            rules: rules.map(|(rule, &fired)| RuleEntry { rule: &rule.name, fired }).collect(),
            time_s: outcome.time_s,
            bait_kg: BaitEntry {
                feeder: bait.feeder_kg,
                loose: bait.loose_kg,
                eaten: bait.eaten_kg,
                lost: bait.lost_kg,
                on_bed: bait.on_bed_kg,
                hanging: bait.hanging_kg,
                on_feeder: bait.on_feeder_kg,
            },
        }
    }
}

/// One event as an angler sees it, with its time.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct BankLine<'a> {
    /// Time from the start [s].
    pub(in crate::cli) t_s: f64,
    /// What happened, in words.
    #[serde(rename = "says")]
    pub(in crate::cli) sentence: &'a str,
}

/// The last line of what an angler sees.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct BankEnd<'a> {
    /// Name and version of the format.
    format: &'static str,
    /// Version, seed and scenario.
    stamp: Stamp,
    /// Name of the plan.
    plan: &'a str,
    /// Number of the day, from 1.
    day: u32,
    /// What the session came to.
    outcome: BankOutcome,
}

/// The outcome of a session as an angler knows it.
#[derive(Debug, Serialize, JsonSchema)]
struct BankOutcome {
    /// Weight at the scales.
    weight_g: u64,
    /// Number of fish that count.
    fish: usize,
    /// How often a hookbait was taken.
    bites: u32,
    /// Number of bites of which no fish was hooked.
    missed: u32,
    /// Number of fish hooked and lost.
    lost: u32,
    /// Number of casts.
    casts: u32,
}

impl<'a> BankEnd<'a> {
    /// Name and version of the format.
    pub(super) const FORMAT: &'static str = "shoalwise/bank/1";

    /// The last line of a session of a plan.
    pub(in crate::cli) fn new(
        scenario: &Scenario,
        plan: &'a Plan,
        (seed, day): (u64, u32),
        outcome: &Outcome,
        missed: u32,
    ) -> Self {
        let outcome = BankOutcome {
            weight_g: outcome.weight_g,
            fish: outcome.catches.len(),
            bites: outcome.bites,
            missed,
            lost: outcome.lost,
            casts: outcome.casts,
        };
        let stamp = Stamp::new(&scenario.name, &scenario.sha256, seed);
        Self { format: Self::FORMAT, stamp, plan: &plan.name, day, outcome }
    }
}

/// Every line of `replay --json`, for its schema.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[expect(dead_code, reason = "the lines are written one by one")]
pub(super) enum ReplayOutput {
    /// An event.
    Event(EventLine),
    /// The last line.
    End(Box<ReplayEnd<'static>>),
}

/// Every line of `replay --from-the-bank --json`, for its schema.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[expect(dead_code, reason = "the lines are written one by one")]
pub(super) enum BankOutput {
    /// What an angler sees.
    Line(BankLine<'static>),
    /// The last line.
    End(Box<BankEnd<'static>>),
}
