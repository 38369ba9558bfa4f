//! Startled fish, fish that lose a trail, and what the day does to all of them.

use sim::engine::Time;
use sim::fish::{FishState, Sound, glare, vigour};
use sim::session::{Day, Event, LeaveReason};

use super::single_acts::{Count, recorded, water};
use crate::evidence::{near, within_z};
use crate::measured::measured;

/// V-383: a hooked fish startles each of the others at its line with the share of its shoal, less with depth.
///
/// Where frights leave nobody more easily startled, the chance is the trait times the share of the sound of a fight at the line;
/// 4 standard errors of a binomial count, at two depths.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_hooked_fish_startles_its_share_of_the_others() {
    let mut scores = Vec::new();
    for depth_m in [0.6, 2.4] {
        let sets = [&format!("water.depth={depth_m} m"), "shoal.some.startles_at_fight=0.6"];
        let mut count = Count::default();
        for (day, film) in recorded(&water(&sets), "fine", 40, |day| day.fish.fright_wariness = 0.0)
        {
            let mut there = vec![false; day.stock.len()];
            let mut events = film.events.iter().peekable();
            while let Some(&(at_s, event)) = events.next() {
                match event {
                    Event::FishArrives { fish, .. } => there[fish.0] = true,
                    Event::FishLeaves { fish, .. } => there[fish.0] = false,
                    Event::FishIsHooked { fish: hooked } => {
                        let splash_kg = day.fish.fight_splash_share * day.stock[hooked.0].mass_kg();
                        let sound = Sound::new(splash_kg, depth_m, &day.fish);
                        let chance = 0.6 * sound.startle_share(0.0);
                        let mut fled = vec![false; there.len()];
                        let before = there.clone();
                        while let Some(&(_, event)) = events.next_if(|(then_s, _)| *then_s <= at_s)
                        {
                            if let Event::FishLeaves { fish, why, .. } = event {
                                there[fish.0] = false;
                                fled[fish.0] = why == LeaveReason::Startled;
                            }
                        }
                        let others =
                            (0..before.len()).filter(|&fish| before[fish] && fish != hooked.0);
                        others.for_each(|fish| count.add(fled[fish], chance));
                    }
                    _ => {}
                }
            }
        }
        let z = count.is_expected(&format!("V-383 startled at {depth_m} m"));
        scores.push(format!("{} of {} at {depth_m} m (z = {z:+.1})", count.seen, count.tried));
    }
    measured!("V-383", "{}", scores.join(", "));
}

/// V-384: a fish that has turned to a line keeps the trail over d metres with chance exp(−kd).
///
/// Sounds are located exactly here, so that a fish that keeps the trail arrives. 4 standard errors of a sum of binomial counts,
/// for near and for far fish.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_trail_is_lost_by_the_metre() {
    let (mut close, mut far) = (Count::default(), Count::default());
    for (day, film) in recorded(&water(&["shoal.some.home_half_length=30 m"]), "fine", 20, |day| {
        day.fish.locating_error = 0.0;
        day.fish.trail_loss_per_m = 0.04;
    }) {
        for set_out in &film.moves {
            if !matches!(set_out.state, FishState::Approaching(_)) {
                continue;
            }
            let arrives_s = set_out.ends_s;
            let later = film
                .moves
                .iter()
                .find(|then| then.fish == set_out.fish && then.at_s > set_out.at_s);
            // A fish that was startled or hooked on its way says nothing.
            if later.is_none_or(|then| then.at_s < arrives_s - 1e-6) {
                continue;
            }
            let arrived = matches!(later.map(|then| then.state), Some(FishState::Feeding(..)));
            let distance_m = set_out.from.distance_m(set_out.to);
            let count = if distance_m < 10.0 { &mut close } else { &mut far };
            count.add(arrived, f64::exp(-day.fish.trail_loss_per_m * distance_m));
        }
    }
    let scores = [("nearer than 10 m", close), ("farther", far)].map(|(who, count)| {
        let z = count.is_expected(&format!("V-384 kept the trail from {who}"));
        format!("{} of {} from {who} (z = {z:+.1})", count.seen, count.tried)
    });
    measured!("V-384", "{}", scores.join(", "));
}

/// V-385: on a day of a given temperature fish swim, search and chew by the book's factor for each ten degrees, and their motivation
/// changes as the light goes by the book's amount.
#[test]
fn a_day_has_the_vigour_of_its_water_and_the_motivation_of_its_light() {
    let evening = ["session.date=2026-08-20", "session.start=18:30"];
    let drawn = |temperature: &str, dusk: f64| {
        let sets = [
            evening[0].to_owned(),
            evening[1].to_owned(),
            format!("water.temperature={temperature} C"),
            format!("book.fish.dusk_motivation={dusk}"),
            "book.fish.vigour_q10=2.2".to_owned(),
            "book.fish.search_m2_s=0.02".to_owned(),
        ];
        let sets: Vec<&str> = sets.iter().map(String::as_str).collect();
        Day::draw(&water(&sets), 8, 1)
    };
    for temperature_c in [6.0, 13.0, 24.0] {
        let day = drawn(&temperature_c.to_string(), 0.0);
        let factor = f64::powf(2.2, (temperature_c - 20.0) / 10.0);
        near("V-385 vigour", vigour(temperature_c, &day.fish), factor, 1e-12);
        near("V-385 the day's vigour", day.vigour, factor, 1e-12);
        near("V-385 searched in a second [m²/s]", day.fish.search_m2_s, 0.02 * factor, 1e-12);
    }
    let (plain, keen) = (drawn("20", 0.0), drawn("20", 0.5));
    let mut darkest: f64 = 1.0;
    for step in 0..=18 {
        let at = Time::from_seconds(600.0 * f64::from(step));
        let light = glare(plain.courses.brightness.at(at.seconds()));
        let factor = f64::exp(0.5 * (1.0 - light));
        near("V-385 motivation", keen.motivation(0, at), factor * plain.motivation(0, at), 1e-9);
        darkest = darkest.min(light);
    }
    assert!(darkest < 0.1, "V-385: it does not get dark, {darkest}");
}

/// V-390: a startled fish stays in its refuge for an exponential time of the book's mean.
///
/// Of an exponential time with mean T, the number of returns less the time spent there over T has mean zero and the variance of
/// that time over T, also where the session ends first; 4 standard errors.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn fish_return_from_their_refuge_after_the_time_of_the_book() {
    let (mut returns, mut spent) = (0.0, 0.0);
    for (day, film) in recorded(&water(&["shoal.some.startles_at_splash=0.5"]), "fine", 12, |_| {})
    {
        for flight in film.moves.iter().filter(|flight| flight.state == FishState::Fled) {
            let end_s = film.events.last().map_or(0.0, |(at_s, _)| *at_s);
            let back = film.events.iter().find(|(at_s, event)| {
                *at_s > flight.at_s
                    && matches!(event, Event::FishRoams { fish, .. } if *fish == flight.fish)
            });
            let until_s = back.map_or(end_s, |(at_s, _)| *at_s);
            returns += f64::from(u8::from(back.is_some()));
            spent += (until_s - flight.ends_s).max(0.0) / day.fish.refuge_s;
        }
    }
    assert!(returns > 100.0, "V-390: {returns} returns are too few for this test");
    let z = within_z("V-390 returns", returns, spent, spent.sqrt());
    measured!("V-390", "{returns} returns, {spent:.0} expected (z = {z:+.1})");
}
