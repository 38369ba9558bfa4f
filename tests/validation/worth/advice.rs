//! V-323 to V-326: the advice of `now` followed, against a model that is wrong, and where nobody knows where the fish are.

use rayon::prelude::*;
use sim::engine::Dice;
use sim::scenario::Scenario;
use sim::session::run_session;

use super::asked::{Asked, asked, gains_kg, true_day};
use super::practised::compared_lead_kg;
use super::tally::mean_and_error;
use super::waters::{ADVISED, SOMEWHERE, scenario};
use crate::measured::measured;

/// One match that was stopped at a random minute for advice.
struct AdvisedMatch {
    /// Whether the 80 % range holds the final weight of the plan.
    is_inside: bool,
    /// Whether the advice was to do something else.
    is_changed: bool,
    /// What was gained by following the advice [kg].
    gain_kg: f64,
    /// By how much the final weight of the plan exceeds the expected one [kg].
    error_kg: f64,
}

/// Stops a match on the true water at a random minute, and follows what the believed one advises. `None` if `now` refuses.
fn advised(
    truth: &Scenario,
    believed: &Scenario,
    plan: usize,
    number: u32,
) -> Option<AdvisedMatch> {
    let mut dice = Dice::from_key(&[323, u64::from(number)]);
    let at_s = (dice.uniform_between(600.0, 3000.0) / 60.0).floor() * 60.0;
    let day = true_day(truth, &mut dice, number);
    let fished = &truth.plans[plan];
    let Asked { foretold, way, gain_kg } = asked(truth, believed, (fished, plan), &day, at_s)?;
    let final_kg = run_session(truth, fished, &day).weight_g as f64 / 1000.0;
    Some(AdvisedMatch {
        // A gram is rounding.
        is_inside: (foretold.low80_kg - 1e-3..=foretold.high80_kg + 1e-3).contains(&final_kg),
        is_changed: way.is_some(),
        gain_kg,
        error_kg: final_kg - foretold.final_kg,
    })
}

/// Matches on the waters, `each` on each, their truth made from what is believed.
fn matches(
    waters: &[(&str, &str)],
    each: u32,
    what: &str,
    true_text: impl Fn(&str, &str) -> String,
) -> Vec<AdvisedMatch> {
    let mut all = Vec::new();
    for &(name, text) in waters {
        let believed = scenario(name, text);
        let truth = scenario(name, &true_text(name, text));
        let plan = usize::from(compared_lead_kg(&believed, 400) < 0.0);
        let matches: Vec<AdvisedMatch> = (1..=each)
            .into_par_iter()
            .filter_map(|number| advised(&truth, &believed, plan, number))
            .collect();
        println!("{what}, {name}: {}", sentence(&matches));
        all.extend(matches);
    }
    println!("{what}, all: {}", sentence(&all));
    all
}

fn sentence(matches: &[AdvisedMatch]) -> String {
    let [error_kg, its_error_kg] = mean_and_error(matches.iter().map(|of| of.error_kg));
    format!(
        "80 % ranges hold {:.1} % of {}, mean error {error_kg:+.2} ± {:.2} kg; another way advised in {:.0} %, gain {}",
        percent(matches, |of| of.is_inside),
        matches.len(),
        1.96 * its_error_kg,
        percent(matches, |of| of.is_changed),
        gain(matches)
    )
}

fn percent(matches: &[AdvisedMatch], is: fn(&AdvisedMatch) -> bool) -> f64 {
    100.0 * matches.iter().filter(|of| is(of)).count() as f64 / matches.len() as f64
}

/// The mean gain of a match, with its 95 % interval.
fn gain(matches: &[AdvisedMatch]) -> String {
    let [gain_kg, error_kg] = mean_and_error(matches.iter().map(|of| of.gain_kg));
    format!("{gain_kg:+.3} ± {:.3} kg", 1.96 * error_kg)
}

/// V-323: each match is stopped once, at a random minute.
#[test]
#[ignore = "three hundred thousand sessions: five minutes of two cores"]
fn advice_of_500_matches_is_calibrated_and_gains_weight() {
    // Where the better plan is not known before, and so there is something to gain.
    let matches = matches(&ADVISED[..2], 250, "right model", |_, text| text.to_owned());
    let [gain_kg, error_kg] = mean_and_error(matches.iter().map(|of| of.gain_kg));
    let is_gain = gain_kg > 2.0 * error_kg;
    let missed = if is_gain { "" } else { "**Missed** for the gain: " };
    measured!(
        "V-323",
        "{missed}Ranges hold in {:.1} % of {}; another way advised in {:.0} %, gain {} a match over all",
        percent(&matches, |of| of.is_inside),
        matches.len(),
        percent(&matches, |of| of.is_changed),
        gain(&matches)
    );
    let n = matches.len() as f64;
    let coverage = 0.01 * percent(&matches, |of| of.is_inside);
    // Between 75 and 85 %, and 4 binomial errors of n.
    let slack = 4.0 * (0.8_f64 * 0.2 / n).sqrt();
    assert!(coverage > 0.75 - slack && coverage < 0.85 + slack, "{coverage}");
    assert!(is_gain, "{gain_kg} kg ± {error_kg}");
}

/// V-325: nobody knows where the fish are.
#[test]
#[ignore = "three hundred matches: eight minutes of one core"]
fn advice_gains_weight_where_nobody_knows_where_the_fish_are() {
    let matches = matches(&SOMEWHERE, 75, "fish somewhere", |_, text| text.to_owned());
    let [gain_kg, error_kg] = mean_and_error(matches.iter().map(|of| of.gain_kg));
    let is_gain = gain_kg > 2.0 * error_kg;
    let missed = if is_gain { "" } else { "**Missed** for the gain: " };
    measured!(
        "V-325",
        "{missed}Another way advised in {:.0} % of {}, gain {} a match over all; ranges hold in {:.1} %",
        percent(&matches, |of| of.is_changed),
        matches.len(),
        gain(&matches),
        percent(&matches, |of| of.is_inside)
    );
    let coverage = 0.01 * percent(&matches, |of| of.is_inside);
    // As in V-323.
    let slack = 4.0 * (0.8_f64 * 0.2 / matches.len() as f64).sqrt();
    assert!(coverage > 0.75 - slack && coverage < 0.85 + slack, "{coverage}");
    assert!(is_gain, "{gain_kg} kg ± {error_kg}");
}

/// V-326: the same in matches of two hours, once after half an hour, and every half hour.
#[test]
#[ignore = "forty matches of two hours, each asked three times: six minutes of one core"]
fn advice_every_half_hour_gains_more_than_advice_once() {
    const TIMES_S: [f64; 3] = [1800.0, 3600.0, 5400.0];
    let mut all: Vec<Vec<f64>> = Vec::new();
    for (name, text) in SOMEWHERE {
        let scenario = scenario(name, &text.replace("\"1 h\"", "\"2 h\""));
        let plan = usize::from(compared_lead_kg(&scenario, 400) < 0.0);
        let gains = (1..=10_u32).into_par_iter().map(|number| {
            let mut dice = Dice::from_key(&[326, u64::from(number)]);
            gains_kg(&scenario, plan, &true_day(&scenario, &mut dice, number), &TIMES_S)
        });
        let gains: Vec<Vec<f64>> = gains.collect();
        println!("{name}: {}", asked_again(&gains));
        all.extend(gains);
    }
    let once = all.iter().map(|gains| gains.first().copied().unwrap_or(0.0));
    let [once_kg, once_error_kg] = mean_and_error(once);
    let [more_kg, error_kg] = mean_and_error(all.iter().map(|gains| gains.iter().skip(1).sum()));
    let is_met = [once_kg > 2.0 * once_error_kg, more_kg > 2.0 * error_kg];
    let missed = match is_met {
        [true, true] => "",
        [false, true] => "**Missed** for once: ",
        [true, false] => "**Missed** for more than once: ",
        [false, false] => "**Missed**: ",
    };
    measured!("V-326", "{missed}{} of {} matches", asked_again(&all), all.len());
    assert_eq!(is_met, [true, true], "{once_kg} ± {once_error_kg}, {more_kg} ± {error_kg}");
}

/// What asking once and again gains, in words.
fn asked_again(matches: &[Vec<f64>]) -> String {
    let words = |values: &mut dyn Iterator<Item = f64>| {
        let [mean_kg, error_kg] = mean_and_error(values);
        format!("{mean_kg:+.3} ± {:.3} kg", 1.96 * error_kg)
    };
    let once = words(&mut matches.iter().map(|gains| gains.first().copied().unwrap_or(0.0)));
    let again = words(&mut matches.iter().map(|gains| gains.iter().skip(1).sum()));
    format!("Once {once}, the second and third time {again} more")
}

/// V-324: fish that are half as ready to take a bait, and a shoal that the scenario does not have.
#[test]
#[ignore = "a hundred thousand sessions: two minutes of two cores"]
fn advice_by_a_wrong_model_is_not_worse_than_the_plan() {
    let half_as_keen = |_: &str, text: &str| {
        let shoals = ["bar-fish", "reed-fish", "residents", "pennies", "pounds"];
        let has = |shoal: &&&str| text.contains(&format!("shoal.{shoal}.home"));
        let keen = shoals.iter().filter(has).map(|shoal| format!("shoal.{shoal}.boldness = 0.5\n"));
        text.to_owned() + &keen.collect::<String>()
    };
    let strangers = |_: &str, text: &str| {
        text.to_owned()
            + "shoal.strangers.count = 25\nshoal.strangers.weight = \"3 kg\"\n\
               shoal.strangers.home_out = \"20 m\"\n"
    };
    let wrong = [
        ("half as keen", matches(&ADVISED, 50, "half as keen", half_as_keen)),
        ("a strange shoal", matches(&ADVISED, 50, "a strange shoal", strangers)),
    ];
    // Not below the plan, beyond what chance does once in 40.
    let is_worse = |matches: &[AdvisedMatch]| {
        let [gain_kg, error_kg] = mean_and_error(matches.iter().map(|of| of.gain_kg));
        gain_kg <= -2.0 * error_kg
    };
    let found = wrong.each_ref().map(|(what, matches)| {
        let inside = percent(matches, |of| of.is_inside);
        let missed = if is_worse(matches) { "**missed**: " } else { "" };
        format!("{missed}{what} {} a match, ranges hold in {inside:.1} %", gain(matches))
    });
    measured!("V-324", "{}", found.join("; "));
    assert!(!wrong.iter().any(|(_, matches)| is_worse(matches)), "{found:?}");
}
