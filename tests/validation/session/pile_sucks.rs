//! Sucks at a pile: a hookbait there is one target among them, and large items take longer to swallow.

use std::collections::HashMap;

use sim::bait::pile_radius_m;
use sim::engine::EventLog;
use sim::fish::{bite_kg, full_mouth_kg, handling_time_s, size_fit, stands_out, suck_area_m2};
use sim::scenario::read;
use sim::session::{Day, Event, observe_session, record_session};

use crate::evidence::Z_BOUND;
use crate::measured::measured;

/// One cast over hungry fish that take no hookbait, so that the pile is eaten up round it.
const WATER: &str = r#"
    title = "An invented water, for one pile"
    session.length = "40 min"
    water = { depth = "1.2 m", temperature = "22 C" }
    line.only.distance = "20 m"
    [shoal.some]
    count = 150
    weight = "1.5 kg"
    home = "only"
    comes_to_splash = 0.9
    startles_at_splash = 0.0
    boldness = 0.0
    [hookbait.fixed]
    like = "banded-pellet"
    displaced = 0
    lasts = "all session"
    [plan.once]
    bait = "micro-pellets"
    load = "6 g"
    hookbait = "fixed"
    recast = "40 min"
"#;

/// Food of which the least change that a recording shows, 10 mg, is a fiftieth [kg].
const LEAST_KG: f64 = 5e-4;

/// V-389: where a pile is worth n more sucks to a fish, its next one meets the hookbait with chance k/(k + n), k the notice of the
/// hookbait among items of that size.
///
/// All of the load goes down at once and none of it silts up, so that sucks follow from the food that the recording has in the
/// pile, which leaves out changes below a fiftieth: 2 % of the sum is allowed on top of 4 standard errors of a sum of binomial
/// counts. Sucks of a full pile and of one that is nearly eaten up are counted apart.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_hookbait_is_one_target_among_the_sucks_of_its_pile() {
    let scenario = read(WATER, "invented", &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let mut counts = [[0.0; 4]; 2];
    for number in 1..=120 {
        let mut day = Day::draw(&scenario, 9, number);
        day.bait.first_share = 1.0;
        day.bait.top_strays_share = 0.0;
        day.bait.bed_loss_per_s = 0.0;
        day.fish.refusal_memory_s = 1e-6;
        day.angler.strikes_at_touch = 0.0;
        let film = record_session(&scenario, &scenario.plans[0], &day, 2_000_000).expect("room");
        let tackle = &scenario.plans[0].phases[0].tackle;
        let (feed, hookbait) = (day.recipes[tackle.recipe].feed(), &day.hookbaits[tackle.hookbait]);
        let radius_m = pile_radius_m(tackle.load_kg, &day.bait);
        let area_m2 = std::f64::consts::PI * radius_m * radius_m;
        let notice =
            day.fish.hookbait_notice * stands_out(hookbait.diameter_m, feed.diameter_m, &day.fish);
        let laid_kg = film.lines[0].bait.iter().map(|bait| bait.pile_kg).fold(0.0, f64::max);
        let mut events = film.events.iter().peekable();
        while let Some(&(at_s, event)) = events.next() {
            let Event::FishFinds { fish, .. } = event else { continue };
            let lay = film.lines[0].bait.iter().take_while(|bait| bait.at_s < at_s).last();
            let food_kg = lay.map_or(0.0, |bait| bait.pile_kg);
            if food_kg < LEAST_KG {
                continue;
            }
            let own = &day.stock[fish.0];
            let full_kg = full_mouth_kg(feed.mouthful_kg, own.length_m);
            let suck_m2 = suck_area_m2(own.gape_m, &day.fish);
            let suck_kg = bite_kg(laid_kg / area_m2, suck_m2, feed.item_kg, full_kg);
            let sucks = food_kg / suck_kg;
            let chance = notice / (notice + sucks);
            let met = matches!(events.peek(), Some((_, Event::FishRefuses { .. })));
            let count = &mut counts[usize::from(food_kg < 0.5 * laid_kg)];
            count[0] += 1.0;
            count[1] += f64::from(u8::from(met));
            count[2] += chance;
            count[3] += chance * (1.0 - chance);
        }
    }
    let results = ["over most of a pile", "over its rest"].iter().zip(counts);
    let results: Vec<String> = results
        .map(|(what, [sucks, met, expected, variance])| {
            println!("V-389 {what}: {met} of {sucks} sucks met it, {expected:.1} expected");
            assert!(variance > 20.0, "V-389 {what}: {variance} is too little for this test");
            let allowed = Z_BOUND * variance.sqrt() + 0.02 * expected;
            assert!((met - expected).abs() < allowed, "V-389 {what}: {met} against {expected}");
            format!("{met} of {sucks} sucks {what}, {expected:.0} expected")
        })
        .collect();
    measured!("V-389", "{}", results.join("; "));
}

/// V-196: on a pile, a suck of items that fit the mouth by s takes 1/s times as long to swallow as one of small items.
///
/// Fish of very different sizes, hungry and heedless of company, eat up a pile of 8 mm pellets, without a hookbait that they
/// might meet. All of it goes down at once, so the time from one suck of a fish to its next is what it takes to swallow the
/// first, to the rounding of times to microseconds.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_suck_of_large_items_takes_longer_by_how_badly_they_fit() {
    let sets = [
        "shoal.some.weight=400 g",
        "shoal.some.weight_cv=0.8",
        "plan.once.bait=pellets-6mm",
        "plan.once.hookbait=none",
        "bait.pellets-6mm.class.pellet.diameter=8 mm",
    ]
    .map(str::to_owned);
    let scenario = read(WATER, "invented", &sets).unwrap_or_else(|faults| panic!("{faults}"));
    let (mut sucks, mut longest, mut largest_us) = (0, 0.0_f64, 0.0_f64);
    for number in 1..=60 {
        let mut day = Day::draw(&scenario, 9, number);
        day.bait.first_share = 1.0;
        day.bait.bed_loss_per_s = 0.0;
        day.angler.strikes_at_touch = 0.0;
        day.fish.handling_full_factor = 1.0;
        day.fish.handling_company_factor = 1.0;
        let mut log = EventLog::default();
        observe_session(&scenario, &scenario.plans[0], &day, &mut log);
        let tackle = &scenario.plans[0].phases[0].tackle;
        let feed = day.recipes[tackle.recipe].feed();
        let mut sucked_at = HashMap::new();
        for (at, event) in log.events {
            match event {
                Event::FishLeaves { fish, .. } | Event::FishRises { fish, .. } => {
                    sucked_at.remove(&fish);
                }
                Event::FishEats { fish, .. } => {
                    let Some(before) = sucked_at.insert(fish, at) else { continue };
                    let own = &day.stock[fish.0];
                    let full_kg = full_mouth_kg(feed.mouthful_kg, own.length_m);
                    let fit = size_fit(feed.diameter_m, own.gape_m, &day.fish);
                    // Where one item is more than a mouthful, a suck takes one, whatever lies there.
                    if feed.item_kg < full_kg {
                        continue;
                    }
                    let filled = feed.item_kg / full_kg;
                    let small_s = handling_time_s(own.cube_root_kg, filled, 1.0, 1, &day.fish);
                    let off_s = at.seconds_since(before) - small_s / fit;
                    sucks += 1;
                    longest = longest.max(1.0 / fit);
                    largest_us = largest_us.max(1e6 * off_s.abs());
                }
                _ => {}
            }
        }
    }
    println!("V-196: {sucks} sucks, up to {longest:.1} times as long, {largest_us:.2} µs off");
    assert!(sucks > 200, "V-196: {sucks} sucks are too few");
    assert!(longest > 2.0, "V-196: all fit well, {longest:.2}");
    assert!(largest_us < 2.0, "V-196: {largest_us} µs off");
    measured!("V-196", "{sucks} sucks, the slowest {longest:.1} times as long as of small items");
}
