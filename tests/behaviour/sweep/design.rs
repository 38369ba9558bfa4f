//! Points of a sweep, and their results.

use sim::scenario::ScenarioSource;
use sim::study::{
    Control, Design, Sampling, Shard, Stamp, Store, SweepDefinition, run_sweep, summarise,
};

use crate::command_line::{POND, ProgramFolder};
use crate::pond::compared;

fn design(vary: &[&str], spread: Sampling) -> Design {
    let vary: Vec<String> = vary.iter().map(|&text| text.to_owned()).collect();
    Design::new(&vary, spread).expect("points")
}

#[test]
fn a_grid_has_every_combination_and_the_last_key_varies_fastest() {
    let grid =
        design(&["plan.often.recast=1 min,2 min", "shoal.small.count=20..40/3"], Sampling::Grid);
    assert_eq!(grid.points.len(), 6);
    assert_eq!((grid.points[1][0].as_str(), grid.points[1][1].as_str()), ("1 min", "30"));
    assert_eq!(grid.description(), "a grid of 2 × 3");
}

#[test]
fn sampled_points_fill_the_space_and_more_points_keep_the_first_ones() {
    let vary = ["plan.often.load=8 g..80 g log", "plan.often.bait=groundbait,pellets"];
    let some = design(&vary, Sampling::Sobol(16));
    let more = design(&vary, Sampling::Sobol(64));
    assert_eq!(more.points[..16], some.points[..]);
    // A Sobol' sequence of 2ᵐ points has equally many in each half of each key.
    let grams =
        |point: &Vec<String>| point[0].trim_end_matches(" g").parse::<f64>().expect("grams");
    // The geometric mean of 8 and 80 is 8 √10.
    let low = more.points.iter().filter(|point| grams(point) < 8.0 * 10_f64.sqrt()).count();
    let first = more.points.iter().filter(|point| point[1] == "groundbait").count();
    assert_eq!((low, first, more.points.len()), (32, 32, 64));
    // A Latin hypercube of n points has one in each n-th.
    let latin = design(&vary[..1], Sampling::Latin(10));
    let mut nth: Vec<i32> =
        latin.points.iter().map(|point| (10.0 * (grams(point) / 8.0).log10()) as i32).collect();
    nth.sort_unstable();
    assert_eq!(nth, (0..10).collect::<Vec<_>>());
}

#[test]
fn repeated_keys_and_too_many_points_are_refused() {
    let twice = ["plan.a.recast=1 min".to_owned(), "plan.A.recast=2 min".to_owned()];
    assert!(Design::new(&twice, Sampling::Grid).is_err(), "columns do not distinguish A from a");
    let many: Vec<String> =
        ["a", "b", "c"].map(|plan| format!("plan.{plan}.recast=1..900/900 min")).into();
    let why = Design::new(&many, Sampling::Grid).expect_err("too many").to_string();
    assert!(why.contains("729,000,000 points") && why.contains("--points"), "{why}");
}

#[test]
fn a_point_has_the_result_of_a_comparison_at_that_point() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let written = ScenarioSource::new(POND, "pond");
    let base = written.read(&[]).expect("sound");
    let of = SweepDefinition {
        stamp: Stamp::new(&base.name, &base.sha256, 1),
        source: written.clone(),
        fixed_days: false,
        overrides: Vec::new(),
        book: None,
        plans: vec!["often".to_owned(), "seldom".to_owned()],
        design: design(&["plan.seldom.recast=7 min,4 min"], Sampling::Grid),
        days: 40,
        shard: Shard::WHOLE,
    };
    let mut store = Store::open(&folder.path().join("sweep.db"), of).expect("a store");
    assert!(
        run_sweep(&mut store, Control::default(), |_| {}).expect("kept"),
        "the sweep is finished"
    );
    let result = summarise(&store).expect("read");
    let plain = compared(&base, 1, 40);
    // The first setting has the result of a comparison, and the plan that is not varied stays the same.
    for (varied, plan) in result.settings[0].plans.iter().zip(&plain.plans) {
        let kg = varied.weight_kg;
        assert!(kg.mean.value > 0.0, "{} caught nothing", plan.name);
        assert_eq!(kg.mean.value.to_bits(), plan.weight_kg.mean.to_bits(), "{}", plan.name);
        assert_eq!(kg.p90.to_bits(), plan.weight_kg.p90.to_bits(), "{}", plan.name);
        assert_eq!(varied.fish_mean.to_bits(), plan.fish.mean.to_bits(), "{}", plan.name);
    }
    assert_eq!(result.settings[0].plans[0], result.settings[1].plans[0]);
    // The shortfall against the best is the paired difference that a comparison of both would give.
    let (one, other) = (&result.settings[0].plans[1], &result.settings[1].plans[1]);
    let apart = (one.weight_kg.mean.value - other.weight_kg.mean.value).abs();
    let behind = one.shortfall_kg.value + other.shortfall_kg.value;
    // Means of whole grams, each rounded once.
    assert!((apart - behind).abs() < 1e-12, "{apart} and {behind} kg");
}

#[test]
fn a_sweep_estimates_its_cost_first_and_reports_its_state_afterwards() {
    let folder = ProgramFolder::new();
    let args =
        ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min,4 min", "--days", "6"];
    let output = folder.run_ok(&args);
    for word in
        ["a grid of 3: 3 points × 2 plans × 6 days: 24 sessions", " on ", "nothing of seldom"]
    {
        assert!(output.err.contains(word), "{word} is missing: {}", output.err);
    }
    for word in
        ["best mean", "Nothing of seldom is varied", "6 days of seed 1 at each value", "vary.csv"]
    {
        assert!(output.out.contains(word), "{word} is missing: {}", output.out);
    }
    let status = folder.run_ok(&[&args[..], &["--status"]].concat()).out;
    assert!(status.contains("24 of 24 sessions, 100 %") && status.contains("±"), "{status}");
    // Repeated, it is not fished again, and the result is the same.
    let again = folder.run_ok(&args);
    assert_eq!((again.out.as_str(), again.err.as_str()), (output.out.as_str(), ""));
}

#[test]
fn a_wrong_value_at_one_point_is_reported_before_anything_is_written() {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--points", "64", "--vary", "shoal.small.count=-20..40"];
    let output = folder.run(&args);
    assert_eq!((output.code, output.out.as_str()), (Some(2), ""));
    // The end of the range is named, and no number that was drawn.
    assert!(output.err.contains("shoal.small.count: -20 is out of range"), "{}", output.err);
    assert!(!folder.path("output").exists(), "nothing is written");
}
