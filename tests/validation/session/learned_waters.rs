//! V-318 and V-319: the simulator fitted to logs of its own, and its advice, against what is known.
//!
//! The waters are small and the sessions short, so that there can be many of them.

use rayon::prelude::*;
use sim::angler::PlanId;
use sim::catch_log::{CatchLog, catch_log_text, read_catch_log};
use sim::engine::Dice;
use sim::scenario::{Scenario, read};
use sim::session::{Day, run_session};
use sim::study::{
    Control, LogSimulator, LoggedPlan, NowSpec, SimulatedCase, SummaryFrame, logged_plans, now,
    simulated_session, unknowns_posterior,
};

use crate::measured::measured;

const WATER: &str = "session.length = \"1 h\"\nline.bar.distance = \"20 m\"\n\
    shoal.residents.count = 80\nshoal.residents.home = \"bar\"\n\
    shoal.residents.home_half_length = \"8 m\"\nshoal.residents.home_half_width = \"8 m\"\n\
    plan.wait.recast = \"4 min\"\n";

fn water() -> Scenario {
    read(WATER, "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// The log of some sessions of the only plan.
fn log_of(scenario: &Scenario, seed: u64, days: std::ops::RangeInclusive<u32>) -> CatchLog {
    let sessions: Vec<_> = days
        .map(|number| {
            let day = Day::draw(scenario, seed, number);
            let mut session = simulated_session(scenario, &scenario.plans[0], &day, 0.0, 1.0);
            session.name = format!("day-{number}");
            session
        })
        .collect();
    read_catch_log(&catch_log_text(&sessions), "pond", "pond.csv")
        .unwrap_or_else(|faults| panic!("{faults}"))
}

/// V-318: every simulated log in turn is the observed one, and the others say what its unknowns were.
#[test]
#[cfg_attr(debug_assertions, ignore = "thousands of sessions")]
fn unknowns_behind_simulated_logs_are_found_with_honest_ranges() {
    const LOGS: u32 = 1200;
    const TESTS: usize = 200;
    let scenario = water();
    let log = log_of(&scenario, 5, 1..=4);
    let plans: Vec<LoggedPlan> = logged_plans(&log, "pond.csv", &scenario).expect("known names");
    let unknowns = scenario.unknowns();
    let simulator =
        LogSimulator { plans: &plans, unknowns: &unknowns, seed: 318, time_unit_s: 1.0 };
    let starts: Vec<f64> = plans.iter().map(|plan| plan.start_s).collect();
    let frame = SummaryFrame::new(&scenario, &log.sessions, &starts);
    let table = simulator.table(&frame, LOGS, Control::default()).expect("not stopped");
    let fits: Vec<_> = (0..TESTS)
        .into_par_iter()
        .map(|test| {
            let others: Vec<SimulatedCase> =
                table[..test].iter().chain(&table[test + 1..]).cloned().collect();
            (test, unknowns_posterior(&others, &table[test].summaries))
        })
        .collect();
    let (mut inside, mut count, mut refused) =
        (vec![0_u32; unknowns.len()], vec![0_u32; unknowns.len()], 0);
    let mut ranks = vec![vec![0_u32; 10]; unknowns.len()];
    let mut dice = Dice::from_key(&[318]);
    let mut narrowed = vec![0.0; unknowns.len()];
    for (test, fit) in fits {
        let Ok(fit) = fit else {
            refused += 1;
            continue;
        };
        for (place, &unknown) in fit.fitted.iter().enumerate() {
            let truth = table[test].scores[unknown];
            let (low, high) =
                (fit.posterior.quantile(place, 0.05), fit.posterior.quantile(place, 0.95));
            inside[unknown] += u32::from((low..=high).contains(&truth));
            count[unknown] += 1;
            narrowed[unknown] += fit.posterior.variance(place).sqrt();
            let rows = fit.posterior.resampled(99);
            let value = |row: &usize| fit.posterior.parameters[*row][place];
            let below = rows.iter().filter(|row| value(row) < truth - 1e-9).count();
            let level = rows.iter().filter(|row| (value(row) - truth).abs() <= 1e-9).count();
            // A truth at the end of its range is level with draws there: its rank is any of theirs.
            let rank = below + (dice.uniform() * (level + 1) as f64) as usize;
            ranks[unknown][rank.min(99) / 10] += 1;
        }
    }
    println!("{refused} of {TESTS} logs refused");
    // Half a hundredth is allowed for by construction, and each summary may be the outermost: 4 binomial errors of 5 %.
    assert!(refused as f64 / TESTS as f64 <= 0.05 + 4.0 * (0.05_f64 * 0.95 / TESTS as f64).sqrt());
    let (mut checked, mut coverages, mut squares) = (0, Vec::new(), Vec::new());
    for (unknown, n) in count.iter().enumerate().filter(|(_, n)| **n as usize > TESTS / 2) {
        checked += 1;
        let coverage = f64::from(inside[unknown]) / f64::from(*n);
        let expected = f64::from(*n) / 10.0;
        let chi_square: f64 = ranks[unknown]
            .iter()
            .map(|&seen| (f64::from(seen) - expected).powi(2) / expected)
            .sum();
        println!(
            "{}: 90 % ranges hold the truth in {:.1} % of {n}, χ²(9) {chi_square:.1}, spread {:.2} of before",
            unknowns[unknown].key,
            100.0 * coverage,
            narrowed[unknown] / f64::from(*n) / 0.959
        );
        // Between 85 and 95 %, and 4 binomial errors of n.
        let error = 4.0 * (0.9_f64 * 0.1 / f64::from(*n)).sqrt();
        assert!(coverage > 0.85 - error && coverage < 0.95 + error, "{coverage}");
        // χ² of 9 that chance exceeds once in 16 000.
        assert!(chi_square < 35.4, "{:?}", ranks[unknown]);
        coverages.push(100.0 * coverage);
        squares.push(chi_square);
    }
    assert!(checked >= 5, "only {checked} unknowns were fitted");
    coverages.sort_by(f64::total_cmp);
    squares.sort_by(f64::total_cmp);
    measured!(
        "V-318",
        "χ²(9) {:.0} to {:.0}, 90 % ranges hold the truth in {:.1} to {:.1} % of {TESTS} logs for {checked} unknowns",
        squares[0],
        squares[checked - 1],
        coverages[0],
        coverages[checked - 1]
    );
}

/// V-319: matches are stopped at a random minute, and what comes out in the end is compared with what was foretold.
#[test]
#[cfg_attr(debug_assertions, ignore = "thousands of sessions")]
fn final_weights_lie_in_the_foretold_ranges_as_often_as_they_say() {
    const MATCHES: u32 = 100;
    let scenario = water();
    let foretold = |number: u32| {
        let mut dice = Dice::from_key(&[319, u64::from(number)]);
        let at_s = dice.uniform_between(600.0, 3000.0).floor();
        // The match is on a water of the same doubt as those that are simulated: its number of fish is in doubt too.
        let simulator_unknowns = scenario.unknowns();
        let factor = simulator_unknowns.last().expect("the number of fish");
        let value = [factor.parameter.draw(&mut dice)];
        let learned = Some((&[factor.target][..], &value[..]));
        let day = Day::draw_with(&scenario, 4242, [number, number], 0, learned);
        let plan = &scenario.plans[0];
        let outcome = run_session(&scenario, plan, &day);
        let truth_kg = outcome.weight_g as f64 / 1000.0;
        let mut session = simulated_session(&scenario, plan, &day, 0.0, 1.0);
        session.casts.retain(|cast| cast.cast_s <= at_s);
        let is_landed = |cast: &&sim::catch_log::LoggedCast| {
            let catch =
                cast.end.as_ref().filter(|end| end.at_s <= at_s).and_then(|end| end.catch.as_ref());
            catch.is_some_and(|catch| catch.landed == Some(true))
        };
        let landed_count = session.casts.iter().filter(is_landed).count();
        if let Some(last) = session.casts.last_mut() {
            last.end = last.end.take().filter(|end| end.at_s <= at_s);
            // A fish that is still being played is not in the net.
            let netted = outcome.catches.iter().filter(|fish| fish.at_s <= at_s).count();
            let catch = last.end.as_mut().and_then(|end| end.catch.as_mut());
            if let Some(catch) = catch.filter(|_| landed_count > netted) {
                (catch.landed, catch.weight_kg) = (None, None);
            }
        }
        let text = catch_log_text(&[session]);
        let log = read_catch_log(&text, "pond", "pond.csv").expect("a sound log");
        let past = logged_plans(&log, "pond.csv", &scenario).expect("known names").pop()?;
        let spec = NowSpec {
            scenario: &scenario,
            plan: PlanId(0),
            log: &log,
            past: &past,
            clock_s: at_s,
            seed: 7,
            sessions: 100,
        };
        let result = now(&spec, Control::default()).ok()?;
        let way = &result.ways[0];
        Some((way.low80_kg, way.high80_kg, truth_kg, way.final_kg, result.weight_kg))
    };
    let results: Vec<_> = (1..=MATCHES).into_par_iter().filter_map(foretold).collect();
    let n = results.len() as f64;
    // A fish that is on at that minute is not in the log's weight yet; a gram is rounding.
    let inside =
        results.iter().filter(|(low, high, truth, ..)| (low - 1e-3..=high + 1e-3).contains(truth));
    let coverage = inside.count() as f64 / n;
    let bias: f64 =
        results.iter().map(|(_, _, truth, expected, _)| truth - expected).sum::<f64>() / n;
    let squares: f64 =
        results.iter().map(|(_, _, truth, expected, _)| (truth - expected - bias).powi(2)).sum();
    let error = (squares / n / (n - 1.0)).sqrt();
    println!(
        "80 % ranges hold {:.1} % of {n}; mean error {bias:+.2} kg ± {error:.2}",
        100.0 * coverage
    );
    // Between 75 and 85 %, and 4 binomial errors of n.
    let slack = 4.0 * (0.8_f64 * 0.2 / n).sqrt();
    assert!(coverage > 0.75 - slack && coverage < 0.85 + slack, "{coverage}");
    assert!(bias.abs() < 4.0 * error, "{bias} kg ± {error}");
    measured!("V-319", "{:.0} % of {n}, mean error {bias:+.2} ± {error:.2} kg", 100.0 * coverage);
}
