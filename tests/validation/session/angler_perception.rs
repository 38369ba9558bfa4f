//! Perception of the angler: line bites, and rules about the past.

use proptest::prelude::*;
use sim::angler::{Condition, Perceived};
use sim::engine::EventLog;
use sim::session::{Day, Event, observe_session};
use sim::water::LineId;

use crate::demo::demo;
use crate::evidence::Z_BOUND;

/// V-71: line bites occur at the book's rates for the fish at the rig.
#[test]
fn line_bites_occur_at_the_rate_of_the_fish_at_the_rig() {
    let scenario = demo(&[]);
    let (mut touches, mut expected) = (0_u32, 0.0);
    for number in 1..=10 {
        let day = Day::draw(&scenario, 1, number);
        for plan in &scenario.plans {
            let mut record = EventLog::default();
            let outcome = observe_session(&scenario, plan, &day, &mut record);
            let touch = |(_, event): &&(_, Event)| matches!(event, Event::LineIsTouched { .. });
            touches += record.events.iter().filter(touch).count() as u32;
            expected += (day.angler.touch_up_per_h * outcome.swim.fish_up_s
                + day.angler.touch_below_per_h * outcome.swim.fish_on_line_s)
                / 3600.0;
        }
    }
    // Line bites do not change where fish are; given the places of fish, their number is Poisson with this mean.
    let z = (f64::from(touches) - expected) / f64::sqrt(expected);
    assert!(expected > 50.0, "V-71: {expected} line bites are too few for this test");
    assert!(z.abs() < Z_BOUND, "V-71: {touches} touches, {expected:.1} expected: z = {z:.2}");
}

/// Whether a rule's conditions hold at one time, by a new count.
fn holds_by_counting(
    when: &Condition,
    bites_s: &[f64],
    shows_s: &[f64],
    since_s: f64,
    now_s: f64,
) -> bool {
    let lately = |at_s: &&f64| now_s - **at_s < when.within_s;
    let bites = bites_s.iter().filter(lately).count();
    let shows = shows_s.iter().filter(lately).count();
    let last_s = bites_s.iter().copied().fold(since_s, f64::max);
    when.no_bite_for_s.is_none_or(|quiet_s| now_s - last_s >= quiet_s)
        && when.min_bites.is_none_or(|least| bites >= least)
        && when.max_bites.is_none_or(|most| bites <= most && now_s - since_s >= when.within_s)
        && when.min_shows.is_none_or(|least| shows >= least)
        && when.after_s.is_none_or(|after_s| now_s >= after_s)
}

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-72: the times at which a rule holds, predicted once, are those found by counting at every time.
    #[test]
    fn a_rule_holds_at_exactly_the_times_found_by_counting(
        since_s in 0_u32..600,
        bites in prop::collection::vec(0_u32..900, 0..6),
        shows in prop::collection::vec(0_u32..1500, 0..5),
        quiet_s in prop::option::of(1_u32..900),
        least in prop::option::of(1_usize..4),
        most in prop::option::of(0_usize..4),
        show in prop::option::of(1_usize..4),
        after_s in prop::option::of(1_u32..3000),
        within_s in 60_u32..1200,
    ) {
        let mut bites: Vec<f64> = bites.iter().map(|at| f64::from(at + since_s)).collect();
        let mut shows: Vec<f64> = shows.iter().map(|at| f64::from(*at)).collect();
        bites.sort_by(f64::total_cmp);
        shows.sort_by(f64::total_cmp);
        let mut seen = Perceived::new(18_000.0, 2);
        seen.turn_to_line(Some(LineId(0)), f64::from(since_s));
        bites.iter().for_each(|&at_s| seen.add_bite(at_s));
        shows.iter().for_each(|&at_s| seen.add_show(LineId(1), at_s));
        let when = Condition {
            no_bite_for_s: quiet_s.map(f64::from),
            min_bites: least,
            max_bites: most,
            min_shows: show,
            show_line: Some(LineId(1)),
            after_s: after_s.map(f64::from),
            within_s: f64::from(within_s),
            ..Condition::default()
        };
        // From the last event perceived, half-way between whole seconds.
        let last_s = bites.iter().chain(&shows).copied().fold(f64::from(since_s), f64::max);
        for step in 0..4000 {
            let now_s = last_s + 0.5 + f64::from(step);
            // The time asked about matters to the wind only.
            let holds = when.window(&seen, None, None, now_s);
            let counted = holds_by_counting(&when, &bites, &shows, f64::from(since_s), now_s);
            prop_assert_eq!(holds.contains(now_s), counted, "V-72 at {} s: {:?}", now_s, holds);
        }
    }
}
