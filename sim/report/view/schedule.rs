//! The timetable of a plan: what the rod does from when to when, and what is fed meanwhile.

use crate::angler::{LooseFeed, Plan, PlanRule, RecipeId, Tackle};
use crate::numerics::hypot;
use crate::report::format::{
    RuleDescription, bait_amount, clock, duration, end_tackle, length, one_line,
};
use crate::scenario::{Scenario, Units};
use crate::water::LineId;

/// Times closer than this are treated as equal [s].
const SAME_S: f64 = 1e-6;
/// Squeeze factors below and above which a load is called pressed lightly or hard.
const USUAL_SQUEEZE: (f64, f64) = (0.8, 1.25);

/// An action from one time to another.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stint<T> {
    /// When it begins [s].
    pub(crate) from_s: f64,
    /// When it ends [s].
    pub(crate) until_s: f64,
    /// The action.
    pub(crate) action: T,
}

impl<T> Stint<T> {
    /// Start and end, as hours and minutes: `0:00–3:30`.
    pub(crate) fn times(&self) -> String {
        format!("{}–{}", hours_minutes(self.from_s), hours_minutes(self.until_s))
    }
}

/// A time [s] as hours and minutes, with seconds if it is not a whole minute.
pub(crate) fn hours_minutes(t_s: f64) -> String {
    let time = clock(t_s);
    time.strip_suffix(":00").map(str::to_owned).unwrap_or(time)
}

/// What the rod does, in order.
///
/// Phases that differ only in loose feed are one stint.
pub(crate) fn rod_schedule(plan: &Plan) -> Vec<Stint<Tackle>> {
    let mut stints: Vec<Stint<Tackle>> = Vec::new();
    for phase in &plan.phases {
        let continues = |stint: &&mut Stint<Tackle>| {
            stint.action == phase.tackle && (phase.from_s - stint.until_s).abs() <= SAME_S
        };
        let (from_s, until_s) = (phase.from_s, phase.until_s);
        match stints.last_mut().filter(continues) {
            Some(last) => last.until_s = until_s,
            None => stints.push(Stint { from_s, until_s, action: phase.tackle }),
        }
    }
    stints
}

/// Loose feed, in order of its start.
pub(crate) fn feeding_schedule(plan: &Plan) -> Vec<Stint<LooseFeed>> {
    let mut stints: Vec<Stint<LooseFeed>> = Vec::new();
    for phase in &plan.phases {
        for feed in &phase.loose_feed {
            let continues = |stint: &&mut Stint<LooseFeed>| {
                stint.action == *feed && (stint.until_s - phase.from_s).abs() <= SAME_S
            };
            match stints.iter_mut().find(continues) {
                Some(stint) => stint.until_s = phase.until_s,
                None => stints.push(Stint {
                    from_s: phase.from_s,
                    until_s: phase.until_s,
                    action: *feed,
                }),
            }
        }
    }
    stints.sort_by(|a, b| a.from_s.total_cmp(&b.from_s));
    stints
}

/// Puts what a plan does into words.
#[derive(Clone, Copy)]
pub(crate) struct PlanWords<'a> {
    /// The water and its lines, baits and hookbaits.
    pub(crate) scenario: &'a Scenario,
    /// Units of lengths and weights.
    pub(crate) units: Units,
}

impl PlanWords<'_> {
    /// A line's name.
    pub(crate) fn line(&self, line: LineId) -> String {
        self.scenario.lines.get(line.0).map_or_else(String::new, |line| one_line(&line.name))
    }

    /// Distance of a line from the peg.
    pub(crate) fn distance(&self, line: LineId) -> String {
        let distance_m =
            self.scenario.lines.get(line.0).map(|line| hypot(line.at.x_m, line.at.y_m));
        length(distance_m.unwrap_or(f64::NAN), self.units)
    }

    fn recipe(&self, recipe: RecipeId) -> String {
        self.scenario
            .recipes
            .get(recipe.0)
            .map_or_else(String::new, |recipe| one_line(&recipe.name))
    }

    /// Recast interval: `every 2 min`.
    pub(crate) fn recast(&self, tackle: &Tackle) -> String {
        format!("every {}", duration(tackle.recast_s))
    }

    /// The load of the feeder: `25 g groundbait on a 30 g feeder`.
    pub(crate) fn load(&self, tackle: &Tackle) -> String {
        let feeder = bait_amount(tackle.feeder_kg, self.units);
        if tackle.load_kg <= 0.0 {
            return format!("none, a bare {feeder} lead");
        }
        let pressed = match tackle.compression {
            squeeze if squeeze < USUAL_SQUEEZE.0 => ", pressed lightly",
            squeeze if squeeze > USUAL_SQUEEZE.1 => ", pressed hard",
            _ => "",
        };
        let amount = bait_amount(tackle.load_kg, self.units);
        format!("{amount} {} on a {feeder} feeder{pressed}", self.recipe(tackle.recipe))
    }

    /// The hookbait, where it is, and line and hook if they are stated: `soft-pellet, on top of the load; 5 lb line`.
    pub(crate) fn hookbait(&self, tackle: &Tackle) -> String {
        let end = tackle.end.or(self.scenario.end_tackle_on(tackle.line));
        let end = end_tackle(end, self.units);
        let bait = self.bait_on_hook(tackle);
        std::iter::once(bait).chain(end).collect::<Vec<_>>().join("; ")
    }

    fn bait_on_hook(&self, tackle: &Tackle) -> String {
        let hookbait = self.scenario.hookbaits.get(tackle.hookbait.0);
        let hookbait = hookbait.map_or_else(String::new, |recipe| one_line(&recipe.name));
        match (tackle.load_kg > 0.0, tackle.buried) {
            (false, _) => hookbait,
            (true, true) => format!("{hookbait}, buried in the load"),
            (true, false) => format!("{hookbait}, on top of the load"),
        }
    }

    /// A rule as a coach would say it: `If no bite for 12 min: line margin.`
    pub(crate) fn rule(&self, rule: &PlanRule) -> String {
        let words = RuleDescription::from_rule(rule, self.scenario, self.units);
        format!("If {}: {}.", one_line(&words.condition), one_line(&words.change))
    }

    /// Loose feed and its interval: `6 g pellets-4mm every 3 min`.
    pub(crate) fn feed(&self, feed: &LooseFeed) -> String {
        let how = feed.method.words().map_or_else(String::new, |words| format!(" {words}"));
        format!(
            "{} {}{how} every {}",
            bait_amount(feed.amount_kg, self.units),
            self.recipe(feed.recipe),
            duration(feed.every_s)
        )
    }
}
