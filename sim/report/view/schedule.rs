//! The timetable of a plan: what the rod does from when to when, and what is fed meanwhile.

use std::f64::consts::PI;

use crate::angler::{FeedMethod, LooseFeed, Plan, PlanRule, RecipeId, Tackle};
use crate::bait::ParticleShape;
use crate::numerics::{atan2, cube, hypot};
use crate::report::format::{
    RuleDescription, bait_amount, clock, counted, duration, end_tackle, length, one_line,
};
use crate::scenario::{HANDFUL_KG, POUCH_KG, Scenario, Units};
use crate::water::LineId;

/// Times closer than this are treated as equal [s].
const SAME_S: f64 = 1e-6;
/// Squeeze factors below and above which a load is called pressed lightly or hard.
const USUAL_SQUEEZE: (f64, f64) = (0.8, 1.25);

/// A bait is taken for pellets if more than this share of it is one kind of ball, at least this wide [m].
const ONE_KIND_SHARE: f64 = 0.75;
const MIN_COUNTED_M: f64 = 3e-3;
/// Nobody counts as many pellets as this.
const MAX_COUNTED: f64 = 100.5;

/// An action from one time to another.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stint<T> {
    /// When the action begins [s].
    pub(crate) from_s: f64,
    /// When the action ends [s].
    pub(crate) until_s: f64,
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

    /// Direction of a line from the peg: `straight out` or `65° to the left`.
    pub(crate) fn direction(&self, line: LineId) -> String {
        let at = self.scenario.lines.get(line.0).map(|line| line.at);
        let degrees = at.map_or(0.0, |at| atan2(at.x_m, at.y_m).to_degrees()).round();
        match degrees {
            degrees if degrees < 0.0 => format!("{}° to the left", -degrees),
            degrees if degrees > 0.0 => format!("{degrees}° to the right"),
            _ => "straight out".to_owned(),
        }
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

    /// What a throw of loose feed is on the bank: `about 60 pellets`, `about 1½ pouches`.
    ///
    /// `None` for bait that is neither thrown by catapult or hand nor made of pellets.
    pub(crate) fn on_the_bank(&self, feed: &LooseFeed) -> Option<String> {
        let pellets = self.scenario.recipes.get(feed.recipe.0).and_then(|recipe| {
            let class = recipe.classes.iter().find(|class| class.share > ONE_KIND_SHARE)?;
            let one_kg = PI / 6.0 * cube(class.diameter_m) * class.density_kg_m3;
            let is_counted =
                class.shape == ParticleShape::Sphere && class.diameter_m >= MIN_COUNTED_M;
            is_counted.then_some(class.share * feed.amount_kg / one_kg)
        });
        if let Some(count) = pellets.filter(|count| (1.0..MAX_COUNTED).contains(count)) {
            let step = if count < 20.0 { 1.0 } else { 5.0 };
            let rounded = step * (count / step).round();
            return Some(format!("about {}", counted(rounded as u64, "pellet")));
        }
        let (unit, units, kg) = match feed.method {
            FeedMethod::Catapult => ("pouch", "pouches", POUCH_KG),
            FeedMethod::Hand => ("handful", "handfuls", HANDFUL_KG),
            FeedMethod::Pot | FeedMethod::Ball => return None,
        };
        let halves = (2.0 * feed.amount_kg / kg).round() as u64;
        let (whole, half) = (halves / 2, if halves % 2 == 1 { "½" } else { "" });
        match (whole, half) {
            (0, "") => Some(format!("less than half a {unit}")),
            (0, _) => Some(format!("about half a {unit}")),
            (1, "") => Some(format!("about a {unit}")),
            _ => Some(format!("about {whole}{half} {units}")),
        }
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
