//! What to try next: practices, their worth, and how it is printed.

use std::fs;

use sim::catch_log::catch_log_text;
use sim::report::next_text;
use sim::scenario::{Scenario, Units, read};
use sim::session::Day;
use sim::study::{
    Control, NextResult, NextSpec, PracticeKind, PracticeWorth, simulated_session, what_to_try_next,
};

use crate::command_line::{ProgramFolder, json};

/// Two lines with a shoal each; nobody knows which has more fish.
const WATER: &str = "session.length = \"1 h\"\nline.left.distance = \"20 m\"\nline.left.bearing = \"-45 deg\"\n\
    line.right.distance = \"20 m\"\nline.right.bearing = \"45 deg\"\n\
    shoal.left-fish.count = { low = 5, high = 60 }\nshoal.left-fish.home = \"left\"\n\
    shoal.right-fish.count = { low = 5, high = 60 }\nshoal.right-fish.home = \"right\"\n\
    plan.left.line = \"left\"\nplan.right.line = \"right\"\n";

fn water() -> Scenario {
    read(WATER, "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

fn next(threads: usize) -> NextResult {
    let scenario = water();
    let spec = NextSpec {
        scenario: &scenario,
        seed: 9,
        waters: 100,
        practice_s: 1800.0,
        intervals_s: &[120.0, 300.0],
    };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    pool.install(|| what_to_try_next(&spec, Control::default())).expect("two plans")
}

#[test]
fn every_line_pair_and_interval_is_weighed_against_the_favourite_plan() {
    let result = next(2);
    assert_eq!(next(1), result, "the result depends on threads");
    // Left, right, and one after the other, each with two intervals; the favourite, and both plans.
    assert_eq!(result.practices.len(), 8);
    assert_eq!(result.practices.iter().filter(|worth| worth.is_favourite).count(), 1);
    let of_kind = |kind| result.practices.iter().find(move |worth| worth.practice.kind == kind);
    let plans = of_kind(PracticeKind::BothPlans).expect("both plans").practice.clone();
    assert_eq!(plans.lines, [result.favourite.as_str(), &result.rival], "each has a line");
    let times_s = plans.plan.phases.iter().map(|phase| (phase.from_s, phase.until_s));
    assert_eq!(times_s.collect::<Vec<_>>(), [(0.0, 900.0), (900.0, 1800.0)]);
    let is_both = |worth: &&PracticeWorth| {
        worth.practice.kind == PracticeKind::Lines && worth.practice.lines.len() == 2
    };
    let both = result.practices.iter().find(is_both).expect("both");
    let phases = &both.practice.plan.phases;
    assert_eq!((phases[0].until_s, phases[1].from_s, phases[1].until_s), (900.0, 900.0, 1800.0));
    for worth in &result.practices {
        assert!((0.0..=1.0).contains(&worth.settled_share), "{worth:?}");
        assert!(worth.worse_chance <= result.worse_chance + 1e-9, "{worth:?}");
    }
    let shares: Vec<f64> = result.practices.iter().map(|worth| worth.settled_share).collect();
    assert!(shares.is_sorted_by(|a, b| a >= b), "{shares:?}");
    assert!(result.practices[0].is_among_best);
    assert_ne!(result.favourite, result.rival);
    let text = next_text(&result, Units::Metric, 100).replace('\u{a0}', " ");
    assert!(text.starts_with("What to try next, in 30 min:"), "{text}");
    assert!(text.contains("left, then right"), "{text}");
}

#[test]
fn the_command_says_what_to_try_next() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("pond.toml"), WATER).expect("a file");
    let scenario = water();
    let sessions: Vec<_> = (1..=3)
        .map(|number| {
            let day = Day::draw(&scenario, 8, number);
            let mut session = simulated_session(&scenario, &scenario.plans[0], &day, 0.0, 1.0);
            session.name = format!("day-{number}");
            session
        })
        .collect();
    fs::write(folder.path("log.csv"), catch_log_text(&sessions)).expect("a file");
    let run = |line: &str| folder.run(&line.split(' ').collect::<Vec<_>>());
    let line = "learn log.csv --scenario pond.toml --logs 300 --days 10 --next --waters 100 --intervals 2min,5min";
    let output = run(line);
    assert_eq!(output.code, Some(0), "{}", output.err);
    assert!(output.out.contains("What to try next, in"), "{}", output.out);
    let document = json(&run(&format!("{line} --json --quiet")).out);
    assert!(
        document["next"]["practices"].as_array().is_some_and(|all| all.len() == 8),
        "{document}"
    );
    for (line, part) in [
        ("learn log.csv --next", "--scenario"),
        ("learn log.csv --scenario pond.toml --next --intervals 2min,0s", "give 1 s to 1 h"),
        ("learn log.csv --scenario pond.toml --next --practice-time 5min", "give 10 min to 12 h"),
    ] {
        let refused = run(line);
        assert_eq!(refused.code, Some(2), "{line}: {}", refused.err);
        assert!(refused.err.contains(part), "{line}: {}", refused.err);
    }
}
