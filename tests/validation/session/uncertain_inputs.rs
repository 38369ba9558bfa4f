//! Uncertain inputs of a day: what nobody knows, apart from the weather.

use rayon::prelude::*;
use sim::bait::{HookbaitPrior, RecipePrior};
use sim::params::DailyDistribution;
use sim::scenario::{Scenario, read};
use sim::session::{Day, run_session};

use crate::evidence::{mean, standard_error};
use crate::measured::measured;

/// One line under any weather.
const WATER: &str = r#"
    title = "An invented water under any weather"
    [water]
    temperature = { low = "8 C", high = "24 C" }
    wind = { low = "0 km/h", high = "30 km/h" }
    oxygen = { low = "2 mg/L", high = "10 mg/L" }
    [line.only]
    distance = "20 m"
    [shoal.some]
    count = 5
    home = "only"
    [plan.only]
    recast = "5 min"
"#;

fn water(stated_trait: &str) -> Scenario {
    let sets: Vec<String> =
        (!stated_trait.is_empty()).then(|| stated_trait.to_owned()).into_iter().collect();
    read(WATER, "invented", &sets).expect("a valid scenario")
}

fn uncertain_inputs(scenario: &Scenario) -> Vec<Vec<f64>> {
    (1..=30).map(|number| Day::draw(scenario, 3, number).uncertain_inputs(scenario)).collect()
}

/// V-169: weather is no uncertain input. With every row, trait and bait pinned, the list of uncertain inputs is the same on
/// days of 8 to 24 °C, of any wind and oxygen; without pins, each row and bait that has a spread differs between days.
#[test]
fn weather_is_not_an_uncertain_input() {
    let mut pinned = water("shoal.some.comes_to_splash=0.3");
    let books = &mut pinned.books;
    for book in [&mut books.water, &mut books.bait, &mut books.fish, &mut books.angler] {
        book.fix_all();
    }
    let recipes = pinned.recipes.iter_mut().flat_map(RecipePrior::values_mut);
    let hookbaits = pinned.hookbaits.iter_mut().flat_map(HookbaitPrior::values_mut);
    for value in recipes.chain(hookbaits) {
        value.spread = DailyDistribution::Fixed(value.spread.mean());
    }
    let of_days = uncertain_inputs(&pinned);
    let rows: usize = pinned.books.all().iter().map(|book| book.rows().len()).sum();
    assert_eq!(of_days[0].len(), rows + 1, "V-169: every row and the stated trait");
    let temperatures: Vec<f64> =
        (1..=30).map(|number| Day::draw(&pinned, 3, number).conditions.temperature_c).collect();
    let span = |values: &[f64]| {
        values
            .iter()
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], &x| [low.min(x), high.max(x)])
    };
    let [low, high] = span(&temperatures);
    println!("V-169: {low:.1} to {high:.1} °C");
    assert!(high - low > 10.0, "V-169: the days differ");
    for (number, of_day) in of_days.iter().enumerate() {
        assert_eq!(of_day, &of_days[0], "V-169: day {}", number + 1);
    }

    let free = water("shoal.some.comes_to_splash={ low = 0.1, high = 0.5 }");
    let of_days = uncertain_inputs(&free);
    let differ = (0..of_days[0].len())
        .filter(|&row| of_days.iter().any(|day| day[row].to_bits() != of_days[0][row].to_bits()));
    let books = free.books.all();
    let drawn = books
        .iter()
        .flat_map(|book| book.rows())
        .filter(|row| row.quantile(0.1).to_bits() != row.quantile(0.9).to_bits());
    let expected = drawn.count() + 1 + free.bait_values().len();
    assert_eq!(differ.count(), expected, "V-169: rows with a spread, the trait and baits in use");
}

/// V-177: of the variance of a day's weight, the share that a comparison gives to what nobody knows is the one of a nested
/// design, which draws the unknowns once for several days.
///
/// 60 draws of the unknowns with 10 days each: the variance within them over the whole is 1 minus that share. The
/// comparison counts single effects up to second order, so its share may be smaller by what interactions add; the two may
/// differ by a fifth and 4 standard errors of both.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn the_share_of_what_nobody_knows_is_that_of_a_nested_design() {
    let scenario = crate::demo::demo(&[]);
    let plan = &scenario.plans[0];
    let (draws, each) = (60, 10);
    let kg: Vec<Vec<f64>> = (1..=draws)
        .into_par_iter()
        .map(|inputs_day| {
            let fished = |number: u32| {
                let day = Day::draw_mixed(&scenario, 7, number, inputs_day, 0);
                run_session(&scenario, plan, &day).weight_g as f64 / 1e3
            };
            (1..=each).map(|turn| fished(1000 + inputs_day * each + turn)).collect()
        })
        .collect();
    let variance = |x: &[f64]| {
        let middle = mean(x);
        x.iter().map(|x| (x - middle) * (x - middle)).sum::<f64>() / (x.len() as f64 - 1.0)
    };
    let within: Vec<f64> = kg.iter().map(|days| variance(days)).collect();
    let whole = variance(&kg.concat());
    let nested = 1.0 - mean(&within) / whole;
    let nested_se = standard_error(&within) / whole;
    let compared = sim::study::Compare::new(&scenario).days(1000).run();
    let known = compared.plans[0].known_water.expect("enough days");
    let share = known.unknowns_share;
    let [low, high] = share.interval.map_or([0.0, 1.0], |interval| [interval.low, interval.high]);
    let se = (high - low) / (2.0 * 1.96);
    println!(
        "V-177: {nested:.2} ± {nested_se:.2} nested, {:.2} ± {se:.2} in a comparison",
        share.value
    );
    let apart = nested - share.value;
    assert!(apart.abs() < 0.2 + 4.0 * nested_se.hypot(se), "V-177: {nested} against {share:?}");
    assert!(share.value > 0.1, "V-177: nobody knows something: {share:?}");
    let all = &compared.plans[0].weight_kg;
    assert!(known.p10_kg > all.p10 && known.p90_kg < all.p90, "V-177: {known:?} within {all:?}");
    measured!(
        "V-177",
        "{nested:.2} ± {nested_se:.2} nested, {:.2} ± {se:.2} in a comparison",
        share.value
    );
}

/// Where nothing is unknown there is one kind of spread only.
#[test]
fn a_water_without_unknowns_has_one_kind_of_spread() {
    let mut scenario = water("shoal.some.comes_to_splash=0.3");
    scenario.fix_days();
    let compared = sim::study::Compare::new(&scenario).days(30).run();
    assert!(compared.plans[0].known_water.is_none());
}
