//! When bites come, in a wait, over the day and in winter: patterns 23 to 26.

use sim::session::Event;

use super::families::{fish, fish_between, kg, outcomes, water};
use super::sessions::{days, watched, z_of};
use crate::evidence::{Z_BOUND, mean, standard_error};

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

/// V-185, pattern 23: on a wait of ten minutes in open water the median bite comes at 1.5 to 4 minutes, and at least a
/// tenth of them after 7.
///
/// For groundbait, 5 g and 25 g of micro-pellets and a lead over loose feed, from the landing of the rig.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn bites_come_over_minutes_and_have_a_tail() {
    let mut faults = Vec::new();
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
        if !(90.0..=240.0).contains(&median) {
            faults.push(format!("{plan}: half by {median:.0} s"));
        }
        if late < 0.1 {
            faults.push(format!("{plan}: {late:.3} after 7 min"));
        }
    }
    assert!(faults.is_empty(), "V-185: {faults:?}");
}

/// V-186, pattern 24: in winter little feed and long waits beat much feed and short ones, and the second half of the
/// day beats the first.
///
/// At 5 to 7.5 °C in January: a lead with a few pellets and a small feeder, each left for twenty minutes, against a
/// feeder of groundbait every two minutes and one of micro-pellets every three, in weight; and fish in the second
/// against the first half of the day with either of the patient plans. Each by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn in_winter_patience_and_the_afternoon_pay() {
    let many = 400;
    let fished = ["lead-and-pellets", "small-feeder", "busy-feeder", "busy-micros"]
        .map(|plan| (plan, outcomes("winter", &[], plan, many)));
    let mut faults = Vec::new();
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
        if z <= Z_BOUND && (*plan == "lead-and-pellets" || *plan == "small-feeder") {
            faults.push(format!("{plan}: the second half against the first, z = {z:+.1}"));
        }
    }
    for (patient, patient_outcomes) in &fished[..2] {
        for (busy, busy_outcomes) in &fished[2..] {
            let z = z_of(&kg(patient_outcomes), &kg(busy_outcomes));
            println!("V-186 {patient} against {busy}: z = {z:+.1}");
            if z <= Z_BOUND {
                faults.push(format!("{patient} against {busy}: z = {z:+.1}"));
            }
        }
    }
    assert!(faults.is_empty(), "V-186: {faults:?}");
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
}

/// V-188, pattern 26: the catch rate of a fed peg rises over the first hour or two wherever stock is not the limit.
///
/// With 200 fish in reach: more are landed in the second hour than in the first, with groundbait, micro-pellets and a
/// lead over loose feed, by 4 standard errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_fed_peg_builds() {
    let mut faults = Vec::new();
    for plan in ["groundbait", "micros", "lead"] {
        let outcomes = outcomes("open-water", &["shoal.roamers.count=200"], plan, 120);
        let hours = [0.0, 1.0, 2.0, 3.0, 4.0]
            .map(|hour| fish_between(&outcomes, 3600.0 * hour, 3600.0 * (hour + 1.0)));
        let z = z_of(&hours[1], &hours[0]);
        println!(
            "V-188 {plan}: fish by the hour {:.2?}, z = {z:+.1}",
            hours.each_ref().map(|h| mean(h))
        );
        if z <= Z_BOUND {
            faults.push(format!("{plan}: the second hour against the first, z = {z:+.1}"));
        }
    }
    assert!(faults.is_empty(), "V-188: {faults:?}");
}
