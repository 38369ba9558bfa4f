//! A session told event by event, one line of words each.

use super::measures::{clock, weight};
use super::rule_words::RuleWords;
use crate::angler::Plan;
use crate::scenario::{Scenario, Units};
use crate::session::{Day, Event, Gone};

/// Names for the numbers in events.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TraceNames {
    /// Lines, in the order of the scenario.
    pub lines: Vec<String>,
    /// Fish, in the order of the day's stock, as they are called when caught.
    pub fish: Vec<String>,
    /// Rules of the plan, in its order.
    pub rules: Vec<RuleWords>,
}

impl TraceNames {
    /// Lines by name; fish by shoal and weight.
    #[must_use]
    pub fn of(scenario: &Scenario, day: &Day, units: Units) -> Self {
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

    /// The same names, with the rules of the plan that is fished.
    #[must_use]
    pub fn with_rules(mut self, plan: &Plan, scenario: &Scenario, units: Units) -> Self {
        let rules = plan.rules.list.iter();
        self.rules = rules.map(|rule| RuleWords::of(rule, scenario, units)).collect();
        self
    }

    /// A rule by name, or by number from 1, with what was left to say of it.
    fn rule(&self, rule: usize, says: impl Fn(&RuleWords) -> String) -> String {
        self.rules.get(rule).map_or_else(|| format!("rule {}", rule + 1), says)
    }

    /// A line by name, or by number from 1.
    fn line(&self, line: usize) -> String {
        self.lines.get(line).map_or_else(|| format!("line {}", line + 1), Clone::clone)
    }

    /// A fish with what is known of it.
    fn fish(&self, fish: usize) -> String {
        self.fish.get(fish).map_or_else(
            || format!("fish {}", fish + 1),
            |known| format!("fish {} ({known})", fish + 1),
        )
    }
}

/// One event as a line of words with its time: `1:02:09  fish 12 takes the hookbait of cast 31`.
///
/// Phases and fish are counted from 1, as people count; casts are so already.
#[must_use]
pub fn trace_line(t_s: f64, event: &Event, names: &TraceNames) -> String {
    format!("{}  {}", clock(t_s), told(event, names))
}

/// What happens, in words.
fn told(event: &Event, names: &TraceNames) -> String {
    let line = |line: usize| names.line(line);
    match *event {
        Event::PhaseBegins { phase } => format!("phase {} begins", phase + 1),
        Event::PhaseEnds { phase } => format!("phase {} ends", phase + 1),
        Event::AnglerTurns { .. } => "the angler turns to what is due".to_owned(),
        Event::LooseFeedDue { phase, feed } => {
            format!("loose feed {} of phase {} is due", feed + 1, phase + 1)
        }
        Event::LooseFeedThrown { line: at, mass_kg } => {
            format!("{:.0} g of loose feed lands on {}", 1000.0 * mass_kg, line(at))
        }
        Event::RigIsCast { cast, line: at } => format!("cast {} to {}", cast, line(at)),
        Event::FeederLands { cast } => format!("the feeder of cast {} is on the bed", cast),
        Event::LoadOpens { cast } => format!("the load of cast {} begins to open", cast),
        Event::LoadIsDown { cast } => format!("the load of cast {} is all down", cast),
        Event::FeedReachesBed { line: at, throw } => {
            format!("feed of throw {} reaches the bed on {}", throw + 1, line(at))
        }
        Event::BaitLeaches { line: at } => format!("scent leaves the bait on {}", line(at)),
        Event::HookbaitGone { cast } => {
            format!("the hookbait of cast {} is gone or buried", cast)
        }
        Event::RigIsWoundIn { cast } => format!("cast {} is wound in", cast),
        Event::FishLooks { fish, .. } => format!("fish {} looks round", fish + 1),
        Event::FishNotices { fish, line: at } => {
            format!("fish {} notices {} and turns to it", fish + 1, line(at))
        }
        Event::FishArrives { fish, .. } => format!("fish {} arrives", fish + 1),
        Event::FishFinds { fish, .. } => format!("fish {} comes upon a mouthful", fish + 1),
        Event::FishEats { fish, line: at } => format!("fish {} eats on {}", fish + 1, line(at)),
        Event::FishTakes { fish, cast } => {
            format!("fish {} takes the hookbait of cast {}", fish + 1, cast)
        }
        Event::FishRefuses { fish, cast } => {
            format!("fish {} refuses the hookbait of cast {}", fish + 1, cast)
        }
        Event::FishRises { fish, line: at } => {
            format!("fish {} comes up for falling feed on {}", fish + 1, line(at))
        }
        Event::FishShows { fish, line: at } => {
            format!("fish {} shows at the surface over {}", fish + 1, line(at))
        }
        Event::FishGoesDown { fish, .. } => format!("fish {} goes down", fish + 1),
        Event::FishGivesUp { fish, .. } => format!("fish {}'s patience ends", fish + 1),
        Event::FishLeaves { fish, line: at, why } => {
            format!("fish {} leaves {}: {}", fish + 1, line(at), because(why))
        }
        Event::FishRoams { fish, .. } => format!("fish {} takes to roaming again", fish + 1),
        Event::FishIsFoulHooked { fish } => {
            format!("the hook takes hold of {} outside the mouth", names.fish(fish))
        }
        Event::FishIsHooked { fish } => format!("{} is hooked", names.fish(fish)),
        Event::FishIsNetted { fish } => format!("{} is netted", names.fish(fish)),
        Event::FishIsLost { fish } => format!("{} is lost", names.fish(fish)),
        Event::BiteComes { .. } => "a bite comes".to_owned(),
        Event::LineIsTouched { .. } => "a line bite".to_owned(),
        Event::AnglerStrikes { .. } => "the angler strikes at a line bite".to_owned(),
        Event::AnglerLooks { .. } => "the angler looks round".to_owned(),
        Event::RuleFires { rule, .. } => {
            names.rule(rule, |rule| format!("rule {}: {}: {}", rule.name, rule.why, rule.what))
        }
        Event::RuleEnds { rule } => {
            let rule = names.rule(rule, |rule| format!("rule {}", rule.name));
            format!("{rule} is over")
        }
        Event::SessionEnds => "the session ends".to_owned(),
    }
}

/// Why a fish left.
fn because(why: Gone) -> &'static str {
    match why {
        Gone::GaveUp => "it gave up",
        Gone::Full => "it is full",
        Gone::Startled => "startled",
        Gone::Hooked => "hooked",
    }
}
