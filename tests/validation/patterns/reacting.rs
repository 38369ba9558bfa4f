//! When to be where: a margin as the light goes, and rules that react to a line without bites; patterns 29 and 30.

use super::families::{fish_between, kg};
use super::sessions::{fished, z_of};
use crate::demo::scenario;
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// V-191, pattern 29: a margin that is fed quietly and fished last yields more an hour than the same margin fished in the
/// middle of the session, where the shoal moves with the light.
///
/// An evening in July on a water of the shelf: an hour on the margin from the third hour on, and one at the end, fed by
/// hand with 5 g every five minutes in either case. On the water as it is, in muddy water and with the shoal nearer to the bank:
/// more fish in the last hour, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_margin_is_best_fished_last() {
    const PLAN: &str = "open-all-evening";
    let key = |rest: &str| format!("plan.{PLAN}.{rest}");
    let feed = key("feed.margin={ bait = \"pellets-6mm\", every = \"5 min\", amount = \"5 g\" }");
    let middle = [
        key("phase.1.until=2 h"),
        key("phase.1.line=open"),
        key("phase.2.until=3 h"),
        key("phase.2.line=margin"),
        key("phase.3.line=open"),
    ];
    let last =
        [key("phase.1.until=3 h 30 min"), key("phase.1.line=open"), key("phase.2.line=margin")];
    let (mut faults, mut results, mut smallest) = (Vec::new(), Vec::new(), f64::INFINITY);
    for water in ["water.clarity=coloured", "water.clarity=muddy", "shoal.carp.home_out=14 m"] {
        let in_hour = |phases: &[String], from_h: f64| {
            let own = phases.iter().map(String::as_str).chain([water, &feed]);
            let water = scenario("scenarios/lantern-pool.toml", &own.collect::<Vec<_>>());
            let outcomes = fished(&water, PLAN, 300);
            fish_between(&outcomes, 3600.0 * from_h, 3600.0 * (from_h + 1.0) + 1.0)
        };
        let (middle, last) = (in_hour(&middle, 2.0), in_hour(&last, 3.5));
        let z = z_of(&last, &middle);
        println!(
            "V-191 {water}: {:.2} fish in an hour in the middle, {:.2} in the last, z = {z:+.1}",
            mean(&middle),
            mean(&last)
        );
        if z <= Z_BOUND {
            faults.push(format!("{water}: z = {z:+.1}"));
        }
        smallest = smallest.min(z);
        results.push(format!("{:.2} to {:.2}", mean(&middle), mean(&last)));
    }
    assert!(faults.is_empty(), "V-191: {faults:?}");
    measured!("V-191", "met: {} fish; smallest z = {smallest:+.1}", results.join(", "));
}

/// V-192, pattern 30: on days that differ enough a plan with a sensible rule beats the same plan without.
///
/// Two shoals of which either may be missing on a day: a rule that changes the line after forty minutes without a bite,
/// against staying. From the open line on a water of the shelf, from there with fewer roaming fish, and from the margin
/// with fewer fish in its reeds: heavier, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_rule_that_leaves_a_line_without_bites_pays() {
    let few = "{ low = 0, high = 60 }";
    let (roamers, reeds) =
        (format!("shoal.roamers.count={few}"), format!("shoal.reeds.count={few}"));
    let families = [
        ("open", vec![]),
        ("open, few roaming fish", vec![roamers.as_str()]),
        (
            "margin, few fish in its reeds",
            vec![
                reeds.as_str(),
                "plan.open-all-day.line=margin",
                "plan.switch-after-forty-minutes.line=margin",
            ],
        ),
    ];
    let (mut faults, mut results, mut smallest) = (Vec::new(), Vec::new(), f64::INFINITY);
    for (what, sets) in families {
        let water = scenario("scenarios/riddle-mere.toml", &sets);
        let fished = |plan: &str| kg(&fished(&water, plan, 500));
        let (reacts, stays) = (fished("switch-after-forty-minutes"), fished("open-all-day"));
        let z = z_of(&reacts, &stays);
        println!(
            "V-192 {what}: {:.2} kg with the rule, {:.2} without, z = {z:+.1}",
            mean(&reacts),
            mean(&stays)
        );
        if z <= Z_BOUND {
            faults.push(format!("{what}: z = {z:+.1}"));
        }
        smallest = smallest.min(z);
        results.push(format!("{:.1} to {:.1}", mean(&stays), mean(&reacts)));
    }
    assert!(faults.is_empty(), "V-192: {faults:?}");
    measured!("V-192", "met: {} kg; smallest z = {smallest:+.1}", results.join(", "));
}
