//! The same days for every plan, on any number of threads.

use std::convert::Infallible;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use sim::angler::PlanId;
use sim::fish::FishState;
use sim::params::DailyDistribution;
use sim::report::ComparisonDocument;
use sim::scenario::{Scenario, Units};
use sim::session::{Day, run_session};
use sim::study::{
    Comparison, Control, DayOutcomes, Estimate, NoProgress, PlanResult, Progress,
    VarianceComponent, VarianceComponentsKg2, compare, pair_variance_components, replicate,
};

use crate::pond::{ignored, plan, pond};

/// A comparison on days 1 to `days` of seed 1.
fn compared(scenario: &Scenario, days: u32) -> Comparison {
    crate::pond::compared(scenario, 1, days)
}

fn days(scenario: &Scenario, days: std::ops::RangeInclusive<u32>) -> Vec<DayOutcomes> {
    let mut seen = Vec::new();
    let Ok(_) = replicate(scenario, 1, days, Control::default(), |day| {
        seen.push(day.clone());
        Ok::<(), Infallible>(())
    });
    seen
}

fn json(comparison: &Comparison) -> String {
    serde_json::to_string(&ComparisonDocument::new(comparison, &pond(), Units::Metric))
        .expect("a comparison can be written")
}

fn on_threads<T: Send>(threads: usize, work: impl FnOnce() -> T + Send) -> T {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    pool.expect("threads can be started").install(work)
}

#[test]
fn the_pond_has_fish_to_catch() {
    // Otherwise the tests below could pass on sessions in which nothing happens.
    let comparison = compared(&pond(), 10);
    for plan in &comparison.plans {
        assert!(plan.swim.events > 100.0, "{}: {} events a session", plan.name, plan.swim.events);
    }
    let fish: f64 = comparison.plans.iter().map(|plan| plan.fish.mean).sum();
    assert!(fish > 0.0, "nothing was landed on ten days");
}

#[test]
fn one_two_and_eight_threads_give_the_same_bytes() {
    // 40 days are more than one chunk and not a multiple of it.
    let scenario = pond();
    let one = on_threads(1, || json(&compared(&scenario, 40)));
    for threads in [2, 8] {
        let many = on_threads(threads, || json(&compared(&scenario, 40)));
        assert!(one == many, "{threads} threads gave a different result from one");
    }
}

#[test]
fn another_seed_gives_other_days() {
    let scenario = pond();
    let other = crate::pond::compared(&scenario, 2, 8);
    assert_ne!(compared(&scenario, 8).plans, other.plans);
}

#[test]
fn a_day_fished_alone_equals_that_day_among_many() {
    let scenario = pond();
    let many = days(&scenario, 1..=40);
    assert_eq!(many.iter().map(|day| day.number).collect::<Vec<_>>(), (1..=40).collect::<Vec<_>>());
    assert_eq!(days(&scenario, 7..=7)[0], many[6]);
    assert_eq!(days(&scenario, 34..=40), many[33..]);
}

#[test]
fn plans_in_another_order_give_the_same_numbers() {
    let scenario = pond();
    let mut turned = scenario.clone();
    turned.plans.reverse();
    let (comparison, turned) = (compared(&scenario, 12), compared(&turned, 12));
    let plans: Vec<&PlanResult> = turned.plans.iter().rev().collect();
    assert_eq!(comparison.plans.iter().collect::<Vec<_>>(), plans);
    let (one, other) = (&comparison.pairs[0].difference_kg, &turned.pairs[0].difference_kg);
    assert_eq!(one.value.to_bits(), (-other.value).to_bits(), "{one:?} and {other:?} kg");
}

#[test]
fn a_plan_does_not_depend_on_the_other_plans_that_are_fished() {
    let scenario = pond();
    let mut alone = scenario.clone();
    alone.plans.remove(0);
    let (together, alone) = (days(&scenario, 1..=6), days(&alone, 1..=6));
    for (together, alone) in together.iter().zip(&alone) {
        assert_eq!(together.outcomes[1], alone.outcomes[0], "day {}", alone.number);
    }
}

#[test]
fn two_copies_of_a_plan_have_the_same_outcome_on_every_day() {
    let mut scenario = pond();
    scenario.plans = vec![plan("one", 120.0), plan("same", 120.0)];
    for day in days(&scenario, 1..=12) {
        assert_eq!(day.outcomes[0], day.outcomes[1], "day {}", day.number);
    }
    let comparison = compared(&scenario, 12);
    let pair = &comparison.pairs[0];
    assert_eq!(pair.difference_kg, Estimate::new(0.0, 0.0, 0.0));
    assert!((pair.tie_share - 1.0).abs() <= 0.0 && pair.a_ahead_share <= 0.0);
    assert!((comparison.plans[0].best_share - 0.5).abs() <= 0.0, "a tie is shared");
}

#[test]
fn shares_of_time_sum_to_one_and_the_curve_ends_at_the_mean() {
    for plan in compared(&pond(), 10).plans {
        let sum = plan.time_share.total();
        // Six shares of about one, each rounded: 6 ulp.
        assert!((sum - 1.0).abs() < 6.0 * f64::EPSILON, "{}: shares sum to {sum}", plan.name);
        let last = plan.curve.last().expect("a curve has an end");
        assert_eq!(last.mean_kg.to_bits(), plan.weight_kg.mean.to_bits(), "{}", plan.name);
        assert!((last.minute - 30.0).abs() < 1e-9, "ends at {} min", last.minute);
    }
}

#[test]
fn a_stopped_study_gives_the_result_of_its_finished_days() {
    // Given a stop after 50 days of two plans, within the second chunk,
    struct StopsAt(AtomicU64, AtomicBool);
    impl Progress for StopsAt {
        fn on_session_done(&self) {
            if self.0.fetch_add(1, Ordering::Relaxed) == 100 {
                self.1.store(true, Ordering::Relaxed);
            }
        }
    }
    let scenario = pond();
    let watcher = StopsAt(AtomicU64::new(0), AtomicBool::new(false));
    let control = Control { progress: &watcher, stop: &watcher.1 };
    let Ok(stopped) = compare(&scenario, 1, 400, control, ignored);
    // then only whole chunks count, and they are what a shorter run gives.
    assert!(stopped.days < 100, "{} days were fished after it was stopped", stopped.days);
    assert_eq!(json(&stopped), json(&compared(&scenario, stopped.days)));
    assert!(stopped.days > 0, "the first chunk was done before");
}

#[test]
fn a_study_stopped_before_it_starts_fishes_nothing() {
    let stop = AtomicBool::new(true);
    let control = Control { progress: &NoProgress, stop: &stop };
    let Ok(done) = replicate(&pond(), 1, 1..=40, control, ignored);
    assert_eq!(done, 0);
}

#[test]
fn weather_and_stock_uncertain_inputs_and_replicate_noise_are_drawn_separately() {
    // Temperature and oxygen change the fish's book; they are held, so that books are compared as drawn.
    let mut scenario = pond();
    scenario.weather.temperature_c = DailyDistribution::Fixed(18.0);
    let plain = Day::draw(&scenario, 3, 7);
    // How many fish pass by is an uncertain input.
    let weights = |day: &Day| {
        let in_reach = day.stock.iter().filter(|fish| fish.state != FishState::Away);
        in_reach.map(|fish| fish.mass_g).collect::<Vec<_>>()
    };
    let books =
        |day: &Day| (day.water.clone(), day.bait.clone(), day.fish.clone(), day.angler.clone());
    let fished = |day: &Day| run_session(&scenario, &scenario.plans[0], day);

    let same = Day::draw_mixed(&scenario, 3, 7, 7, 0);
    assert_eq!(fished(&same), fished(&plain), "replicate 0 on its own day is the day itself");

    let luckier = Day::draw_mixed(&scenario, 3, 7, 7, 5);
    assert_eq!(luckier.conditions, plain.conditions);
    assert_eq!(weights(&luckier), weights(&plain));
    assert_eq!(books(&luckier), books(&plain));
    assert_ne!(fished(&luckier), fished(&plain), "another replicate is another session");

    let otherwise = Day::draw_mixed(&scenario, 3, 7, 8, 0);
    assert_eq!(otherwise.conditions, plain.conditions);
    assert_eq!(weights(&otherwise), weights(&plain));
    assert_eq!(
        books(&otherwise),
        books(&Day::draw(&scenario, 3, 8)),
        "the uncertain inputs of day 8"
    );
    assert_ne!(books(&otherwise), books(&plain));
}

#[test]
fn fixed_days_differ_by_replicate_noise_alone() {
    let mut scenario = pond();
    scenario.fix_days();
    let [one, other] = [3, 4].map(|number| Day::draw(&scenario, 3, number));
    // Which fish come later is noise within the day.
    let fish = |day: &Day| -> Vec<(u32, u64)> {
        let in_reach = day.stock.iter().filter(|fish| fish.state != FishState::Away);
        in_reach.map(|fish| (fish.mass_g, fish.boldness.to_bits())).collect()
    };
    assert_eq!(one.conditions, other.conditions);
    assert_eq!(fish(&one), fish(&other), "the same fish in reach at the start");
    assert_eq!((&one.fish, &one.bait), (&other.fish, &other.bait));
    assert_ne!(
        run_session(&scenario, &scenario.plans[0], &one).time_s,
        run_session(&scenario, &scenario.plans[0], &other).time_s
    );
    assert!(scenario.uncertain_inputs().is_empty(), "no uncertain input is left");
    assert_ne!(scenario.sha256, pond().sha256, "the hash differs for fixed days");
    // All variance is replicate noise: nothing else differs between two days or two draws of the uncertain inputs. The 95 %
    // intervals of the other components therefore reach zero, but for one in twenty; up to four of twenty seeds may miss
    // it, which is 3 binomial errors above one.
    let components = |seed: u64| {
        let [often, ..] = pair_variance_components(
            &scenario,
            [PlanId(0), PlanId(1)],
            seed,
            60,
            Control::default(),
        )
        .expect("not stopped");
        often
    };
    let all: Vec<VarianceComponentsKg2> = (1..=20).map(components).collect();
    let others: [fn(&VarianceComponentsKg2) -> &VarianceComponent; 3] =
        [|all| &all.days, |all| &all.uncertain_inputs, |all| &all.interaction];
    for part in others {
        let misses = |all: &&VarianceComponentsKg2| {
            let part = part(all);
            let [low, high] = [part.low95_kg2, part.high95_kg2].map(|end| end.expect("an end"));
            low > 0.0 || high < 0.0
        };
        let missed = all.iter().filter(misses).count();
        assert!(missed <= 4, "{missed} of 20 intervals miss zero: {:?}", part(&all[0]));
    }
    let often = &all[0];
    assert!(all.iter().all(|all| all.noise.low95_kg2.is_some_and(|low| low > 0.0)), "{often:?}");
    let parts = [&often.noise, &often.days, &often.uncertain_inputs, &often.interaction];
    let shares: f64 = parts.iter().map(|part| part.share).sum();
    assert!((shares - 1.0).abs() < 1e-9, "shares add up: {shares}");
}

#[test]
fn holding_an_uncertain_input_changes_nothing_else() {
    let scenario = pond();
    let unknowns = scenario.uncertain_inputs();
    assert!(unknowns.iter().any(|one| one.key == "book.fish.take_share"));
    assert!(unknowns.iter().any(|one| one.key == "shoal.small.count"));
    assert!(unknowns.iter().all(|one| one.key != "water.oxygen"), "oxygen is the same every day");
    let plain = Day::draw(&scenario, 1, 2);
    for unknown in &unknowns {
        let (low, high) = (unknown.quantile(0.1), unknown.quantile(0.9));
        assert!(low < high, "{}: {low} to {high}", unknown.key);
        let mut held = scenario.clone();
        unknown.fix_at(&mut held, low);
        assert!(
            held.uncertain_inputs().iter().all(|one| one.key != unknown.key),
            "{}",
            unknown.key
        );
        let day = Day::draw(&held, 1, 2);
        if unknown.key != "water.temperature" {
            let bits = |day: &Day| day.conditions.temperature_c.to_bits();
            assert_eq!(bits(&day), bits(&plain));
        }
        if unknown.key != "book.fish.take_share" {
            let bits = |day: &Day| day.fish.take_share.to_bits();
            assert_eq!(bits(&day), bits(&plain), "{}", unknown.key);
        }
    }
}
