//! The events of a session in words, one line each.

use super::rules::RuleDescription;
use super::units::{clock, weight};
use crate::angler::Plan;
use crate::fish::FishId;
use crate::scenario::{Scenario, Units};
use crate::session::{Day, Event, LeaveReason};
use crate::water::LineId;

/// Names for the indices in events.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EventNames {
    /// Lines, in the order of the scenario.
    pub lines: Vec<String>,
    /// Fish, in the order of the day's stock: weight and shoal.
    pub fish: Vec<String>,
    /// Rules, in the order of the plan.
    pub rules: Vec<RuleDescription>,
}

impl EventNames {
    /// Names lines as the scenario does, and fish by weight and shoal.
    pub fn new(scenario: &Scenario, day: &Day, units: Units) -> Self {
        let lines = scenario.lines.iter().map(|line| line.name.clone());
        let fish = day.stock.iter().map(|fish| {
            let shoal = scenario.shoals.get(fish.shoal);
            format!(
                "{} of {}",
                weight(fish.mass_kg(), units),
                shoal.map_or("no shoal", |shoal| shoal.name.as_str())
            )
        });
        Self { lines: lines.collect(), fish: fish.collect(), rules: Vec::new() }
    }

    /// Adds the rules of the plan that is fished.
    #[must_use]
    pub fn with_rules(mut self, plan: &Plan, scenario: &Scenario, units: Units) -> Self {
        let rules = plan.rules.list.iter();
        self.rules = rules.map(|rule| RuleDescription::from_rule(rule, scenario, units)).collect();
        self
    }

    /// A rule in the words of `describe`, or its number from 1 if its name is not known.
    fn rule(&self, rule: usize, describe: impl Fn(&RuleDescription) -> String) -> String {
        self.rules.get(rule).map_or_else(|| format!("rule {}", rule + 1), describe)
    }

    /// A line by name, or by its number from 1.
    fn line(&self, line: LineId) -> String {
        self.lines.get(line.0).map_or_else(|| format!("line {}", line.0 + 1), Clone::clone)
    }

    /// A fish by its number from 1, with weight and shoal if they are known.
    fn fish(&self, fish: FishId) -> String {
        self.fish.get(fish.0).map_or_else(
            || format!("fish {}", fish.number()),
            |known| format!("fish {} ({known})", fish.number()),
        )
    }
}

/// One event in words, with its time: `1:02:09  fish 12 takes the hookbait of cast 31`.
///
/// Phases and fish are numbered from 1, like casts.
pub fn event_line(t_s: f64, event: &Event, names: &EventNames) -> String {
    format!("{}  {}", clock(t_s), description(event, names))
}

/// One event as an angler on the bank sees it, with its time. `None` for what happens out of sight, under water.
///
/// `is_missed` says of a bite whether it was missed.
pub fn bank_line(t_s: f64, event: &Event, is_missed: bool, names: &BankNames) -> Option<String> {
    let line = |line: LineId| names.events.line(line);
    let seen = match *event {
        Event::LooseFeedThrown { .. }
        | Event::RuleFires { .. }
        | Event::RuleEnds { .. }
        | Event::PhaseBegins { .. }
        | Event::PhaseEnds { .. }
        | Event::RigIsCast { .. }
        | Event::RigIsWoundIn { .. }
        | Event::SessionEnds => description(event, &names.events),
        Event::FishTakes { cast, .. } if is_missed => format!("a bite on cast {cast}, missed"),
        Event::FishTakes { cast, .. } => format!("a bite on cast {cast}: a fish is on"),
        Event::FishIsFoulHooked { .. } => "a fish is on without a bite".to_owned(),
        Event::FishIsNetted { fish } => match names.weights.get(fish.0) {
            Some(weight) => format!("netted: {weight}"),
            None => "netted".to_owned(),
        },
        Event::FishIsLost { .. } => "the fish is lost".to_owned(),
        Event::FishShows { line: index, .. } => format!("a fish shows over {}", line(index)),
        Event::LineIsTouched { .. } => "the tip twitches: a line bite".to_owned(),
        Event::AnglerStrikes { .. } => "a strike at a line bite".to_owned(),
        _ => return None,
    };
    Some(format!("{}  {seen}", clock(t_s)))
}

/// Names for the events that are seen from the bank.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BankNames {
    events: EventNames,
    /// Weights of the fish, in the order of the day's stock.
    weights: Vec<String>,
}

impl BankNames {
    /// Lines and rules by their names, and fish by what they weigh.
    pub fn new(plan: &Plan, scenario: &Scenario, day: &Day, units: Units) -> Self {
        let events = EventNames::new(scenario, day, units).with_rules(plan, scenario, units);
        let weights = day.stock.iter().map(|fish| weight(fish.mass_kg(), units)).collect();
        Self { events, weights }
    }
}

/// What happens, in words.
fn description(event: &Event, names: &EventNames) -> String {
    let line = |line: LineId| names.line(line);
    match *event {
        Event::PhaseBegins { phase } => format!("phase {} begins", phase + 1),
        Event::PhaseEnds { phase } => format!("phase {} ends", phase + 1),
        Event::AnglerTurns { .. } => "the angler turns to the next task".to_owned(),
        Event::LooseFeedDue { phase, feed } => {
            format!("loose feed {} of phase {} is due", feed + 1, phase + 1)
        }
        Event::LooseFeedThrown { line: index, mass_kg } => {
            format!("{:.0}\u{a0}g of loose feed lands on {}", 1000.0 * mass_kg, line(index))
        }
        Event::RigIsCast { cast, line: index } => format!("cast {} to {}", cast, line(index)),
        Event::FeederLands { cast } => format!("the feeder of cast {} is on the bed", cast),
        Event::LoadOpens { cast } => format!("the load of cast {} begins to open", cast),
        Event::LoadIsDown { cast } => format!("the whole load of cast {} is on the bed", cast),
        Event::FeedReachesBed { line: index, throw } => {
            format!("feed of throw {} reaches the bed on {}", throw + 1, line(index))
        }
        Event::BaitLeaches { line: index } => format!("scent leaves the bait on {}", line(index)),
        Event::HookbaitGone { cast } => {
            format!("the hookbait of cast {} is gone or buried", cast)
        }
        Event::RigIsWoundIn { cast } => format!("cast {} is wound in", cast),
        Event::FishLooks { fish, .. } => format!("fish {} looks for food", fish.number()),
        Event::FishNotices { fish, line: index } => {
            format!("fish {} notices {} and swims towards it", fish.number(), line(index))
        }
        Event::FishArrives { fish, .. } => format!("fish {} arrives", fish.number()),
        Event::FishFinds { fish, .. } => format!("fish {} finds a mouthful", fish.number()),
        Event::FishEats { fish, line: index } => {
            format!("fish {} eats on {}", fish.number(), line(index))
        }
        Event::FishTakes { fish, cast } => {
            format!("fish {} takes the hookbait of cast {}", fish.number(), cast)
        }
        Event::FishRefuses { fish, cast } => {
            format!("fish {} refuses the hookbait of cast {}", fish.number(), cast)
        }
        Event::FishRises { fish, line: index } => {
            format!("fish {} rises to falling feed on {}", fish.number(), line(index))
        }
        Event::FishShows { fish, line: index } => {
            format!("fish {} shows at the surface over {}", fish.number(), line(index))
        }
        Event::FishGoesDown { fish, .. } => format!("fish {} goes down", fish.number()),
        Event::FishGivesUp { fish, .. } => format!("fish {} gives up searching", fish.number()),
        Event::FishLeaves { fish, line: index, why } => {
            format!("fish {} leaves {}: {}", fish.number(), line(index), because(why))
        }
        Event::FishRoams { fish, .. } => format!("fish {} roams again", fish.number()),
        Event::FishIsFoulHooked { fish } => {
            format!("{} is foul-hooked", names.fish(fish))
        }
        Event::FishIsHooked { fish } => format!("{} is hooked", names.fish(fish)),
        Event::FishIsNetted { fish } => format!("{} is netted", names.fish(fish)),
        Event::FishIsLost { fish } => format!("{} is lost", names.fish(fish)),
        Event::BiteComes { .. } => "a bite".to_owned(),
        Event::LineIsTouched { .. } => "a line bite".to_owned(),
        Event::AnglerStrikes { .. } => "the angler strikes at a line bite".to_owned(),
        Event::AnglerLooks { .. } => "the angler looks at the water".to_owned(),
        Event::RuleFires { rule, .. } => names
            .rule(rule, |rule| format!("rule {}: {}: {}", rule.name, rule.condition, rule.change)),
        Event::RuleEnds { rule } => {
            let rule = names.rule(rule, |rule| format!("rule {}", rule.name));
            format!("{rule} ends")
        }
        Event::SessionEnds => "the session ends".to_owned(),
    }
}

/// Why a fish left.
fn because(why: LeaveReason) -> &'static str {
    match why {
        LeaveReason::GaveUp => "it gave up",
        LeaveReason::Full => "it is full",
        LeaveReason::Startled => "startled",
        LeaveReason::Hooked => "hooked",
    }
}
