//! Feeding against density, temperature and fullness: patterns 1 to 3.

use sim::session::{Day, Event, LeaveReason};
use sim::water::{Course, LineId};

use super::sessions::{Stay, ahead, days, presence, stays, two_lines, watched};
use crate::evidence::{Z_BOUND, mean, standard_error};
use crate::measured::measured;

/// Number of blocks of days; each gives one value.
const BLOCKS: usize = 10;

/// Mouthfuls a minute of a fish at the left line, for each block of days.
fn intake_per_fish_min(amount: &str) -> Vec<f64> {
    let water = two_lines(&[
        &format!("plan.feeder-of-two.feed.left.amount={amount}"),
        "plan.feeder-of-two.feed.right.amount=0.1 g",
    ]);
    let of_days = days(&water, 20 * BLOCKS as u32, |day| {
        let (events, _) = watched(&water, 0, day);
        let eaten = events
            .iter()
            .filter(|(_, event)| matches!(event, Event::FishEats { line: LineId(0), .. }))
            .count();
        let there = presence(&stays(&events, day.stock.len()), LineId(0), 0.0, water.session_s);
        (eaten as f64, there * water.session_s / 60.0)
    });
    (0..BLOCKS)
        .map(|block| {
            let of_block = of_days.iter().skip(block).step_by(BLOCKS);
            let (eaten, fish_min) =
                of_block.fold((0.0, 0.0), |sum, day| (sum.0 + day.0, sum.1 + day.1));
            eaten / fish_min
        })
        .collect()
}

/// V-126, pattern 1: intake saturates with the density of food (Holling 1959; Winkler & Orellana 1992).
///
/// Feed on one line is doubled from 0.1 to 64 g a throw. The elasticity of intake, log₂ of its ratio from one doubling
/// to the next, is 1 where intake is proportional to food and 0 where it no longer grows. It must be smaller for the
/// last doubling than for the first, and below one half for the last, by 4 standard errors over ten blocks of twenty
/// days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn intake_saturates_with_the_density_of_food() {
    let doubled = |less: &str, more: &str| {
        let (less, more) = (intake_per_fish_min(less), intake_per_fish_min(more));
        let elasticity: Vec<f64> = more.iter().zip(&less).map(|(b, a)| (b / a).log2()).collect();
        let (middle, error) = (mean(&elasticity), standard_error(&elasticity));
        println!(
            "V-126: {:.2} to {:.2} mouthfuls a fish and minute, elasticity {middle:.2} ± {error:.2}",
            mean(&less),
            mean(&more)
        );
        (middle, error)
    };
    let ((first, first_error), (last, error)) =
        (doubled("0.1 g", "0.2 g"), doubled("32 g", "64 g"));
    let z = (first - last) / first_error.hypot(error);
    assert!(z > Z_BOUND, "V-126: {first} ± {first_error} against {last} ± {error}");
    assert!(last + Z_BOUND * error < 0.5, "V-126: {last} ± {error}");
    measured!("V-126", "met: {first:.2} ± {first_error:.2}, then {last:.2} ± {error:.2}");
}

/// Share of the fish that left full of food and fed again within the next hour, for each day.
fn returned_within_the_hour(guts_at_c: f64) -> Vec<f64> {
    let water = two_lines(&["water.temperature=22 C"]);
    days(&water, 200, |day| {
        // Motivation, the size of guts and all speeds are those of 22 °C, so that only the emptying of guts differs.
        let motivations = vec![Course::constant(0.5); water.shoals.len()];
        let mut day = Day { feeding_activity: 0.5, motivations, ..day.clone() };
        day.conditions.temperature_c = guts_at_c;
        let (events, _) = watched(&water, 0, &day);
        let stays = stays(&events, day.stock.len());
        let full: Vec<&Stay> = stays
            .iter()
            .filter(|stay| {
                stay.why == Some(LeaveReason::Full) && stay.until_s < water.session_s - 3600.0
            })
            .collect();
        let back = full.iter().filter(|left| {
            stays.iter().any(|stay| {
                stay.fish == left.fish
                    && stay.from_s > left.until_s
                    && stay.from_s < left.until_s + 3600.0
            })
        });
        back.count() as f64 / full.len().max(1) as f64
    })
}

/// V-127, pattern 2: appetite returns more slowly in cold water (Garcia & Adelman 1985).
///
/// Of fish that left full, more return within the hour where guts empty as at 22 °C than where they empty as at 12 °C, on the same
/// days with all else as at 22 °C; a direction, by 4 standard errors.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn appetite_returns_more_slowly_in_cold_water() {
    let (warm, cold) = (returned_within_the_hour(22.0), returned_within_the_hour(12.0));
    let z = ahead("V-127 back within the hour, 22 °C against 12 °C", &warm, &cold);
    let (warm, cold) = (100.0 * mean(&warm), 100.0 * mean(&cold));
    measured!(
        "V-127",
        "met: {warm:.0} % and {cold:.0} % of full fish feed again within the hour (z = {z:+.1})"
    );
}

/// Bait eaten in a session with plenty of feed on two lines [kg].
pub(super) fn eaten_kg(temperature_c: f64) -> Vec<f64> {
    let water = two_lines(&[
        &format!("water.temperature={temperature_c} C"),
        "plan.feeder-of-two.feed.left.amount=24 g",
        "plan.feeder-of-two.feed.right.amount=24 g",
    ]);
    days(&water, 60, |day| watched(&water, 0, day).1.bait.eaten_kg)
}

/// V-128, pattern 3: feeding is dome-shaped in temperature and almost zero under 8 °C (Goolish & Adelman 1984; Oyugi
/// et al. 2012; FAO AFFRIS).
///
/// With plenty of feed, more is eaten at 25 °C than at 15 and than at 33, by 4 standard errors. *Almost zero* is
/// taken as a tenth of the amount at 25 °C, and 7 °C must be below that by 4 standard errors.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn feeding_is_dome_shaped_in_temperature() {
    for temperature_c in [5.0, 8.0, 10.0, 20.0, 30.0] {
        println!("V-128: {:.3} kg eaten at {temperature_c} °C", mean(&eaten_kg(temperature_c)));
    }
    let [best, cool, hot, cold] = [25.0, 15.0, 33.0, 7.0].map(eaten_kg);
    ahead("V-128 kg eaten at 25 °C against 15 °C", &best, &cool);
    ahead("V-128 kg eaten at 25 °C against 33 °C", &best, &hot);
    let tenth: Vec<f64> = best.iter().map(|kg| 0.1 * kg).collect();
    ahead("V-128 a tenth of that against 7 °C", &tenth, &cold);
    measured!(
        "V-128",
        "met: {:.2} kg eaten at 25 °C, {:.2} at 15, {:.2} at 33; a tenth of the first against {:.2} at 7",
        mean(&best),
        mean(&cool),
        mean(&hot),
        mean(&cold)
    );
}
