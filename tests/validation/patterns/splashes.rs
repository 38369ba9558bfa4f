//! Fish that shy from splashes and frights that cost: patterns 18, 21 and 22.

use sim::session::Event;

use super::families::{kg, log_ratio, outcomes, water};
use super::sessions::{ahead, days, watched};
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// Traits of fish that shy from a feeder's splash and come to loose feed.
const SHY: [&str; 4] = [
    "shoal.roamers.comes_to_splash={ low = 0.0, high = 0.06 }",
    "shoal.roamers.startles_at_splash={ low = 0.3, high = 0.6 }",
    "shoal.roamers.comes_to_patter={ low = 0.1, high = 0.3 }",
    "shoal.roamers.startles_at_fight={ low = 0.15, high = 0.35 }",
];

/// The bait of a plan, as it is called on the page.
fn bait_of(plan: &str) -> &str {
    match plan {
        "micros" => "micro-pellets",
        "lead" => "a lead",
        other => other,
    }
}

/// V-180, pattern 18: over fish that shy from splashes the best wait is four minutes or more, with groundbait, with 5 g
/// of micro-pellets and with a lead, each over loose feed.
///
/// For each bait the best of 4, 8 and 15 minutes is above 1 and above 2 minutes, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn over_fish_that_shy_from_splashes_waiting_pays_with_any_bait() {
    let (mut faults, mut results, mut smallest) = (Vec::new(), Vec::new(), f64::INFINITY);
    for plan in ["groundbait", "micros", "lead"] {
        let every = |minutes: u32| {
            let recast = format!("plan.{plan}.recast={minutes} min");
            let feed = format!(
                "plan.{plan}.feed.open={{ bait = \"pellets-4mm\", every = \"3 min\", amount = \"6 g\" }}"
            );
            let sets: Vec<&str> =
                SHY.iter().copied().chain([recast.as_str(), feed.as_str()]).collect();
            kg(&outcomes("open-water", &sets, plan, 100))
        };
        let weights = [1, 2, 4, 8, 15].map(every);
        println!(
            "V-180 {plan}: kg every 1, 2, 4, 8, 15 min: {:.2?}",
            weights.each_ref().map(|w| mean(w))
        );
        let [one, two, long @ ..] = &weights;
        let best = long.iter().max_by(|a, b| mean(a).total_cmp(&mean(b))).expect("three waits");
        for (short, minutes) in [(one, 1), (two, 2)] {
            let z = super::sessions::z_of(best, short);
            println!("V-180 {plan}: the best long wait against {minutes} min, z = {z:+.1}");
            smallest = smallest.min(z);
            if z <= Z_BOUND {
                faults.push(format!("{plan} at {minutes} min: z = {z:+.1}"));
            }
        }
        let kg = weights.each_ref().map(|weights| format!("{:.1}", mean(weights)));
        results.push(format!("{} with {}", kg.join(", "), bait_of(plan)));
    }
    assert!(faults.is_empty(), "V-180: {faults:?}");
    measured!(
        "V-180",
        "met: kg at 1, 2, 4, 8, 15 min: {}; smallest z = {smallest:+.1}",
        results.join("; ")
    );
}

/// V-183, pattern 21: raising all traits of fright from nothing to the top of their range costs plans of short
/// intervals at least a fifth of their weight, and plans of long ones a smaller share.
///
/// For groundbait and for micro-pellets: the weight at two minutes is below 0.8 of what it is without fright, by 4
/// standard errors of paired days; what is left at twelve minutes is a larger share than what is left at two, by 4
/// standard errors over ten blocks of days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn fright_costs_plans_of_short_intervals_most() {
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for plan in ["groundbait", "micros"] {
        let weights = |minutes: u32, splash: f64, patter: f64, fight: f64| {
            let sets = [
                format!("plan.{plan}.recast={minutes} min"),
                format!("shoal.roamers.startles_at_splash={splash}"),
                format!("shoal.roamers.startles_at_patter={patter}"),
                format!("shoal.roamers.startles_at_fight={fight}"),
            ];
            let sets: Vec<&str> = sets.iter().map(String::as_str).collect();
            kg(&outcomes("open-water", &sets, plan, 150))
        };
        let left = |minutes: u32| {
            let (calm, scared) = (weights(minutes, 0.0, 0.0, 0.0), weights(minutes, 0.6, 0.2, 0.5));
            let (log, error) = log_ratio(&scared, &calm);
            println!(
                "V-183 {plan} every {minutes} min: {:.2} kg without fright, {:.2} with: {:.2} left, ± {error:.2} of it",
                mean(&calm),
                mean(&scared),
                log.exp()
            );
            (calm, scared, log, error)
        };
        let (calm, scared, short, short_error) = left(2);
        let (_, _, long, long_error) = left(12);
        let most: Vec<f64> = calm.iter().map(|kg| 0.8 * kg).collect();
        let z = super::sessions::z_of(&most, &scared);
        if z <= Z_BOUND {
            faults.push(format!("{plan}: four fifths against what is left at 2 min, z = {z:+.1}"));
        }
        let z = (long - short) / long_error.hypot(short_error);
        if z <= Z_BOUND {
            faults.push(format!("{plan}: share left at 12 min against 2 min, z = {z:+.1}"));
        }
        let (short, long) = (short.exp(), long.exp());
        results.push(format!("{short:.2} and {long:.2} with {}", bait_of(plan)));
    }
    assert!(faults.is_empty(), "V-183: {faults:?}");
    measured!("V-183", "met: left at two and at twelve minutes {}", results.join(", "));
}

/// Fishing time until the next bite, and bites, after netted fish and after lost ones, for each day.
///
/// Time counts from the first landing of the rig after the fish, so that unhooking does not. A wait that the session
/// ends adds its time and no bite.
fn waits_after(plan: &str, sets: &[&str], many: u32) -> [[Vec<f64>; 2]; 2] {
    let water = water("open-water", sets);
    let plan = water.plans.iter().position(|known| known.name == plan).expect("a plan");
    let of_days = days(&water, many, |day| {
        let mut sums = [[0.0; 2]; 2];
        let (mut after, mut landed_s) = (None, None);
        for (at, event) in watched(&water, plan, day).0 {
            let now_s = at.seconds();
            let (waited_s, bitten) = match (event, landed_s) {
                (Event::FishIsNetted { .. }, _) => {
                    (after, landed_s) = (Some(0), None);
                    continue;
                }
                (Event::FishIsLost { .. }, _) => {
                    (after, landed_s) = (Some(1), None);
                    continue;
                }
                (Event::FeederLands { .. }, None) => {
                    landed_s = Some(now_s);
                    continue;
                }
                (Event::FishTakes { .. }, Some(since_s)) => (now_s - since_s, 1.0),
                (Event::SessionEnds, Some(since_s)) => (now_s - since_s, 0.0),
                _ => continue,
            };
            if let Some(kind) = after.take() {
                sums[kind][0] += waited_s;
                sums[kind][1] += bitten;
            }
        }
        sums
    });
    [0, 1].map(|kind: usize| {
        [0, 1].map(|part: usize| of_days.iter().map(|day| day[kind][part]).collect())
    })
}

/// V-184, pattern 22: on a shallow line the wait to the next bite after a lost fish is at least 1.3 times that after a
/// netted one.
///
/// A mean wait is fishing time over bites. For groundbait and for micro-pellets at a depth of 0.9 m, where a fifth of
/// the hooked fish are lost, the ratio is at least 1.3, and above 1 by 4 standard errors over ten blocks of days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_lost_fish_quietens_a_shallow_line() {
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    let sets = ["water.depth=0.9 m", "book.angler.lands_share=0.8", "shoal.roamers.count=80"];
    for plan in ["groundbait", "micros"] {
        let [netted, lost] = waits_after(plan, &sets, 400);
        let (netted_log, netted_error) = log_ratio(&netted[0], &netted[1]);
        let (lost_log, lost_error) = log_ratio(&lost[0], &lost[1]);
        let (log, error) = (lost_log - netted_log, netted_error.hypot(lost_error));
        println!(
            "V-184 {plan}: {:.0} s to the next bite after a netted fish, {:.0} after a lost one: {:.2} ± {:.2}",
            netted_log.exp(),
            lost_log.exp(),
            log.exp(),
            error * log.exp()
        );
        if log.exp() < 1.3 || log <= Z_BOUND * error {
            faults.push(format!("{plan}: {:.2} ± {:.2}", log.exp(), error * log.exp()));
        }
        let (times, error) = (log.exp(), error * log.exp());
        results.push(format!("{times:.2} ± {error:.2} with {}", bait_of(plan)));
    }
    assert!(faults.is_empty(), "V-184: {faults:?}");
    measured!("V-184", "met: {}", results.join(", "));
}

/// V-193, pattern 31: a heavier feeder is better at long range in wind, and worse over wary fish in the shallows.
///
/// 60 g against 20 g for groundbait and for micro-pellets: at 65 m in 35 km/h of wind it catches more; at 18 m over 0.7
/// m of water, where fish shy from splashes, it catches less. Each by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_heavy_feeder_is_better_in_wind_and_worse_in_the_shallows() {
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for plan in ["groundbait", "micros"] {
        let weights = |grams: u32, sets: &[&str]| {
            let feeder = format!("plan.{plan}.feeder={grams} g");
            let line = format!("plan.{plan}.line={}", if sets.is_empty() { "far" } else { "near" });
            let own = [feeder.as_str(), line.as_str()];
            let wind = ["water.wind=35 km/h"];
            let sets = if sets.is_empty() { &wind } else { sets };
            let sets: Vec<&str> = own.iter().chain(sets).copied().collect();
            kg(&outcomes("feeders", &sets, plan, 2500))
        };
        let shallow = [
            "water.depth=0.7 m",
            "shoal.far-fish.home=near",
            "shoal.far-fish.comes_to_splash={ low = 0.05, high = 0.15 }",
            "shoal.far-fish.startles_at_splash={ low = 0.3, high = 0.6 }",
        ];
        for (what, sets, sign) in [("wind", &[][..], 1.0), ("shallows", &shallow[..], -1.0)] {
            let (heavy, light) = (weights(60, sets), weights(20, sets));
            let z = sign * super::sessions::z_of(&heavy, &light);
            println!(
                "V-193 {plan}, {what}: {:.2} kg with 60 g, {:.2} with 20 g, z = {z:+.1}",
                mean(&heavy),
                mean(&light)
            );
            if z <= Z_BOUND {
                faults.push(format!("{plan}, {what}: z = {z:+.1}"));
            }
            let (heavy, light, bait) = (mean(&heavy), mean(&light), bait_of(plan));
            results
                .push(format!("{light:.1} to {heavy:.1} kg with {bait} in {what} (z = {z:+.1})"));
        }
    }
    assert!(faults.is_empty(), "V-193: {faults:?}");
    measured!("V-193", "met: {}", results.join(", "));
}

/// V-182, pattern 20: casting eight metres short of cover costs at least a third of the fish that live there.
///
/// For groundbait, micro-pellets and a lead: two thirds of the fish caught at cover are more than those caught short of
/// it, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn casting_short_of_cover_costs_its_fish() {
    let (mut results, mut smallest) = (Vec::new(), f64::INFINITY);
    for plan in ["groundbait", "micros", "lead"] {
        let on = |line: &str| {
            let set = format!("plan.{plan}.line={line}");
            super::families::fish(&outcomes("island", &[&set], plan, 150))
        };
        let (cover, short) = (on("cover"), on("short"));
        println!(
            "V-182 {plan}: {:.2} fish at cover, {:.2} short of it",
            mean(&cover),
            mean(&short)
        );
        let most: Vec<f64> = cover.iter().map(|fish| fish * 2.0 / 3.0).collect();
        let z = ahead(
            &format!("V-182 {plan}: two thirds of those at cover against those short of it"),
            &most,
            &short,
        );
        smallest = smallest.min(z);
        let (cover, short) = (mean(&cover), mean(&short));
        results.push(format!("{cover:.1} to {short:.1} fish with {}", bait_of(plan)));
    }
    measured!("V-182", "met: {}; smallest z = {smallest:+.1}", results.join(", "));
}

/// V-348: a rule that leaves a line after a lost fish gains the more the more a lost fish alarms its line: it loses weight
/// where it alarms nobody, and gains some at the upper ends of what is assumed.
///
/// Two lines alike at a depth of 0.9 m, where a fifth of the hooked fish are lost, against staying: both by 4 standard errors
/// of paired days. What it gains in the middle of the ranges is printed.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn leaving_a_line_after_a_lost_fish_pays_by_its_alarm() {
    let gain = |alarm: &[&str]| {
        let fixed = ["water.depth=0.9 m", "shoal.roamers.count=80", "book.angler.lands_share=0.8"];
        let sets: Vec<&str> = fixed.iter().chain(alarm).copied().collect();
        let weights = |plan: &str| kg(&outcomes("two-lines", &sets, plan, 500));
        (weights("leaves"), weights("stays"))
    };
    let (leaves, stays) = gain(&["book.fish.lost_fish_alarm=0", "book.fish.lost_fish_factor=1"]);
    let z = ahead("V-348 no alarm: staying against leaving", &stays, &leaves);
    let none =
        format!("{:.1} kg staying and {:.1} leaving (z = {z:+.1})", mean(&stays), mean(&leaves));
    let (leaves, stays) = gain(&["book.fish.lost_fish_alarm=2.5", "book.fish.alarm_lasts_s=2700"]);
    let z = ahead("V-348 most alarm: leaving against staying", &leaves, &stays);
    let most = format!("{:.1} and {:.1} (z = {z:+.1})", mean(&stays), mean(&leaves));
    let (leaves, stays) = gain(&[]);
    let z = super::sessions::z_of(&leaves, &stays);
    measured!(
        "V-348",
        "met: without an alarm {none}; with the most {most}; as assumed in the middle {:.1} and {:.1} (z = {z:+.1} for leaving)",
        mean(&stays),
        mean(&leaves)
    );
}

/// V-351: hooked fish cost bites: where half of a shoal flees from a fight it is caught less than where none does, and the next
/// bite after a netted fish takes longer.
///
/// Groundbait in open water, 1.6 m deep: weight by 4 standard errors of paired days, the wait by 4 over ten blocks of days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn fights_cost_bites() {
    let startled = |share: &str| format!("shoal.roamers.startles_at_fight={share}");
    let weights = |share: &str| kg(&outcomes("open-water", &[&startled(share)], "groundbait", 800));
    let waits = |share: &str| {
        let [[time_s, bites], _] = waits_after("groundbait", &[&startled(share)], 800);
        log_ratio(&time_s, &bites)
    };
    let (calm, shy) = (weights("0"), weights("0.5"));
    let z = ahead("V-351: calm against shy fish [kg]", &calm, &shy);
    let ((calm_log, calm_error), (shy_log, shy_error)) = (waits("0"), waits("0.5"));
    let (log, error) = (shy_log - calm_log, calm_error.hypot(shy_error));
    let times = format!("{:.2} ± {:.2}", log.exp(), error * log.exp());
    println!("V-351: the next bite takes {times} times as long");
    assert!(log > Z_BOUND * error, "V-351: {times} times as long");
    measured!(
        "V-351",
        "met: {:.1} kg where none flees, {:.1} where half do (z = {z:+.1}); the next bite takes {times} times as long",
        mean(&calm),
        mean(&shy)
    );
}
