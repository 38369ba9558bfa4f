//! A rule in words: what it asks for and what it then does.

use super::measures::{duration, weight};
use crate::angler::{Change, Lasts, Rule, When};
use crate::scenario::{Scenario, Units};

/// One rule as a replay tells it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RuleWords {
    /// Its name.
    pub name: String,
    /// What it asks for: `no bite for 12 min`.
    pub why: String,
    /// What it then does: `line margin, recast 2 min`.
    pub what: String,
}

impl RuleWords {
    /// The words of a rule.
    #[must_use]
    pub fn of(rule: &Rule, scenario: &Scenario, units: Units) -> Self {
        let held = match rule.lasts {
            Lasts::Phase => String::new(),
            Lasts::Session => ", for the rest of the session".to_owned(),
            Lasts::For(time_s) => format!(", for {}", duration(time_s)),
        };
        Self {
            name: rule.name.clone(),
            why: why(&rule.when, scenario, units).join(", "),
            what: format!("{}{held}", what(&rule.change, scenario).join(", ")),
        }
    }
}

fn line_name(scenario: &Scenario, line: usize) -> &str {
    scenario.lines.get(line).map_or("another line", |line| line.name.as_str())
}

fn counted(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}

fn why(when: &When, scenario: &Scenario, units: Units) -> Vec<String> {
    let lately = format!("within {}", duration(when.within_s));
    let bites = |count| counted(count, "bite", "bites");
    let mut asks = Vec::new();
    asks.extend(when.on_line.map(|line| format!("on {}", line_name(scenario, line))));
    asks.extend(when.no_bite_for_s.map(|s| format!("no bite for {}", duration(s))));
    asks.extend(when.bites_at_least.map(|n| format!("{} or more {lately}", bites(n))));
    asks.extend(when.bites_at_most.map(|n| format!("{} or fewer {lately}", bites(n))));
    asks.extend(when.fish_show.map(|n| {
        let over = when.over.map(|line| format!(" over {}", line_name(scenario, line)));
        let shows = counted(n, "fish shows", "fish show");
        format!("{shows}{} {lately}", over.unwrap_or_default())
    }));
    asks.extend(
        when.line_bites.map(|n| format!("{} {lately}", counted(n, "line bite", "line bites"))),
    );
    asks.extend(when.after_s.map(|s| format!("{} gone", duration(s))));
    asks.extend(when.time_left_s.map(|s| format!("{} or less left", duration(s))));
    asks.extend(when.rested_for_s.map(|s| format!("the other line rested for {}", duration(s))));
    asks.extend(when.behind_kg.map(|kg| format!("{} behind", weight(kg, units))));
    asks.extend(when.ahead_kg.map(|kg| format!("{} ahead", weight(kg, units))));
    asks
}

/// Bait and tackle in grams, as a plan is written.
fn small(kg: f64) -> String {
    format!("{:.0} g", 1000.0 * kg)
}

fn what(change: &Change, scenario: &Scenario) -> Vec<String> {
    let bait = |recipe: usize| {
        scenario.recipes.get(recipe).map_or("another bait", |recipe| recipe.name.as_str())
    };
    let mut does = Vec::new();
    does.extend(change.line.map(|line| format!("line {}", line_name(scenario, line))));
    does.extend(change.recast_s.map(|s| format!("recast {}", duration(s))));
    does.extend(change.recipe.map(|recipe| format!("bait {}", bait(recipe))));
    does.extend(change.load_kg.map(|kg| format!("load {}", small(kg))));
    does.extend(change.feeder_kg.map(|kg| format!("feeder {}", small(kg))));
    does.extend(change.buried.map(|yes| (if yes { "buried" } else { "on top" }).to_owned()));
    does.extend(change.squeeze.map(|factor| format!("squeeze {factor}")));
    does.extend(change.hookbait.map(|at| {
        scenario
            .hookbaits
            .get(at)
            .map_or_else(String::new, |bait| format!("hookbait {}", bait.name))
    }));
    for feed in &change.feeds {
        let mut parts = vec![format!("feed {}", line_name(scenario, feed.line))];
        parts.extend(feed.amount_kg.map(small));
        parts.extend(feed.recipe.map(|recipe| format!("of {}", bait(recipe))));
        parts.extend(feed.every_s.map(|s| format!("every {}", duration(s))));
        does.push(parts.join(" "));
    }
    does
}
