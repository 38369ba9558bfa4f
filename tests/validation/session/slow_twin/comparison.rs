//! The twin against the session.

use rayon::prelude::*;
use sim::fish::handling_time_s;
use sim::scenario::{Scenario, read};
use sim::session::{Day, run_session};

use super::rod_and_bait::FishTwin;
use crate::evidence::{Z_BOUND, mean, standard_error};
use crate::measured::measured;

/// Days of each water.
const DAYS: u32 = 300;
/// Step of the twin [s].
const STEP_S: f64 = 0.1;

/// One line over a flat bed, fished with a lead, or with a load that lies as a pile and is scattered.
const WATER: &str = r#"
    title = "An invented water, to be fished twice"
    session.length = "1 h"
    water = { depth = "1.4 m", temperature = "20 C", wind = "0 km/h" }
    line.only.distance = "20 m"
    [shoal.some]
    count = 50
    weight = "1.5 kg"
    home = "only"
    home_half_length = "20 m"
    comes_to_splash = 0.6
    startles_at_splash = 0.0
    boldness = 0.7
    [plan.one]
    bait = "micro-pellets"
    hookbait = "banded-pellet"
    recast = "6 min"
"#;

fn water(load: &str) -> Scenario {
    let sets = [format!("plan.one.load={load}"), "book.fish.passing_share=0".to_owned()];
    read(WATER, "invented", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A day on which every take is missed, every cast falls on its mark, tasks take their typical times, bait has no smell, and no
/// place is dangerous: what the twin leaves out. Uncertain inputs are drawn as on any day.
fn plain_day(water: &Scenario, number: u32) -> Day {
    let mut day = Day::draw(water, 12, number);
    let angler = &mut day.angler;
    (angler.cast_spread_share, angler.time_spread_ln, angler.hooks_share) = (0.0, 0.0, 0.0);
    (angler.strikes_at_touch, angler.fouls_at_wind_in) = (0.0, 0.0);
    (day.bait.opening_spread_ln, day.bait.top_strays_share) = (0.0, 0.0);
    day.recipes.iter_mut().for_each(|recipe| recipe.attractant_mol_kg = 0.0);
    (day.fish.exposure_weight, day.fish.fright_shuns, day.fish.fright_wariness) = (0.0, 0.0, 0.0);
    day
}

/// V-391: fish roam, notice a line, come, feed, meet the hookbait and take it as often as in a plain program that moves all of them by
/// steps of a tenth of a second.
///
/// Means over the same days of arrivals, food eaten, hookbaits met and bites: within 4 standard errors of the paired difference
/// and what the steps cost. A wait of the twin ends at the next step, half a step late in the mean. The quickest cycle of a fish has
/// two waits, to find and to swallow, so no count falls behind by more than the share of one step in the shortest time to
/// swallow.
#[test]
#[cfg_attr(debug_assertions, ignore = "small steps: run in release")]
fn fish_of_a_session_agree_with_a_slow_twin() {
    let mut results = Vec::new();
    let mut faults = Vec::new();
    for (what, load) in [("a lead", "0 g"), ("12 g", "12 g")] {
        let water = water(load);
        let days: Vec<[[f64; 4]; 2]> = (1..=DAYS)
            .into_par_iter()
            .map(|number| {
                let day = plain_day(&water, number);
                let fast = run_session(&water, &water.plans[0], &day);
                let slow = FishTwin::new(&water, &day, STEP_S).run();
                let (swim, bites) = (&fast.swim, f64::from(fast.bites));
                let met = f64::from(swim.hookbait_met);
                [
                    [f64::from(swim.arrived), 1e3 * fast.bait.eaten_kg, met, bites],
                    [slow.arrived, 1e3 * slow.eaten_kg, slow.met, slow.bites],
                ]
            })
            .collect();
        let shortest_s = (1..=DAYS).map(|number| {
            let day = plain_day(&water, number);
            let swallows = day
                .stock
                .iter()
                .map(|fish| handling_time_s(fish.cube_root_kg, 0.0, 1.0, 50, &day.fish));
            swallows.fold(f64::INFINITY, f64::min)
        });
        let costs = STEP_S / mean(&shortest_s.collect::<Vec<f64>>());
        println!("V-391 {what}: steps cost at most {costs:.4}");
        for (part, name) in ["arrivals", "g eaten", "hookbaits met", "bites"].iter().enumerate() {
            let of = |which: usize| days.iter().map(|day| day[which][part]).collect::<Vec<f64>>();
            let (fast, slow) = (of(0), of(1));
            let differences: Vec<f64> = fast.iter().zip(&slow).map(|(a, b)| a - b).collect();
            let (off, error) = (mean(&differences), standard_error(&differences));
            println!(
                "V-391 {what}: {:.3} {name}, {:.3} in the twin, {off:.3} ± {error:.3} more",
                mean(&fast),
                mean(&slow)
            );
            if off.abs() > Z_BOUND * error + costs * mean(&slow) {
                faults.push(format!("{what}: {name} differ by {off:.3} ± {error:.3}"));
            }
            results.push(format!("{:.1} and {:.1} {name}", mean(&fast), mean(&slow)));
        }
        let last = results.len() - 4;
        results[last] = format!("with {what} {}", results[last]);
    }
    assert!(faults.is_empty(), "V-391: {faults:?}");
    measured!("V-391", "{}", results.join(", "));
}
