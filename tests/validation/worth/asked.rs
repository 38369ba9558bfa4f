//! Matches that are stopped for advice: their log up to then, and what it brings to follow the advice.

use sim::angler::{Plan, PlanId};
use sim::catch_log::{CatchLog, LoggedCast, catch_log_text, read_catch_log};
use sim::engine::{Dice, NullObserver};
use sim::scenario::{Scenario, UnknownTarget};
use sim::session::{Day, PausedSession, run_session};
use sim::study::{
    Control, NowSpec, WayForecast, WayToGoOn, logged_plans, now, simulated_session, ways_to_go_on,
};

/// How often chance goes on from the minute of the advice.
const GOES_ON: u64 = 16;

/// A day of the true water. The number of fish is in doubt, as it is for the simulator that advises.
pub(super) fn true_day(truth: &Scenario, dice: &mut Dice, number: u32) -> Day {
    let unknowns = truth.unknowns();
    let stock = unknowns
        .iter()
        .filter(|unknown| matches!(unknown.target, UnknownTarget::StockFactor(_)))
        .map(|unknown| (unknown.target, unknown.parameter.draw(dice)));
    let (targets, factors): (Vec<_>, Vec<_>) = stock.unzip();
    let learned = Some((targets.as_slice(), factors.as_slice()));
    Day::draw_with(truth, 4243, [number, number], 0, learned)
}

/// What the angler has written down by a time of a match [s]. `None` if nothing was cast.
fn log_until(truth: &Scenario, fished: &Plan, day: &Day, at_s: f64) -> Option<CatchLog> {
    let outcome = run_session(truth, fished, day);
    let mut session = simulated_session(truth, fished, day, 0.0, 1.0);
    session.casts.retain(|cast| cast.cast_s <= at_s);
    let is_landed = |cast: &&LoggedCast| {
        let end = cast.end.as_ref().filter(|end| end.at_s <= at_s);
        end.and_then(|end| end.catch.as_ref()).is_some_and(|catch| catch.landed == Some(true))
    };
    let landed = session.casts.iter().filter(is_landed).count();
    let netted = outcome.catches.iter().filter(|fish| fish.at_s <= at_s).count();
    let last = session.casts.last_mut()?;
    last.end = last.end.take().filter(|end| end.at_s <= at_s);
    // A fish that is still being played is not in the net.
    let catch = last.end.as_mut().and_then(|end| end.catch.as_mut());
    if let Some(catch) = catch.filter(|_| landed > netted) {
        (catch.landed, catch.weight_kg) = (None, None);
    }
    read_catch_log(&catch_log_text(&[session]), "match", "match.csv").ok()
}

/// What was advised at one time of a match.
pub(super) struct Asked {
    /// What was foretold of the plan.
    pub(super) foretold: WayForecast,
    /// The way that was advised. `None` for the plan.
    pub(super) way: Option<WayToGoOn>,
    /// What it brings to go that way from there to the end; the mean over [`GOES_ON`] ways in which chance may go on, the same
    /// with and without the advice [kg].
    pub(super) gain_kg: f64,
}

/// Stops a match on the true water at a time [s], asks what the believed one advises, and fishes on both with the advice and
/// without it. `fished` is what was fished so far, `plan` what would be fished to the end. `None` if `now` refuses.
pub(super) fn asked(
    truth: &Scenario,
    believed: &Scenario,
    (fished, plan): (&Plan, usize),
    day: &Day,
    at_s: f64,
) -> Option<Asked> {
    let log = log_until(truth, fished, day, at_s)?;
    let past = logged_plans(&log, "match.csv", believed).ok()?.pop()?;
    let (clock_s, seed, sessions) = (at_s, 7, 400);
    let (scenario, log, past) = (believed, &log, &past);
    let spec = NowSpec { scenario, plan: PlanId(plan), log, past, clock_s, seed, sessions };
    let advice = now(&spec, Control::default()).ok()?;
    let mut observer = NullObserver;
    let paused = PausedSession::new(truth, fished, day, at_s, &mut observer);
    let kg = |plan, winds_in| {
        let after = |chance| paused.go_on_by_chance(plan, winds_in, chance).weight_g as f64;
        (1..=GOES_ON).map(after).sum::<f64>() / (1000.0 * GOES_ON as f64)
    };
    let planned = &believed.plans[plan];
    let ways = ways_to_go_on(believed, planned, at_s, paused.is_bait_out());
    let way = advice.better.and_then(|kind| ways.into_iter().find(|way| way.kind == kind));
    let gain_kg =
        way.as_ref().map_or(0.0, |way| kg(&way.plan, way.winds_in_now) - kg(planned, false));
    Some(Asked { foretold: advice.ways.into_iter().next()?, way, gain_kg })
}

/// A plan up to a time [s], and from then on another.
fn then(first: &Plan, at_s: f64, second: &Plan) -> Plan {
    let before = first.phases.iter().filter(|phase| phase.from_s < at_s).cloned();
    let after = second.phases.iter().filter(|phase| phase.until_s > at_s).cloned();
    let mut phases: Vec<_> = before.collect();
    phases.iter_mut().for_each(|phase| phase.until_s = phase.until_s.min(at_s));
    phases.extend(after.map(|mut phase| {
        phase.from_s = phase.from_s.max(at_s);
        phase
    }));
    Plan { phases, ..second.clone() }
}

/// What each of several requests for advice in one match brings, each followed to the end or to the next one [kg].
///
/// Each is the gain over what was fished just before it, so their sum is what all of them bring over the plan: the chance of the
/// course between them is left out in the mean. A bait that the advice winds in stays out between them. Ends early if `now` refuses.
pub(super) fn gains_kg(scenario: &Scenario, plan: usize, day: &Day, times_s: &[f64]) -> Vec<f64> {
    let mut believed = scenario.clone();
    let mut fished = scenario.plans[plan].clone();
    let mut gains = Vec::new();
    for &at_s in times_s {
        let Some(asked) = asked(scenario, &believed, (&fished, plan), day, at_s) else { break };
        gains.push(asked.gain_kg);
        if let Some(way) = asked.way {
            fished = then(&fished, at_s, &way.plan);
            believed.plans[plan] = Plan { name: believed.plans[plan].name.clone(), ..way.plan };
        }
    }
    gains
}
