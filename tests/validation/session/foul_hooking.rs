//! Fish hooked outside the mouth: the number that the chances imply, none with chances of zero, more over feed that
//! holds fish up.

use std::collections::BTreeMap;

use rayon::prelude::*;
use sim::engine::EventLog;
use sim::scenario::{Scenario, read};
use sim::session::{Day, Event, Outcome, observe_session, run_session};
use sim::water::LineId;

use crate::demo::demo;
use crate::evidence::{standard_error, within_z};
use crate::measured::measured;

/// All plans of a water on its first days, with given chances of striking and foul-hooking.
fn watched(
    scenario: &Scenario,
    [strikes, at_strike, at_wind_in]: [f64; 3],
) -> Vec<(Vec<Event>, Outcome)> {
    let of_days = (1..=40).into_par_iter().map(|number| {
        let mut day = Day::draw(scenario, 1, number);
        day.angler.strikes_at_touch = strikes;
        day.angler.fouls_at_strike = at_strike;
        day.angler.fouls_at_wind_in = at_wind_in;
        let fished = scenario.plans.iter().map(|plan| {
            let mut record = EventLog::default();
            let outcome = observe_session(scenario, plan, &day, &mut record);
            (record.events.into_iter().map(|(_, event)| event).collect(), outcome)
        });
        fished.collect::<Vec<_>>()
    });
    of_days.flatten().collect()
}

/// V-145: the angler is set to strike at each line bite while free, and a strike hooks outside the mouth with the
/// book's chance p. Of n strikes the number is binomial, with mean n·p and variance n·p·(1 − p), for any history.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn strikes_at_line_bites_foul_hook_a_binomial_count() {
    let p = 0.3;
    let (mut strikes, mut fouled) = (0.0, 0.0);
    for (events, outcome) in watched(&demo(&[]), [1.0, p, 0.0]) {
        strikes +=
            events.iter().filter(|e| matches!(e, Event::AnglerStrikes { .. })).count() as f64;
        fouled += f64::from(outcome.foul_hooked);
    }
    assert!(strikes > 300.0, "V-145: {strikes} strikes are too few for this test");
    let error = f64::sqrt(strikes * p * (1.0 - p));
    let z = within_z("V-145 foul-hooked", fouled, strikes * p, error);
    measured!("V-145", "{fouled} fish, {:.1} expected (z = {z:+.1})", strikes * p);
}

/// V-145: where neither strikes nor winding in foul-hook, no fish is foul-hooked; and where the angler never strikes
/// at a line bite either, sessions do not depend on the rows about foul-hooked fish.
#[test]
fn with_chances_of_zero_no_fish_is_foul_hooked() {
    let scenario = demo(&[]);
    for number in 1..=2 {
        let mut day = Day::draw(&scenario, 1, number);
        day.angler.fouls_at_strike = 0.0;
        day.angler.fouls_at_wind_in = 0.0;
        day.angler.strikes_at_touch = 1.0;
        let struck = run_session(&scenario, &scenario.plans[0], &day);
        assert_eq!(struck.foul_hooked, 0, "V-145");
        day.angler.strikes_at_touch = 0.0;
        let one = run_session(&scenario, &scenario.plans[0], &day);
        day.angler.foul_fight_times = 3.0;
        day.angler.foul_lands_share = 0.2;
        assert_eq!(one, run_session(&scenario, &scenario.plans[0], &day), "V-145");
    }
}

/// V-146: a rig wound in past n fish up in the water hooks one of them with chance 1 − (1 − p)ⁿ; n is counted here
/// from the recorded events. The number less its mean, summed over all windings, is a sum of steps of mean zero, for
/// any history.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn rigs_wound_in_foul_hook_as_many_fish_as_the_fish_in_their_way_imply() {
    let p: f64 = 0.1;
    let (mut fouled, mut expected, mut variance) = (0.0, 0.0, 0.0);
    for (events, outcome) in watched(&fed(), [0.0, 0.0, p]) {
        fouled += f64::from(outcome.foul_hooked);
        let (mut up, mut cast_on) = (BTreeMap::new(), LineId(0));
        for event in events {
            match event {
                Event::RigIsCast { line, .. } => cast_on = line,
                Event::FishRises { fish, line } => _ = up.insert(fish, line),
                Event::FishGoesDown { fish, .. } | Event::FishLeaves { fish, .. } => {
                    up.remove(&fish);
                }
                Event::RigIsWoundIn { .. } => {
                    let fish = up.values().filter(|&&line| line == cast_on).count();
                    let chance = 1.0 - (1.0 - p).powi(fish as i32);
                    expected += chance;
                    variance += chance * (1.0 - chance);
                }
                _ => {}
            }
        }
    }
    assert!(expected > 50.0, "V-146: {expected} expected are too few for this test");
    let z = within_z("V-146 foul-hooked in passing", fouled, expected, f64::sqrt(variance));
    measured!("V-146", "{fouled}, {expected:.1} expected (z = {z:+.1})");
}

/// A line fed 240 g an hour: either in small frequent amounts, which hold fish up, or in heavy throws, which bring
/// them down.
const FED: &str = r#"
    title = "One line fed two ways; an invented water"
    [line.open]
    distance = "25 m"
    [shoal.carp]
    count = 240
    weight = "1.5 kg"
    home = "open"
    [plan.often]
    recast = "4 min"
    load = "0 g"
    feed.open = { bait = "pellets-4mm", every = "1 min", amount = "4 g" }
    [plan.heavy]
    recast = "4 min"
    load = "0 g"
    feed.open = { bait = "pellets-4mm", every = "20 min", amount = "80 g" }
"#;

fn fed() -> Scenario {
    read(FED, "fed", &[]).expect("it is sound")
}

/// V-147: feed that holds fish up in the water causes more foul-hooked fish; a true claim fails this once in 30 000.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn feed_that_holds_fish_up_makes_more_foul_hooked_fish() {
    let scenario = fed();
    let more: Vec<f64> = (1..=400)
        .into_par_iter()
        .map(|number| {
            let day = Day::draw(&scenario, 1, number);
            let of = |plan: usize| run_session(&scenario, &scenario.plans[plan], &day).foul_hooked;
            f64::from(of(0)) - f64::from(of(1))
        })
        .collect();
    let mean = more.iter().sum::<f64>() / more.len() as f64;
    let z = mean / standard_error(&more);
    println!("V-147: {mean:.3} more foul-hooked a session, z = {z:.1}");
    assert!(z > 4.0, "V-147: {mean} more, z = {z}");
    measured!("V-147", "{mean:.2} more a session (z = {z:+.1})");
}
