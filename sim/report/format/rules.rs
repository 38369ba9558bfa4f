//! A rule of a plan in words: its condition and what it then changes.

use super::units::{duration, speed, weight, weight_limit};
use super::wording::counted;
use crate::angler::{Condition, EndTackle, PlanChange, PlanRule, RecipeId, RuleDuration};
use crate::scenario::{Scenario, Units};
use crate::water::LineId;

/// One rule in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RuleDescription {
    /// Name of the rule.
    pub name: String,
    /// Its condition: `no bite for 12 min`.
    pub condition: String,
    /// What it then changes: `line margin, recast 2 min`.
    pub change: String,
}

impl RuleDescription {
    /// Puts a rule into words.
    pub fn from_rule(rule: &PlanRule, scenario: &Scenario, units: Units) -> Self {
        let until = match rule.lasts {
            RuleDuration::Phase => String::new(),
            RuleDuration::Session => ", for the rest of the session".to_owned(),
            RuleDuration::For(time_s) => format!(", for {}", duration(time_s)),
        };
        Self {
            name: rule.name.clone(),
            condition: conditions(&rule.condition, scenario, units).join(", "),
            change: format!("{}{until}", changes(&rule.change, scenario, units).join(", ")),
        }
    }
}

fn line_name(scenario: &Scenario, line: LineId) -> &str {
    scenario.lines.get(line.0).map_or("another line", |line| line.name.as_str())
}

/// What must hold for a rule to fire.
fn conditions(when: &Condition, scenario: &Scenario, units: Units) -> Vec<String> {
    let recently = format!("within {}", duration(when.within_s));
    let bites = |count: usize| counted(count as u64, "bite");
    let mut conditions = Vec::new();
    conditions.extend(when.on_line.map(|line| format!("on {}", line_name(scenario, line))));
    conditions.extend(when.no_bite_for_s.map(|s| format!("no bite for {}", duration(s))));
    conditions.extend(when.min_bites.map(|n| format!("{} or more {recently}", bites(n))));
    conditions.extend(when.max_bites.map(|n| format!("{} or fewer {recently}", bites(n))));
    conditions.extend(when.min_shows.map(|n| {
        let over = when.show_line.map(|line| format!(" over {}", line_name(scenario, line)));
        let shows = if n == 1 { "1 fish shows".to_owned() } else { format!("{n} fish show") };
        format!("{shows}{} {recently}", over.unwrap_or_default())
    }));
    conditions.extend(
        when.min_line_bites.map(|n| format!("{} {recently}", counted(n as u64, "line bite"))),
    );
    conditions.extend(catch_conditions(when, &recently, units));
    conditions.extend(sky_conditions(when, units));
    conditions.extend(when.after_s.map(|s| format!("{} into the session", duration(s))));
    conditions.extend(when.time_left_s.map(|s| format!("{} or less left", duration(s))));
    conditions
        .extend(when.rested_for_s.map(|s| format!("the other line rested for {}", duration(s))));
    conditions.extend(when.behind_kg.map(|kg| format!("{} behind", weight(kg, units))));
    conditions.extend(when.ahead_kg.map(|kg| format!("{} ahead", weight(kg, units))));
    conditions
}

/// What must hold of bites missed, and of fish lost and landed.
fn catch_conditions(when: &Condition, recently: &str, units: Units) -> Vec<String> {
    let fish = |count: usize| format!("{count}\u{a0}fish");
    let bites = |count: usize| counted(count as u64, "bite");
    let mut conditions = Vec::new();
    conditions.extend(when.min_lost.map(|n| format!("{} or more lost {recently}", fish(n))));
    conditions.extend(when.min_missed.map(|n| format!("{} or more missed {recently}", bites(n))));
    conditions
        .extend(when.min_missed_in_a_row.map(|n| format!("{} or more missed in a row", bites(n))));
    conditions.extend(when.min_landed.map(|n| format!("{} or more landed {recently}", fish(n))));
    conditions.extend(when.max_landed.map(|n| format!("{} or fewer landed {recently}", fish(n))));
    conditions.extend(
        when.min_foul_hooked.map(|n| format!("{} or more foul-hooked {recently}", fish(n))),
    );
    conditions.extend(when.lighter.map(|lighter| {
        let below = weight(lighter.below_kg, units);
        match lighter.of_last {
            1 => format!("the last fish below {below}"),
            n => format!("the last {} below {below} in the mean", fish(n)),
        }
    }));
    conditions
}

/// What must hold of wind, sun and clock.
fn sky_conditions(when: &Condition, units: Units) -> Vec<String> {
    let mut conditions = Vec::new();
    conditions.extend(when.min_wind_m_s.map(|m_s| format!("wind {} or more", speed(m_s, units))));
    conditions.extend(when.max_wind_m_s.map(|m_s| format!("wind {} or less", speed(m_s, units))));
    conditions.extend(when.dusk.map(|dusk| {
        if dusk.stated_s > 0.0 {
            format!("{} or less to sunset", duration(dusk.stated_s))
        } else {
            "after sunset".to_owned()
        }
    }));
    conditions.extend(when.clock.map(|clock| {
        let minutes = (clock.stated_s / 60.0) as u32;
        format!("from {:02}:{:02}", minutes / 60, minutes % 60)
    }));
    conditions
}

/// A mass [kg] of bait or tackle in grams, as in a scenario file.
fn grams(kg: f64) -> String {
    format!("{:.0}\u{a0}g", 1000.0 * kg)
}

/// Line and hook in words, as far as they are stated: `5 lb line`, `small hook`.
pub(crate) fn end_tackle(end: EndTackle, units: Units) -> Vec<String> {
    let line = end.line_strength_kg.map(|kg| format!("{} line", weight_limit(kg, units)));
    let hook = end.hook.map(|hook| format!("{} hook", hook.word()));
    line.into_iter().chain(hook).collect()
}

/// What a rule changes.
fn changes(change: &PlanChange, scenario: &Scenario, units: Units) -> Vec<String> {
    let bait = |recipe: RecipeId| {
        scenario.recipes.get(recipe.0).map_or("another bait", |recipe| recipe.name.as_str())
    };
    let tackle = &change.tackle;
    let mut changes = Vec::new();
    changes.extend(tackle.line.map(|line| format!("line {}", line_name(scenario, line))));
    changes.extend(tackle.recast_s.map(|s| format!("recast {}", duration(s))));
    changes.extend(tackle.recipe.map(|recipe| format!("bait {}", bait(recipe))));
    changes.extend(tackle.load_kg.map(|kg| format!("load {}", grams(kg))));
    changes.extend(tackle.feeder_kg.map(|kg| format!("feeder {}", grams(kg))));
    changes.extend(tackle.buried.map(|yes| (if yes { "buried" } else { "on top" }).to_owned()));
    changes.extend(tackle.compression.map(|factor| format!("squeeze {factor}")));
    changes.extend(tackle.hookbait.map(|hookbait| {
        scenario
            .hookbaits
            .get(hookbait.0)
            .map_or_else(String::new, |bait| format!("hookbait {}", bait.name))
    }));
    changes.extend(end_tackle(tackle.end, units));
    for feed in &change.feeds {
        let mut parts = vec![format!("feed {}", line_name(scenario, feed.line))];
        parts.extend(feed.amount_kg.map(grams));
        parts.extend(feed.recipe.map(|recipe| format!("of {}", bait(recipe))));
        parts.extend(feed.method.map(|method| method.words().unwrap_or("by catapult").to_owned()));
        parts.extend(feed.every_s.map(|s| format!("every {}", duration(s))));
        changes.push(parts.join(" "));
    }
    changes
}
