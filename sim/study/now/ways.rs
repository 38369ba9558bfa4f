//! Ways to go on from now.

use schemars::JsonSchema;
use serde::Serialize;

use crate::angler::{Phase, Plan, Rules, Tackle};
use crate::scenario::Scenario;
use crate::water::LineId;

/// Largest number of other lines, other plans and other hookbaits that are tried.
const MAX_OTHERS: usize = 2;
/// Largest number of changes of bait and feeder that are tried, so that advice takes seconds.
const MAX_CHANGES: usize = 4;
/// The hookbait of a cast that only builds the swim.
const NO_HOOKBAIT: &str = "none";

/// What is done differently from now on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WayKind {
    /// The plan, with its rules.
    AsPlanned,
    /// The plan, and the bait that is out is wound in now.
    RecastNow,
    /// Another line with the tackle of now, to the end.
    Line(String),
    /// Another plan of the scenario.
    Plan(String),
    /// The plan with half its recast intervals.
    RecastSooner,
    /// The plan with twice its recast intervals.
    RecastLater,
    /// The plan with twice its bait.
    FeedMore,
    /// The plan with half its bait.
    FeedLess,
    /// The plan with this hookbait, which another plan uses.
    Hookbait(String),
    /// The plan with this mix on the feeder, which another plan uses.
    Mix(String),
    /// The plan with feeder and load as this other plan has them.
    FeederOf(String),
    /// The plan with a bare lead in place of the feeder.
    BareLead,
}

/// A way to go on.
#[derive(Clone, Debug, PartialEq)]
pub struct WayToGoOn {
    /// What is done differently.
    pub kind: WayKind,
    /// What is fished from now on.
    pub plan: Plan,
    /// Whether a bait that is out is wound in now.
    pub winds_in_now: bool,
}

impl WayToGoOn {
    /// Whether the same is fished from now on, under another name.
    pub(super) fn is_fished_like(&self, other: &Self) -> bool {
        self.winds_in_now == other.winds_in_now
            && self.plan.phases == other.plan.phases
            && self.plan.rules.list.is_empty()
            && other.plan.rules.list.is_empty()
            && self.plan.bait_limit_kg == other.plan.bait_limit_kg
    }
}

/// Every way to go on from a time of the session [s], the plan itself first.
#[must_use]
pub fn ways_to_go_on(
    scenario: &Scenario,
    plan: &Plan,
    at_s: f64,
    is_bait_out: bool,
) -> Vec<WayToGoOn> {
    let way = |kind: WayKind, plan: Plan| WayToGoOn { kind, plan, winds_in_now: false };
    let mut ways = vec![way(WayKind::AsPlanned, plan.clone())];
    if is_bait_out {
        ways.push(WayToGoOn { winds_in_now: true, ..way(WayKind::RecastNow, plan.clone()) });
    }
    let running = plan.phases.iter().rev().find(|phase| phase.from_s <= at_s);
    let running = running.or(plan.phases.first());
    if let Some(running) = running {
        let others = LineId::all(scenario.lines.len()).filter(|line| *line != running.tackle.line);
        for line in others.take(MAX_OTHERS) {
            let name = scenario.lines[line].name.clone();
            ways.push(way(WayKind::Line(name), on_line(scenario, plan, running, line)));
        }
    }
    let others = scenario.plans.iter().filter(|other| other.name != plan.name);
    ways.extend(
        others.take(MAX_OTHERS).map(|other| way(WayKind::Plan(other.name.clone()), other.clone())),
    );
    ways.push(way(WayKind::RecastSooner, with_tackle(plan, |tackle| tackle.recast_s *= 0.5)));
    ways.push(way(WayKind::RecastLater, with_tackle(plan, |tackle| tackle.recast_s *= 2.0)));
    if plan.phases.iter().any(|phase| phase.tackle.load_kg > 0.0 || !phase.loose_feed.is_empty()) {
        ways.push(way(WayKind::FeedMore, with_feed(plan, 2.0)));
        ways.push(way(WayKind::FeedLess, with_feed(plan, 0.5)));
    }
    if let Some(running) = running {
        let changes = changes_of_tackle(scenario, running.tackle);
        ways.extend(changes.map(|(kind, change)| way(kind, with_tackle(plan, change))));
    }
    ways
}

/// A change of the tackle of every phase.
type TackleEdit = Box<dyn Fn(&mut Tackle)>;

/// Other hookbaits, mixes and feeders that the scenario's plans use, and a bare lead: what is likely to be in the bag.
fn changes_of_tackle(
    scenario: &Scenario,
    now: Tackle,
) -> impl Iterator<Item = (WayKind, TackleEdit)> {
    let mut changes: Vec<(WayKind, TackleEdit)> = Vec::new();
    let others = || {
        scenario
            .plans
            .iter()
            .flat_map(|plan| plan.phases.iter().map(move |phase| (plan, phase.tackle)))
    };
    let mut hookbaits = Vec::new();
    for (_, tackle) in others() {
        let bait = tackle.hookbait;
        let is_bait = scenario.hookbaits[bait].name != NO_HOOKBAIT && bait != now.hookbait;
        if is_bait && !hookbaits.contains(&bait) && hookbaits.len() < MAX_OTHERS {
            hookbaits.push(bait);
            let name = scenario.hookbaits[bait].name.clone();
            changes.push((
                WayKind::Hookbait(name),
                Box::new(move |it: &mut Tackle| it.hookbait = bait),
            ));
        }
    }
    let is_loaded = now.load_kg > 0.0;
    let mix = others()
        .map(|(_, tackle)| tackle)
        .find(|tackle| is_loaded && tackle.load_kg > 0.0 && tackle.recipe != now.recipe);
    if let Some(mix) = mix {
        let name = scenario.recipes[mix.recipe].name.clone();
        changes.push((WayKind::Mix(name), Box::new(move |it: &mut Tackle| it.recipe = mix.recipe)));
    }
    if let Some((plan, other)) = others().find(|(_, tackle)| is_other_feeder(tackle, &now)) {
        let edit = move |it: &mut Tackle| {
            (it.feeder_kg, it.load_kg) = (other.feeder_kg, other.load_kg);
            (it.buried, it.compression) = (other.buried, other.compression);
            if !is_loaded {
                it.recipe = other.recipe;
            }
        };
        changes.push((WayKind::FeederOf(plan.name.clone()), Box::new(edit)));
    }
    if is_loaded {
        let bare = |it: &mut Tackle| (it.load_kg, it.buried) = (0.0, false);
        changes.push((WayKind::BareLead, Box::new(bare)));
    }
    changes.truncate(MAX_CHANGES);
    changes.into_iter()
}

/// Whether a loaded feeder is another one, or loaded in another way.
fn is_other_feeder(tackle: &Tackle, now: &Tackle) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    tackle.load_kg > 0.0
        && !(same(tackle.load_kg, now.load_kg)
            && same(tackle.feeder_kg, now.feeder_kg)
            && same(tackle.compression, now.compression)
            && tackle.buried == now.buried)
}

/// A plan with the tackle of every phase changed.
fn with_tackle(plan: &Plan, change: impl Fn(&mut Tackle)) -> Plan {
    let mut changed = plan.clone();
    changed.phases.iter_mut().for_each(|phase| change(&mut phase.tackle));
    changed
}

/// The tackle and feed of a phase on another line to the end.
fn on_line(scenario: &Scenario, plan: &Plan, phase: &Phase, line: LineId) -> Plan {
    let mut phase = Phase { from_s: 0.0, until_s: scenario.session_s, ..phase.clone() };
    phase.tackle.line = line;
    Plan { phases: vec![phase], rules: Rules::default(), ..plan.clone() }
}

/// A plan with its bait changed by a factor: what is thrown in by hand, or the loads if nothing is.
fn with_feed(plan: &Plan, factor: f64) -> Plan {
    let mut changed = plan.clone();
    for phase in &mut changed.phases {
        if phase.loose_feed.is_empty() {
            phase.tackle.load_kg *= factor;
        }
        phase.loose_feed.iter_mut().for_each(|feed| feed.amount_kg *= factor);
    }
    changed
}
