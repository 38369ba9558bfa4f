//! A plan as it is fished: what the rod does from when to when, and what is fed meanwhile.

use super::measures::{bait_amount, clock, duration, length};
use super::rule_words::RuleWords;
use super::table::shown_name;
use crate::angler::{LooseFeed, Phase, Plan, Rule};
use crate::scenario::{Scenario, Units};

/// Two moments nearer than this are the same [s].
const SAME_S: f64 = 1e-6;
/// A load pressed harder or less than this is said to be.
const PRESSED: (f64, f64) = (0.8, 1.25);

/// Something done from one moment to another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stint<T> {
    /// When it begins [s].
    pub(super) from_s: f64,
    /// When it ends [s].
    pub(super) until_s: f64,
    /// What is done.
    pub(super) does: T,
}

impl<T> Stint<T> {
    /// From when to when, as hours and minutes: `0:00–3:30`.
    pub(super) fn times(&self) -> String {
        format!("{}–{}", hour(self.from_s), hour(self.until_s))
    }
}

/// A moment [s] as hours and minutes, to the second where it is no whole minute.
pub(super) fn hour(t_s: f64) -> String {
    let told = clock(t_s);
    told.strip_suffix(":00").map(str::to_owned).unwrap_or(told)
}

/// What the rod does, in order; phases that differ in loose feed alone are one stint.
pub(super) fn rod(plan: &Plan) -> Vec<Stint<&Phase>> {
    let mut stints: Vec<Stint<&Phase>> = Vec::new();
    for phase in &plan.phases {
        match stints.last_mut() {
            Some(last) if goes_on(last, phase) => last.until_s = phase.until_s,
            _ => {
                stints.push(Stint { from_s: phase.from_s, until_s: phase.until_s, does: phase });
            }
        }
    }
    stints
}

/// Whether a phase only carries on with what the rod did before.
fn goes_on(before: &Stint<&Phase>, phase: &Phase) -> bool {
    let as_before = Phase {
        from_s: before.does.from_s,
        until_s: before.does.until_s,
        loose_feed: before.does.loose_feed.clone(),
        ..phase.clone()
    };
    (phase.from_s - before.until_s).abs() <= SAME_S && as_before == *before.does
}

/// What is fed loose, in order of its beginning.
pub(super) fn feeding(plan: &Plan) -> Vec<Stint<LooseFeed>> {
    let mut stints: Vec<Stint<LooseFeed>> = Vec::new();
    for phase in &plan.phases {
        for feed in &phase.loose_feed {
            let goes_on = |stint: &&mut Stint<LooseFeed>| {
                stint.does == *feed && (stint.until_s - phase.from_s).abs() <= SAME_S
            };
            match stints.iter_mut().find(goes_on) {
                Some(stint) => stint.until_s = phase.until_s,
                None => {
                    stints.push(Stint { from_s: phase.from_s, until_s: phase.until_s, does: *feed })
                }
            }
        }
    }
    stints.sort_by(|a, b| a.from_s.total_cmp(&b.from_s));
    stints
}

/// Words for what a plan does at one fishery.
#[derive(Clone, Copy)]
pub(super) struct Words<'a> {
    /// The fishery.
    pub(super) scenario: &'a Scenario,
    /// How lengths and weights are said.
    pub(super) units: Units,
}

impl Words<'_> {
    /// A line's name.
    pub(super) fn line(&self, line: usize) -> String {
        self.scenario.lines.get(line).map_or_else(String::new, |line| shown_name(&line.name))
    }

    /// How far out a line lies.
    pub(super) fn distance(&self, line: usize) -> String {
        let at = self.scenario.lines.get(line).map(|line| line.at.x_m.hypot(line.at.y_m));
        length(at.unwrap_or(f64::NAN), self.units)
    }

    fn recipe(&self, recipe: usize) -> String {
        self.scenario.recipes.get(recipe).map_or_else(String::new, |of| shown_name(&of.name))
    }

    /// How often to recast: `every 2 min`.
    pub(super) fn recast(&self, phase: &Phase) -> String {
        format!("every {}", duration(phase.recast_s))
    }

    /// What is on the feeder: `25 g groundbait on a 30 g feeder`.
    pub(super) fn load(&self, phase: &Phase) -> String {
        let feeder = bait_amount(phase.feeder_kg, self.units);
        if phase.load_kg <= 0.0 {
            return format!("none, a bare {feeder} lead");
        }
        let pressed = match phase.squeeze {
            squeeze if squeeze < PRESSED.0 => ", pressed lightly",
            squeeze if squeeze > PRESSED.1 => ", pressed hard",
            _ => "",
        };
        let amount = bait_amount(phase.load_kg, self.units);
        format!("{amount} {} on a {feeder} feeder{pressed}", self.recipe(phase.recipe))
    }

    /// What is on the hook, and where: `soft-pellet, on top of the load`.
    pub(super) fn hookbait(&self, phase: &Phase) -> String {
        let hookbait = self.scenario.hookbaits.get(phase.hookbait);
        let hookbait = hookbait.map_or_else(String::new, |of| shown_name(&of.name));
        match (phase.load_kg > 0.0, phase.buried) {
            (false, _) => hookbait,
            (true, true) => format!("{hookbait}, buried in the load"),
            (true, false) => format!("{hookbait}, on top of the load"),
        }
    }

    /// A rule as a coach says it: `If no bite for 12 min: line margin.`
    pub(super) fn rule(&self, rule: &Rule) -> String {
        let words = RuleWords::of(rule, self.scenario, self.units);
        format!("If {}: {}.", shown_name(&words.why), shown_name(&words.what))
    }

    /// What is thrown and how often: `6 g pellets-4mm every 3 min`.
    pub(super) fn feed(&self, feed: &LooseFeed) -> String {
        format!(
            "{} {} every {}",
            bait_amount(feed.amount_kg, self.units),
            self.recipe(feed.recipe),
            duration(feed.every_s)
        )
    }
}
