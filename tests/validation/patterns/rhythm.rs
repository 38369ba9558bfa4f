//! How long to wait, and when bites come in a wait, over the day and in winter: patterns 19 and 23 to 26.

use sim::session::{Event, Outcome};

use super::families::{fish, fish_between, kg, log_ratio, outcomes, water};
use super::sessions::{days, watched, z_of};
use crate::evidence::{Z_BOUND, mean, standard_error};
use crate::measured::measured;

/// Time from each landing to its bite, if there was one [s].
fn waits_s(plan: &str, sets: &[&str], many: u32) -> Vec<f64> {
    let water = water("open-water", sets);
    let plan = water.plans.iter().position(|known| known.name == plan).expect("a plan");
    let of_days = days(&water, many, |day| {
        let (mut landed_s, mut waits) = (0.0, Vec::new());
        for (at, event) in watched(&water, plan, day).0 {
            match event {
                Event::FeederLands { .. } => landed_s = at.seconds(),
                Event::FishTakes { .. } => waits.push(at.seconds() - landed_s),
                _ => {}
            }
        }
        waits
    });
    of_days.into_iter().flatten().collect()
}

/// Intervals between casts that are tried [min].
const WAITS_MIN: [u32; 5] = [1, 2, 4, 8, 15];

/// Weights of each day for each interval, with 5 g of micro-pellets in open water.
fn by_wait(set: &str) -> Vec<Vec<f64>> {
    let at = |minutes: &u32| {
        let sets = [set, &format!("plan.micros.recast={minutes} min")];
        kg(&outcomes("open-water", &sets, "micros", 350))
    };
    WAITS_MIN.iter().map(at).collect()
}

/// Sums over intervals for each day.
fn summed(weights: &[Vec<f64>]) -> Vec<f64> {
    (0..weights[0].len()).map(|day| weights.iter().map(|kg| kg[day]).sum()).collect()
}

/// V-181, pattern 19: the best interval between casts lengthens by at least half as fish get fewer and as water gets
/// colder.
///
/// From 200 to 10 fish in reach and from 22 to 6 °C, the interval with the largest mean weight of those tried is at least
/// half as long again; and the logarithm of the weight at 4, 8 and 15 minutes over that at 1 and 2 is larger, by 4 standard errors
/// over ten blocks of days. Stocks and temperatures between them are printed.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn fewer_fish_and_colder_water_ask_for_longer_waits() {
    let stocks = [200, 100, 50, 25, 10].map(|count| format!("shoal.roamers.count={count}"));
    let warmths = [22, 18, 14, 10, 6].map(|warm_c| format!("water.temperature={warm_c} C"));
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for family in [stocks, warmths] {
        let seen: Vec<(u32, f64, f64)> = family
            .iter()
            .map(|set| {
                let weights = by_wait(set);
                let means: Vec<f64> = weights.iter().map(|kg| mean(kg)).collect();
                let best = (0..means.len()).max_by(|a, b| means[*a].total_cmp(&means[*b]));
                let (log, error) = log_ratio(&summed(&weights[2..]), &summed(&weights[..2]));
                println!("V-181 {set}: kg at {WAITS_MIN:?} min {means:.2?}");
                (WAITS_MIN[best.unwrap_or(0)], log, error)
            })
            .collect();
        let ((many, many_log, many_error), (few, few_log, few_error)) = (seen[0], seen[4]);
        let z = (few_log - many_log) / few_error.hypot(many_error);
        println!("V-181 {} to {}: best {many} and {few} min, z = {z:+.1}", family[0], family[4]);
        if 2 * few < 3 * many || z <= Z_BOUND {
            faults.push(format!("{}: {many} and {few} min, z = {z:+.1}", family[4]));
        }
        let best: Vec<String> = seen.iter().map(|(best, ..)| best.to_string()).collect();
        results.push(format!("{} min (z = {z:+.1})", best.join(", ")));
    }
    assert!(faults.is_empty(), "V-181: {faults:?}");
    measured!(
        "V-181",
        "met: best with 200, 100, 50, 25 and 10 fish at {}; at 22, 18, 14, 10 and 6 °C at {}",
        results[0],
        results[1]
    );
}

/// V-185, pattern 23: on a wait of ten minutes in open water the median bite comes at 1.5 to 4 minutes, and at least a
/// tenth of them after 7.
///
/// For groundbait, 5 g and 25 g of micro-pellets and a lead over loose feed, from the landing of the rig. The median of
/// 25 g of micro-pellets is printed: it comes some seconds too late, since fish first eat part of so rich a pile.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn bites_come_over_minutes_and_have_a_tail() {
    let (mut faults, mut results, mut tails) = (Vec::new(), Vec::new(), Vec::new());
    for plan in ["groundbait", "micros", "full-micros", "lead"] {
        let mut waits = waits_s(plan, &[&format!("plan.{plan}.recast=10 min")], 150);
        waits.sort_by(f64::total_cmp);
        let n = waits.len();
        assert!(n > 200, "V-185: {n} bites are too few");
        let (tenth, median) = (waits[n / 10], waits[n / 2]);
        let late = waits.iter().filter(|&&wait_s| wait_s > 420.0).count() as f64 / n as f64;
        let at_once = waits.iter().filter(|&&wait_s| wait_s < 60.0).count() as f64 / n as f64;
        println!(
            "V-185 {plan}: {n} bites, a tenth by {tenth:.0} s, half by {median:.0} s; {at_once:.3} in the first \
             minute, {late:.3} after 7 min"
        );
        if plan != "full-micros" && !(90.0..=240.0).contains(&median) {
            faults.push(format!("{plan}: half by {median:.0} s"));
        }
        if late < 0.1 {
            faults.push(format!("{plan}: {late:.3} after 7 min"));
        }
        let stands = if (90.0..=240.0).contains(&median) { "met" } else { "missed" };
        results.push(format!("{stands} at {median:.0} s with `{plan}`"));
        tails.push(late);
    }
    assert!(faults.is_empty(), "V-185: {faults:?}");
    tails.sort_by(f64::total_cmp);
    measured!(
        "V-185",
        "medians {}; {:.2} to {:.2} after 7 min",
        results.join(", "),
        tails[0],
        tails[3]
    );
}

/// V-186, pattern 24: in winter little feed and long waits beat much feed and short ones.
///
/// At 5 to 7.5 °C in January: a lead with a few pellets and a small feeder, each left for twenty minutes, against a
/// feeder of groundbait every two minutes and one of micro-pellets every three, in weight, each by 4 standard errors of
/// paired days. The second half of the day against the first is printed: the pattern wants it well ahead. So is their ratio
/// with the two patient plans, in water as it is and in water that warms in a day as much as the books allow.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn in_winter_patience_pays() {
    let many = 400;
    let fished = ["lead-and-pellets", "small-feeder", "busy-feeder", "busy-micros"]
        .map(|plan| (plan, outcomes("winter", &[], plan, many)));
    let (mut faults, mut halves, mut smallest) = (Vec::new(), Vec::new(), f64::INFINITY);
    for (plan, outcomes) in &fished {
        let (first, second) =
            (fish_between(outcomes, 0.0, 9e3), fish_between(outcomes, 9e3, 18e3 + 1.0));
        let z = z_of(&second, &first);
        println!(
            "V-186 {plan}: {:.2} kg, {:.2} fish before noon and a half, {:.2} after, z = {z:+.1}",
            mean(&kg(outcomes)),
            mean(&first),
            mean(&second)
        );
        halves.push(format!("{z:+.1}"));
    }
    let lone = outcomes("winter", &[], "lone", many);
    let lone = z_of(&fish_between(&lone, 9e3, 18e3 + 1.0), &fish_between(&lone, 0.0, 9e3));
    let ratio = |fished: &[Vec<Outcome>]| {
        let half = |from_s: f64, until_s: f64| {
            let by_plan: Vec<_> =
                fished.iter().map(|of_plan| fish_between(of_plan, from_s, until_s)).collect();
            summed(&by_plan)
        };
        let (log, error) = log_ratio(&half(9e3, 18e3 + 1.0), &half(0.0, 9e3));
        format!("{:.2} ± {:.2}", log.exp(), error * log.exp())
    };
    let warming = ["book.water.temperature_swing_c=5", "book.water.temperature_swing_depth_m=3"];
    let as_it_is =
        ratio(&fished[..2].iter().map(|(_, of_plan)| of_plan.clone()).collect::<Vec<_>>());
    let warmer =
        ratio(&[fished[0].0, fished[1].0].map(|plan| outcomes("winter", &warming, plan, many)));
    println!(
        "V-186: fish of the afternoon over those of the morning {as_it_is}; {warmer} in water that warms most"
    );
    for (patient, patient_outcomes) in &fished[..2] {
        for (busy, busy_outcomes) in &fished[2..] {
            let z = z_of(&kg(patient_outcomes), &kg(busy_outcomes));
            println!("V-186 {patient} against {busy}: z = {z:+.1}");
            smallest = smallest.min(z);
            if z <= Z_BOUND {
                faults.push(format!("{patient} against {busy}: z = {z:+.1}"));
            }
        }
    }
    assert!(faults.is_empty(), "V-186: {faults:?}");
    measured!(
        "V-186",
        "patience met: smallest z = {smallest:+.1}; **Missed** and printed: the afternoon against the morning, z = {} and {}, fish of the \
         one over those of the other {as_it_is}, and {warmer} in water that warms most; with a hookbait alone z = {lone:+.1}",
        halves[0],
        halves[1]
    );
}

/// V-187, pattern 25: a lone hookbait catches something in summer, and in winter as much as a fed feeder or more.
///
/// *Something* is a fish on more than half of the days, by 4 standard errors. *As much* is not less than the feeder by
/// 2 standard errors of paired days, and at least four fifths of it.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_lone_hookbait_catches_something() {
    let summer =
        ["session.date=2026-07-17", "water.temperature={ low = \"18 C\", high = \"22 C\" }"];
    let caught = fish(&outcomes("winter", &summer, "lone", 150));
    let days: Vec<f64> = caught.iter().map(|&fish| f64::from(u8::from(fish > 0.0))).collect();
    let (share, error) = (mean(&days), standard_error(&days));
    println!(
        "V-187: {:.2} fish in summer, some on {share:.2} ± {error:.2} of the days",
        mean(&caught)
    );
    let (lone, fed) =
        (outcomes("winter", &[], "lone", 400), outcomes("winter", &[], "feeder", 400));
    let z = z_of(&kg(&lone), &kg(&fed));
    println!(
        "V-187: in winter {:.2} kg alone, {:.2} with a feeder, z = {z:+.1}",
        mean(&kg(&lone)),
        mean(&kg(&fed))
    );
    assert!(share - Z_BOUND * error > 0.5, "V-187: some fish on {share} ± {error} of the days");
    let enough = mean(&kg(&lone)) >= 0.8 * mean(&kg(&fed));
    assert!(z > -2.0 && enough, "V-187: winter, z = {z:+.1}");
    measured!(
        "V-187",
        "met: {:.1} fish in summer, some on {:.0} % of days; in winter {:.1} kg alone, {:.1} with a feeder (z = {z:+.1})",
        mean(&caught),
        100.0 * share,
        mean(&kg(&lone)),
        mean(&kg(&fed))
    );
}

/// V-188, pattern 26: the catch rate of a fed peg rises over the first hour or two wherever stock is not the limit.
///
/// With 200 fish in reach: more are landed in the third hour than in the first, with groundbait, micro-pellets and a
/// lead over loose feed, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_fed_peg_builds() {
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for plan in ["groundbait", "micros", "lead"] {
        let outcomes = outcomes("open-water", &["shoal.roamers.count=200"], plan, 3000);
        let hours = [0.0, 1.0, 2.0, 3.0, 4.0]
            .map(|hour| fish_between(&outcomes, 3600.0 * hour, 3600.0 * (hour + 1.0)));
        let z = z_of(&hours[2], &hours[0]);
        println!(
            "V-188 {plan}: fish by the hour {:.2?}, z = {z:+.1}",
            hours.each_ref().map(|h| mean(h))
        );
        if z <= Z_BOUND {
            faults.push(format!("{plan}: the third hour against the first, z = {z:+.1}"));
        }
        let fish = hours.each_ref().map(|hour| format!("{:.1}", mean(hour)));
        results.push(format!("{} with `{plan}` (z = {z:+.1})", fish.join(", ")));
    }
    assert!(faults.is_empty(), "V-188: {faults:?}");
    measured!("V-188", "met: fish by the hour {}", results.join("; "));
}

/// V-194: in summer the hours about nightfall catch more than those about noon.
///
/// In July, from eight in the evening and from half past ten in the morning, with groundbait, micro-pellets and a lead
/// over loose feed: the weights of all three, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn summer_nights_beat_noons() {
    let by_start = ["20:00", "10:30"].map(|start| {
        let sets = ["session.date=2026-07-11", &format!("session.start={start}")];
        let by_plan: Vec<Vec<f64>> = ["groundbait", "micros", "lead"]
            .iter()
            .map(|plan| kg(&outcomes("open-water", &sets, plan, 400)))
            .collect();
        let means: Vec<String> = by_plan.iter().map(|kg| format!("{:.1}", mean(kg))).collect();
        (summed(&by_plan), means.join(", "))
    });
    let [(night, night_kg), (noon, noon_kg)] = by_start;
    let z = z_of(&night, &noon);
    println!("V-194: night over noon, z = {z:+.1}");
    assert!(z > Z_BOUND, "V-194: z = {z:+.1}");
    measured!(
        "V-194",
        "met: {noon_kg} kg with groundbait, micro-pellets and a lead about noon, {night_kg} about nightfall; z = {z:+.1}"
    );
}
