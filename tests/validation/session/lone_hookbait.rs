//! A hookbait without feed is the limit of one with less and less feed.

use rayon::prelude::*;
use sim::scenario::read;
use sim::session::{Day, run_session};

use crate::evidence::{mean, standard_error, within_z};
use crate::measured::measured;

/// A bait that opens as soon as it lies on the bed, with the hookbait buried in it so that it lies where the load lies.
const WATER: &str = r#"
    title = "An invented water, for a pinch of feed and none"
    [water]
    temperature = "20 C"
    [line.only]
    distance = "20 m"
    [shoal.some]
    count = 60
    weight = "1.5 kg"
    home = "only"
    [bait.pinch]
    like = "micro-pellets"
    opens_after = "1 s"
    [plan.pinch]
    bait = "pinch"
    load_style = "buried"
    hookbait = "banded-pellet"
    recast = "5 min"
"#;

/// Weight of each day with a load [kg].
fn weights_kg(load: &str) -> Vec<f64> {
    let sets = [format!("plan.pinch.load={load}")];
    let scenario = read(WATER, "invented", &sets).expect("a valid scenario");
    (1..=200)
        .into_par_iter()
        .map(|number| {
            let day = Day::draw(&scenario, 7, number);
            run_session(&scenario, &scenario.plans[0], &day).weight_g as f64 / 1e3
        })
        .collect()
}

/// V-165: ten milligrams of feed on the feeder catch what none do;
/// in the first version ten milligrams were worth 26 times as much as none.
///
/// Ten milligrams are a few sucks of one item. A mean difference of paired days below 4 standard errors is none.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_pinch_of_feed_catches_hardly_more_than_none() {
    let (none, pinch, gram) = (weights_kg("0 g"), weights_kg("0.01 g"), weights_kg("1 g"));
    println!(
        "V-165: {:.2} kg with no feed, {:.2} with 10 mg, {:.2} with 1 g",
        mean(&none),
        mean(&pinch),
        mean(&gram)
    );
    let more: Vec<f64> = pinch.iter().zip(&none).map(|(a, b)| a - b).collect();
    let z = within_z("V-165 more with 10 mg [kg]", mean(&more), 0.0, standard_error(&more));
    measured!(
        "V-165",
        "{:.1} kg with none, {:.1} with 10 mg (z = {z:+.1}), {:.1} with 1 g",
        mean(&none),
        mean(&pinch),
        mean(&gram)
    );
}
