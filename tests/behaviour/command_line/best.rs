//! The search for the best setting: its result, its files and the input it refuses.

use std::fs;
use std::process::Output;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use serde_json::Value;
use sim::angler::PlanId;
use sim::study::{Control, Objective, PlanVariant, Progress, SearchSpec, Setting, find_best};

use super::program::{POND, ProgramFolder};

fn run(folder: &ProgramFolder, args: &[&str]) -> Output {
    folder.command(args).output().expect("the program starts")
}

fn document(output: &Output) -> Value {
    let finished = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{finished}");
    serde_json::from_slice(&output.stdout).expect("one JSON document")
}

const SEARCH: [&str; 9] = [
    "best",
    "pond.toml",
    "--vary",
    "plan.often.recast=30 s..10 min/30 log",
    "--vary",
    "plan.often.load=5 g..60 g/20",
    "--days=8",
    "--sessions=900",
    "--json",
];

#[test]
fn a_search_gives_the_same_result_on_any_number_of_threads_and_in_compare() {
    // Given a search of 600 combinations, on one thread and on three,
    let folder = ProgramFolder::new();
    let one = run(&folder, &[&SEARCH[..], &["--threads=1", "--out=one", "--quiet"]].concat());
    let three = run(&folder, &[&SEARCH[..], &["--threads=3", "--out=three", "--quiet"]].concat());
    let result = document(&one);
    // then both print the same,
    assert_eq!(one.stdout, three.stdout);
    assert_eq!(result["format"], "shoalwise/best/1");
    assert_eq!((&result["combinations"], &result["method"]), (&600.into(), &"raced".into()));
    let sessions = result["sessions"].as_u64().expect("a number");
    assert!(sessions <= 900, "{sessions} sessions of 900");
    // and the best plan weighs the same where `compare` fishes it on the same days.
    let mut compare = vec!["compare", "pond.toml", "--plan=often", "--days=8", "--json", "--quiet"];
    let sets = result["sets"].as_array().expect("a list");
    assert_eq!(sets.len(), 2);
    for set in sets {
        compare.extend(["--set", set.as_str().expect("text")]);
    }
    let compared = document(&run(&folder, &compare));
    let mean = |value: &Value| value.as_f64().expect("a number");
    let (searched, fished) =
        (mean(&result["found"]["mean"]), mean(&compared["plans"][0]["weight_kg"]["mean"]));
    // Both add up whole grams; only the rounding of eight terms remains.
    assert!((searched - fished).abs() < 1e-9, "{searched} kg, in compare {fished} kg");
}

#[test]
fn a_search_writes_its_files_and_keeps_those_of_other_runs() {
    let folder = ProgramFolder::new();
    let args = [&SEARCH[..], &["--out=here", "--quiet"]].concat();
    document(&run(&folder, &args));
    let here = folder.path("here");
    for name in ["best.json", "best.csv", "best.svg", "best.png", "stamp.json"] {
        assert!(here.join(name).is_file(), "{name} is missing");
    }
    // The table of evaluations has one column a key, and the number of days that the search fished.
    let table = fs::read_to_string(here.join("best.csv")).expect("a table");
    assert!(table.starts_with("round,plan.often.recast,plan.often.load,days,mean,se\n"), "{table}");
    assert!(table.lines().count() > 20, "{table}");
    // The same search may be repeated; a search with another aim is refused.
    document(&run(&folder, &args));
    let other = run(&folder, &[&args[..], &["--aim=target=1 kg"]].concat());
    assert_eq!(other.status.code(), Some(2), "{}", String::from_utf8_lossy(&other.stderr));
}

#[test]
fn a_small_set_of_plans_is_tried_completely_and_a_chance_can_be_the_objective() {
    let folder = ProgramFolder::new();
    let args = ["best", "pond.toml", "--days=20", "--sessions=700", "--json", "--quiet"];
    let result = document(&run(&folder, &[&args[..], &["--aim=target=2 kg"]].concat()));
    assert_eq!((&result["combinations"], &result["aim"]), (&2.into(), &"target".into()));
    assert!(["screened", "shared"].contains(&result["method"].as_str().expect("text")));
    let chance = result["found"]["mean"].as_f64().expect("a number");
    assert!((0.0..=1.0).contains(&chance), "a chance of {chance}");
    // A cast every 90 seconds frightens the fish of this pond, so the other plan must win.
    assert_eq!(result["plan"], "seldom");
    assert_eq!(result["finalists"].as_array().map(Vec::len), Some(1));
}

#[test]
fn the_chance_in_a_section_equals_that_of_compare() {
    // Given the pond with a section of seven competitors whose weights depend on the day,
    let folder = ProgramFolder::new();
    let section = "\n[section]\nrivals = 6\nplaces = 2\nweight = { mean = \"1.5 kg\", cv = 0.5 }\nshared = 0.6\n";
    let text = format!("{POND}{section}");
    fs::write(folder.path("pond.toml"), &text).expect("a scenario");
    let compare = ["compare", "pond.toml", "--plan=often", "--days=300", "--json", "--quiet"];
    let compared = document(&run(&folder, &compare));
    for aim in ["win", "frame"] {
        // when the search maximises the chance in it, on one thread and on three,
        let args = ["best", "pond.toml", "--vary=plan.often.recast=90 s,7 min", "--days=300"];
        let more = ["--sessions=2400", "--json", "--quiet", "--aim", aim];
        let out = [format!("--out={aim}-1"), format!("--out={aim}-3")];
        let one = run(&folder, &[&args[..], &more, &["--threads=1", &out[0]]].concat());
        let three = run(&folder, &[&args[..], &more, &["--threads=3", &out[1]]].concat());
        let result = document(&one);
        assert_eq!(one.stdout, three.stdout);
        assert_eq!(result["aim"], aim);
        let sessions = result["sessions"].as_u64().expect("a number");
        assert!(sessions <= 2400, "{sessions} sessions of 2400");
        // then the plan as written has the chance that `compare` reports. The two rank a day among 300 and 400 other
        // days: a rank has an error of 0.5 / sqrt(300) + 0.5 / sqrt(400) = 0.05 at one standard error each, and a
        // chance has a smaller error than the rank of its day.
        let chance = result["as_written"]["value"]["mean"].as_f64().expect("a number");
        let aims = compared["aims"].as_array().expect("a list");
        let same = aims.iter().find(|one| one["aim"] == aim).expect("the aim");
        let there = same["plans"][0]["value"].as_f64().expect("a number");
        assert!((0.05..=0.95).contains(&there), "a chance of {there} is too extreme for this test");
        assert!((chance - there).abs() < 0.05, "{aim}: {chance}, in compare {there}");
    }
}

#[test]
fn a_meaningless_search_is_refused_and_writes_nothing() {
    let folder = ProgramFolder::new();
    for (args, message) in [
        (&["--vary", "plan.often.recast=1min,ten"][..], "\"ten\""),
        (&["--vary", "plan.often.recast=1min,2min", "--plan=seldom"], "not fished"),
        (&["--plan=often"], "nothing to choose"),
        (&["--sessions=30"], "too few"),
        (&["--aim=target=5 min"], "mass"),
        (&["--aim=target=0 kg"], "a target is 10 g to 1000 kg"),
        (&["--aim=target=1e9 kg"], "a target is 10 g to 1000 kg"),
        (&["--aim=win"], "the scenario has none"),
        (&["--aim=win=3"], "win or frame"),
        (&["--aim=target"], "the scenario has no target"),
        (&["--vary", "plan.often.recast=1min,2min", "--vary", "plan.often.recast=3min"], "twice"),
        (&["--plan=nobody"], "no plan"),
    ] {
        let output = run(&folder, &[&["best", "pond.toml", "--quiet"][..], args].concat());
        let finished = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {finished}");
        assert!(finished.contains(message), "{args:?}: {finished}");
    }
    assert!(!folder.path("output").exists(), "something was written");
}

/// Requests a stop after a number of sessions.
struct Stops {
    after: u32,
    done: AtomicU32,
    stop: AtomicBool,
}

impl Progress for Stops {
    fn on_session_done(&self) {
        if self.done.fetch_add(1, Ordering::Relaxed) + 1 >= self.after {
            self.stop.store(true, Ordering::Relaxed);
        }
    }
}

#[test]
fn a_stopped_search_returns_what_it_has_tried() {
    let recasts: Vec<String> = (1..=40).map(|step| format!("{} s", 15 * step)).collect();
    let read = |point: &[usize]| {
        let sets: Vec<String> =
            point.iter().map(|&level| format!("plan.often.recast={}", recasts[level])).collect();
        let scenario = sim::scenario::read(POND, "pond", &sets).expect("a sound pond");
        Some(PlanVariant { scenario, plan: PlanId(0) })
    };
    let args = SearchSpec {
        settings: vec![Setting {
            key: "plan.often.recast".to_owned(),
            values: recasts.clone(),
            is_ordered: true,
        }],
        objective: Objective::Weight,
        sessions: 900,
        days: 4,
        seed: 1,
        has_baseline: true,
    };
    let base = sim::scenario::read(POND, "pond", &[]).expect("a sound pond");
    let stops = Stops { after: 300, done: AtomicU32::new(0), stop: AtomicBool::new(false) };
    let mut reads = read;
    let control = Control { progress: &stops, stop: &stops.stop };
    let unfinished = find_best(&base, &args, &mut reads, control).expect_err("it was stopped");
    assert!(!unfinished.is_searched);
    assert!(!unfinished.evaluations.is_empty(), "the evaluations are lost");
    assert!(unfinished.evaluations.iter().all(|one| one.days > 0 && one.mean.is_finite()));
}
