//! What is fed and its size: patterns 27 and 28.

use super::families::{fish, kg, log_ratio, outcomes};
use super::sessions::z_of;
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// V-189, pattern 27: micro-pellets and groundbait on the feeder catch within a quarter of each other in warm water.
///
/// At 22 to 25 °C, loads of 25 g, recast every three, five and eight minutes, and at a line near cover as well: the
/// smaller weight is at least three quarters of the larger one.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn micro_pellets_and_groundbait_catch_alike_in_warm_water() {
    let warm = "water.temperature={ low = \"22 C\", high = \"25 C\" }";
    let (mut faults, mut ratios) = (Vec::new(), Vec::new());
    let mut compare = |what: &str, micros: &[f64], groundbait: &[f64]| {
        let (log, error) = log_ratio(micros, groundbait);
        println!(
            "V-189 {what}: {:.2} kg with micro-pellets, {:.2} with groundbait: {:.2}, ± {error:.2} of it",
            mean(micros),
            mean(groundbait),
            log.exp()
        );
        if !(0.75..=1.0 / 0.75).contains(&log.exp()) {
            faults.push(format!("{what}: {:.2}", log.exp()));
        }
        ratios.push(log.exp());
    };
    for minutes in [3, 5, 8] {
        let weights = |plan: &str| {
            kg(&outcomes(
                "open-water",
                &[warm, &format!("plan.{plan}.recast={minutes} min")],
                plan,
                120,
            ))
        };
        compare(
            &format!("open, every {minutes} min"),
            &weights("full-micros"),
            &weights("groundbait"),
        );
        let weights = |plan: &str| {
            let sets = [
                warm.to_owned(),
                format!("plan.{plan}.recast={minutes} min"),
                format!("plan.{plan}.load=25 g"),
                format!("plan.{plan}.hookbait=banded-pellet"),
            ];
            let sets: Vec<&str> = sets.iter().map(String::as_str).collect();
            kg(&outcomes("island", &sets, plan, 120))
        };
        compare(
            &format!("near cover, every {minutes} min"),
            &weights("micros"),
            &weights("groundbait"),
        );
    }
    assert!(faults.is_empty(), "V-189: {faults:?}");
    ratios.sort_by(f64::total_cmp);
    measured!("V-189", "met: {:.2} to {:.2}", ratios[0], ratios[ratios.len() - 1]);
}

/// V-190, pattern 28: larger items of feed and larger hookbaits raise the mean weight of the fish caught and lower
/// their number.
///
/// Among fish of very different sizes: hookbaits of 14 against 6 mm, feed of 8 mm against micro-pellets with the same
/// hookbait, and both at once. Fewer fish, by 4 standard errors of paired days; a larger mean weight, by 4 standard
/// errors over ten blocks of days. Feed alone is printed: even 8 mm is small for the mouths of these fish. Among roach of 150 g with carp, hookbaits of 10 mm catch fewer roach than those of
/// 6 mm over either feed, by 4 standard errors of paired days; what larger feed does to roach is printed.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn larger_items_sort_fish() {
    let mixed =
        ["shoal.roamers.weight=1.6 kg", "shoal.roamers.weight_cv=0.9", "shoal.roamers.count=90"];
    let caught = |sets: &[&str]| {
        let sets: Vec<&str> = mixed.iter().chain(sets).copied().collect();
        let outcomes = outcomes("open-water", &sets, "sized", 500);
        (fish(&outcomes), kg(&outcomes))
    };
    let hooks = ["plan.sized.hookbait=large-band"];
    let feed = ["plan.sized.bait=pellets-8mm", "plan.sized.feed.open.bait=pellets-8mm"];
    let small = caught(&[]);
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    let both = [hooks[0], feed[0], feed[1]];
    for (what, large) in
        [("hookbaits", caught(&hooks)), ("feed", caught(&feed)), ("ones of both", caught(&both))]
    {
        let (small_log, small_error) = log_ratio(&small.1, &small.0);
        let (large_log, large_error) = log_ratio(&large.1, &large.0);
        let heavier = (large_log - small_log) / small_error.hypot(large_error);
        let fewer = z_of(&small.0, &large.0);
        println!(
            "V-190 {what}: {:.1} fish of {:.2} kg with small, {:.1} of {:.2} with large; heavier by z = {heavier:+.1}, \
             fewer by z = {fewer:+.1}",
            mean(&small.0),
            small_log.exp(),
            mean(&large.0),
            large_log.exp()
        );
        results.push(format!(
            "{:.1} to {:.1} fish, {:.2} to {:.2} kg for larger {what} (fewer by z = {fewer:+.1}, heavier by z = {heavier:+.1})",
            mean(&small.0),
            mean(&large.0),
            small_log.exp(),
            large_log.exp()
        ));
        if what == "feed" {
            continue;
        }
        if heavier <= Z_BOUND {
            faults.push(format!("{what}: heavier by z = {heavier:+.1}"));
        }
        if fewer <= Z_BOUND {
            faults.push(format!("{what}: fewer by z = {fewer:+.1}"));
        }
    }
    sort_roach(&mut faults, &mut results);
    println!("V-190 {}", results.join("; "));
    assert!(faults.is_empty(), "V-190: {faults:?}");
    measured!("V-190", "met for hookbaits and for both, printed for feed: {}", results.join("; "));
}

/// Roach of 150 g among carp, by the size of the hookbait and of the feed.
fn sort_roach(faults: &mut Vec<String>, results: &mut Vec<String>) {
    let roach = |feed: &str, hookbait: &str| -> Vec<f64> {
        let size = format!("hookbait.small-band.size={hookbait}");
        let outcomes = outcomes("silvers", &[&size], feed, 200);
        outcomes.iter().map(|outcome| f64::from(outcome.by_shoal[1].fish)).collect()
    };
    let over = |feed: &str| ["6 mm", "10 mm"].map(|hookbait| roach(feed, hookbait));
    let (small, large) = (over("small"), over("large"));
    for (feed, [many, few]) in [("small", &small), ("large", &large)] {
        let fewer = z_of(many, few);
        results.push(format!(
            "{:.1} to {:.1} roach for hookbaits of 10 mm over {feed} feed (fewer by z = {fewer:+.1})",
            mean(many),
            mean(few)
        ));
        if fewer <= Z_BOUND {
            faults.push(format!("roach over {feed} feed: fewer by z = {fewer:+.1}"));
        }
    }
    for (what, after) in [("feed", &large[0]), ("feed and hookbait", &large[1])] {
        results.push(format!(
            "{:.1} to {:.1} roach for larger {what} (fewer by z = {:+.1})",
            mean(&small[0]),
            mean(after),
            z_of(&small[0], after)
        ));
    }
}
