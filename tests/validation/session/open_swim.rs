//! A peg that belongs to a lake: fish come and go, and their mean number in reach stays.

use rayon::prelude::*;
use sim::fish::FishState;
use sim::scenario::{Scenario, read};
use sim::session::{Day, record_session};

use crate::evidence::{Z_BOUND, mean, standard_error};
use crate::measured::measured;

/// Fish that nobody fishes for: the only phase of the plan begins in the last minute.
const WATER: &str = r#"
    title = "An invented lake that nobody fishes"
    [session]
    length = "5 h"
    [line.only]
    distance = "20 m"
    [shoal.some]
    count = 40
    weight = "1.5 kg"
    home = "only"
    [plan.none.phase.1]
    from = "4 h 59 min"
    load = "0 g"
"#;

fn lake() -> Scenario {
    read(WATER, "invented", &["water.temperature=20 C".to_owned()]).expect("a valid scenario")
}

/// Fish in reach at each of ten times up to the session's last minute.
fn in_reach(scenario: &Scenario, day: &Day) -> Vec<f64> {
    let film = record_session(scenario, &scenario.plans[0], day, 2_000_000).expect("enough rows");
    let mut away: Vec<bool> = day.stock.iter().map(|fish| fish.state == FishState::Away).collect();
    let mut moves = film.moves.iter().peekable();
    (1..=10)
        .map(|tenth| {
            let until_s = 1_790.0 * f64::from(tenth);
            while let Some(fish_moves) = moves.next_if(|fish_moves| fish_moves.at_s <= until_s) {
                away[fish_moves.fish.0] = fish_moves.state == FishState::Away;
            }
            away.iter().filter(|away| !**away).count() as f64
        })
        .collect()
}

/// V-167: on a peg that nobody fishes, as many fish stay in reach in the mean as the scenario says, over the whole
/// session, while single fish come and go.
///
/// Times in reach and away have means T and sT, and the day starts with N in reach and sN away, so that the numbers are
/// in balance from the start. A fish decides at the start of a leg of mean length m whether it leaves before its end.
/// That shortens its time in reach to T/(1 + m/T) if legs are exponential, and the number in reach by at most the share
/// m/T. The mean leg is a pause and a swim: m = pause + leg/speed. Within that and 4 standard errors, the number is N.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn an_unfished_peg_keeps_its_fish_in_the_mean() {
    let mut lake = lake();
    let books = &mut lake.books;
    for book in [&mut books.water, &mut books.bait, &mut books.fish, &mut books.angler] {
        book.fix_all();
    }
    let params = Day::draw(&lake, 4, 1).fish;
    let passing = (40.0 * params.passing_share).round();
    assert!(passing > 0.0, "V-167: the swim is open in the book");
    let of_days: Vec<Vec<f64>> = (1..=200)
        .into_par_iter()
        .map(|number| in_reach(&lake, &Day::draw(&lake, 4, number)))
        .collect();
    let leg_s = params.pause_s + params.leg_m / (params.cruise_lengths_s * 0.4);
    let fewest = 40.0 * (1.0 - leg_s / params.residence_s);
    println!(
        "V-167: legs of {leg_s:.0} s, a stay of {:.0} s, {passing} pass by",
        params.residence_s
    );
    let mut numbers = Vec::new();
    for tenth in 0..10 {
        let there: Vec<f64> = of_days.iter().map(|day| day[tenth]).collect();
        let (middle, error) = (mean(&there), standard_error(&there));
        println!("V-167: {middle:.2} ± {error:.2} in reach after {} tenths", tenth + 1);
        assert!(middle + Z_BOUND * error > fewest, "V-167: {middle} ± {error}, at least {fewest}");
        assert!(middle - Z_BOUND * error < 40.0, "V-167: {middle} ± {error}, at most 40");
        numbers.push(middle);
    }
    numbers.sort_by(f64::total_cmp);
    // Fish do come and go: at the end numbers differ between days about as a binomial of share 1/(1 + s) has it, at
    // least half of its variance, since two hours and a half are more than one stay.
    let last: Vec<f64> = of_days.iter().map(|day| day[9]).collect();
    let variance = last.iter().map(|x| (x - mean(&last)).powi(2)).sum::<f64>() / 199.0;
    let share = 40.0 / (40.0 + passing);
    let binomial = (40.0 + passing) * share * (1.0 - share);
    println!("V-167: variance {variance:.1}, binomial {binomial:.1}");
    assert!(variance > 0.5 * binomial, "V-167: {variance} against {binomial}");
    measured!(
        "V-167",
        "{:.1} to {:.1} of 40, the formula has {fewest:.1}; variance {variance:.1}, a binomial has {binomial:.1}",
        numbers[0],
        numbers[9]
    );
}

/// V-167: with none passing, a peg is closed: the number in reach is that of the scenario at all times.
#[test]
fn a_closed_peg_keeps_its_fish() {
    let mut lake = lake();
    lake.books.fish.set("passing_share", 0.0).expect("a row of the book");
    let day = Day::draw(&lake, 4, 1);
    assert_eq!(day.stock.len(), 40, "V-167: none passes by");
    assert!(in_reach(&lake, &day).iter().all(|&fish| (fish - 40.0).abs() < 0.5), "V-167");
}
