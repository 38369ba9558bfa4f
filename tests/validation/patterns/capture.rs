//! Effects of capture on fish and on the catch: patterns 8 to 10.

use sim::session::{Day, Event, Outcome};

use super::sessions::{ahead, days, fished, stays, watched};
use crate::demo::demo;
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// Fish landed in one hour, counted from 0, for each day.
fn landed_in_hour(outcomes: &[Outcome], hour: u32) -> Vec<f64> {
    let within = |at_s: f64| (at_s / 3600.0) as u32 == hour;
    outcomes
        .iter()
        .map(|outcome| outcome.catches.iter().filter(|catch| within(catch.at_s)).count() as f64)
        .collect()
}

/// V-133, pattern 8: the catch rate falls where the stock is small and fish are kept (depletion, textbook).
///
/// In a closed peg, where no fish come from elsewhere: with fifteen fish in reach, more are landed in the last hour where they go back than where they are kept; and the
/// ratio of the last hour's catch to the first hour's is smaller with fifteen fish than with sixty. Both by 4
/// standard errors, the latter on last − share · first with the share of the large stock.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn the_catch_rate_falls_where_stock_is_small_and_fish_are_kept() {
    let caught = |count: u32, kind: &str| {
        let water = demo(&[
            &format!("shoal.residents.count={count}"),
            "shoal.patrol.count=0",
            "book.fish.passing_share=0",
            &format!("session.kind={kind}"),
        ]);
        fished(&water, "two-minutes", 2500)
    };
    let (kept, returned, many) = (caught(15, "match"), caught(15, "pleasure"), caught(60, "match"));
    let last = landed_in_hour(&kept, 4);
    let back = landed_in_hour(&returned, 4);
    let z = ahead("V-133 landed in the last hour, returned against kept", &back, &last);
    let left = mean(&landed_in_hour(&many, 4)) / mean(&landed_in_hour(&many, 0));
    let as_many: Vec<f64> = landed_in_hour(&kept, 0).iter().map(|fish| left * fish).collect();
    ahead("V-133 last hour of a large stock's pace against that of a small one", &as_many, &last);
    measured!(
        "V-133",
        "met in a closed peg: {:.2} fish in the last hour, {:.2} where they go back (z = {z:+.1})",
        mean(&last),
        mean(&back)
    );
}

/// Meetings with a hookbait and takes, by a fish's experience: one capture of its own, or one seen and none of its
/// own.
#[derive(Clone, Copy, Debug, Default)]
struct Meetings {
    after_own: [f64; 2],
    after_seen: [f64; 2],
}

/// Meetings and takes where captures have the effect in the book, or none.
fn meetings(own_teaches: bool, seen_teaches: bool) -> Meetings {
    let water = demo(&["session.kind=pleasure", "shoal.residents.count=25"]);
    let of_days = days(&water, 1500, |day| {
        let mut day: Day = day.clone();
        day.fish.own_capture_lesson *= f64::from(own_teaches);
        day.fish.seen_capture_lesson *= f64::from(seen_teaches);
        let (events, _) = watched(&water, 0, &day);
        let stays = stays(&events, day.stock.len());
        let (mut own, mut seen) = (vec![0; day.stock.len()], vec![0; day.stock.len()]);
        let mut sum = Meetings::default();
        for (at, event) in events {
            let (fish, takes) = match event {
                Event::FishTakes { fish, .. } => (fish, 1.0),
                Event::FishRefuses { fish, .. } => (fish, 0.0),
                Event::FishIsHooked { fish: hooked } => {
                    let t = at.seconds();
                    let there = stays.iter().filter(|stay| stay.from_s < t && t < stay.until_s);
                    there
                        .filter(|stay| stay.fish != hooked)
                        .for_each(|stay| seen[stay.fish.0] += 1);
                    own[hooked.0] += 1;
                    continue;
                }
                _ => continue,
            };
            let counted = match (own[fish.0], seen[fish.0]) {
                (1, _) => &mut sum.after_own,
                (0, 1) => &mut sum.after_seen,
                _ => continue,
            };
            counted[0] += 1.0;
            counted[1] += takes;
        }
        sum
    });
    of_days.iter().fold(Meetings::default(), |mut sum, day| {
        for part in 0..2 {
            sum.after_own[part] += day.after_own[part];
            sum.after_seen[part] += day.after_seen[part];
        }
        sum
    })
}

/// V-134, pattern 9: its own capture makes a fish harder to catch than one that it saw (Lovén Wallerius et al.
/// 2020).
///
/// Bold fish are caught first, so captured fish are compared with captured fish in a model where captures have no
/// effect. The logarithm of the ratio of takes per meeting has a standard error of about √(Σ (1 − p)/takes); a
/// capture of its own must lower it more than one seen, by 4 of them.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn its_own_capture_affects_a_fish_more_than_one_it_saw() {
    let (none, own, seen) = (meetings(false, false), meetings(true, false), meetings(false, true));
    let effect = |with: [f64; 2], without: [f64; 2]| {
        let error = |[met, takes]: [f64; 2]| (1.0 - takes / met) / takes;
        let ratio = (with[1] / with[0]) / (without[1] / without[0]);
        (ratio.ln(), (error(with) + error(without)).sqrt())
    };
    let (own, own_error) = effect(own.after_own, none.after_own);
    let (seen, seen_error) = effect(seen.after_seen, none.after_seen);
    println!(
        "V-134: takes per meeting fall to {:.2} after an own capture, to {:.2} after one seen",
        own.exp(),
        seen.exp()
    );
    let z = (seen - own) / own_error.hypot(seen_error);
    assert!(z > Z_BOUND, "V-134: {own} ± {own_error} against {seen} ± {seen_error}, z = {z:+.1}");
    let (own, seen) = (own.exp(), seen.exp());
    measured!("V-134", "met: takes per meeting fall to {own:.2} and to {seen:.2} (z = {z:+.1})");
}

/// V-135, pattern 10: catches vary more between days than chance alone gives (Bannerot & Austin 1983).
///
/// If only chance varied, the variance of counts would be at most their mean (it is smaller for fish landed one
/// after another, each taking time). Variance over mean then has a standard error of √(2/(n − 1)); it must exceed 1
/// by 4 of them.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn catches_vary_more_between_days_than_chance_alone_gives() {
    let water = demo(&[]);
    let mut ratios = Vec::new();
    for plan in &water.plans {
        let outcomes = fished(&water, &plan.name, 400);
        let fish: Vec<f64> = outcomes.iter().map(|outcome| outcome.catches.len() as f64).collect();
        let (n, middle) = (fish.len() as f64, mean(&fish));
        let variance = fish.iter().map(|x| (x - middle).powi(2)).sum::<f64>() / (n - 1.0);
        println!("V-135 {}: variance over mean {:.2}", plan.name, variance / middle);
        assert!(
            variance / middle > 1.0 + Z_BOUND * (2.0 / (n - 1.0)).sqrt(),
            "V-135 {}",
            plan.name
        );
        ratios.push(variance / middle);
    }
    ratios.sort_by(f64::total_cmp);
    measured!("V-135", "met: {:.1} to {:.1}", ratios[0], ratios[ratios.len() - 1]);
}
