//! Every book row changes some result, and shoals differ only by their stated values.

use std::path::Path;

use rayon::prelude::*;
use sim::params::Parameter;
use sim::scenario::{Books, load, read};
use sim::session::{Day, Outcome, run_session};

/// The outcomes of all plans of a water on one day.
fn outcomes(water: &str, sets: &[String], number: u32) -> Vec<Outcome> {
    let scenario = match water {
        "overhung" => read(OVERHUNG, water, sets),
        "evening" => read(EVENING, water, sets),
        "three ways" => read(THREE_WAYS, water, sets),
        "fine and strong" => read(FINE_AND_STRONG, water, sets),
        file => load(Path::new(file), sets),
    };
    let scenario = scenario.unwrap_or_else(|faults| panic!("{faults}"));
    let day = Day::draw(&scenario, 5, number);
    scenario.plans.iter().map(|plan| run_session(&scenario, plan, &day)).collect()
}

/// An invented water with branches over its line, fish with the traits of the book, and a plan with rules.
const OVERHUNG: &str = r#"
    title = "Under the branches; an invented water"
    [water.feature.branches]
    out = "20 m"
    half_length = "9 m"
    half_width = "3 m"
    depth = "1 m"
    cover = true
    [line.far-bank]
    distance = "20 m"
    [shoal.residents]
    count = 60
    weight = "1.5 kg"
    home = "far-bank"
    [plan.every-three]
    recast = "3 min"
    target = "3 kg"
    feed.far-bank = { bait = "pellets-4mm", every = "2 min", amount = "6 g" }
    [plan.over-loose-feed]
    recast = "2 min"
    load = "0 g"
    feed.far-bank = { bait = "pellets-4mm", every = "1 min", amount = "4 g" }
    [plan.every-three.rule.touched]
    line_bites = 2
    within = "10 min"
    recast = "6 min"
    [plan.every-three.rule.behind]
    behind = "0.5 kg"
    load = "40 g"
"#;

/// An evening with a date, shallow water, and a keen shoal that anglers have caught before in the same session.
const EVENING: &str = r#"
    title = "An evening with a date; an invented water"
    [session]
    kind = "pleasure"
    date = "2026-08-20"
    start = "18:30"
    [water]
    wind = { low = "10 km/h", high = "40 km/h" }
    cloud = { low = 0.2, high = 0.9 }
    depth = "0.8 m"
    [line.near]
    distance = "16 m"
    [shoal.keen]
    count = 300
    weight = "1 kg"
    home = "near"
    boldness = 3
    startles_at_splash = 0
    startles_at_patter = 0
    startles_at_fight = 0
    [plan.busy]
    recast = "3 min"
    feeder = "70 g"
    target = "40 kg"
    feed.near = { bait = "pellets-4mm", every = "25 s", amount = "4 g" }
    [plan.busy.rule.behind]
    behind = "3 kg"
    load = "40 g"
"#;

/// A near line that is fed by hand, in a pot and in balls.
const THREE_WAYS: &str = r#"
    title = "Three ways to feed; an invented water"
    [line.near]
    distance = "11 m"
    [shoal.residents]
    count = 60
    weight = "1.5 kg"
    home = "near"
    [plan.by-hand]
    feed.near = { bait = "pellets-4mm", every = "2 min", amount = "20 g", by = "hand" }
    [plan.in-a-pot]
    feed.near = { bait = "pellets-4mm", every = "10 min", amount = "150 g", by = "pot" }
    [plan.in-balls]
    feed.near = { bait = "groundbait", every = "10 min", amount = "200 g", by = "ball" }
"#;

/// Clear water at a bed of snags, fished with fine and with strong tackle.
const FINE_AND_STRONG: &str = r#"
    title = "Fine and strong tackle; an invented water"
    [water]
    clarity = "clear"
    [water.feature.snags]
    out = "26 m"
    half_length = "12 m"
    half_width = "2 m"
    cover = true
    [line.snags]
    distance = "22 m"
    [shoal.large]
    count = 120
    weight = "4 kg"
    home = "snags"
    [plan.fine]
    recast = "3 min"
    line_strength = "3 lb"
    hook = "small"
    [plan.strong]
    recast = "3 min"
    line_strength = "12 lb"
    hook = "strong"
"#;

/// The demo; the demo on a cold day with little oxygen where fish go back; the water with the branches; an evening in
/// clear and in muddy water; three ways to feed; fine and strong
/// tackle at snags.
const WATERS: [(&str, &[&str]); 7] = [
    ("evening", &["water.clarity=clear"]),
    ("evening", &["water.clarity=muddy"]),
    ("tests/waters/two-shoals.toml", &[]),
    (
        "tests/waters/two-shoals.toml",
        &["session.kind=pleasure", "water.oxygen=3 mg/L", "water.temperature=9 C"],
    ),
    ("overhung", &[]),
    ("three ways", &[]),
    ("fine and strong", &[]),
];

/// Whether anything differs between the two ends of a row's range.
fn moves_something(book: &str, row: &Parameter) -> bool {
    WATERS.iter().any(|(water, sets)| {
        (1..=3).any(|number| {
            let at = |value: f64| {
                let mut sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
                sets.push(format!("book.{book}.{}={value}", row.key));
                outcomes(water, &sets, number)
            };
            at(row.range[0]) != at(row.range[1])
        })
    })
}

/// Each row is set to either end of its range, on the same days. Sums may agree, but some value must differ.
#[test]
#[cfg_attr(debug_assertions, ignore = "hundreds of sessions: run in release")]
fn every_row_of_every_book_changes_some_result() {
    let books = Books::default();
    let rows: Vec<(&str, &Parameter)> = [&books.water, &books.bait, &books.fish, &books.angler]
        .iter()
        .flat_map(|book| book.rows().iter().map(|row| (book.name, row)))
        .collect();
    assert!(rows.len() > 60, "only {} rows", rows.len());
    let idle: Vec<String> = rows
        .par_iter()
        .filter(|(book, row)| !moves_something(book, row))
        .map(|(book, row)| format!("{book}.{}", row.key))
        .collect();
    assert!(idle.is_empty(), "these rows change nothing at all: {idle:?}");
}

/// Two shoals with equal traits, weights and homes are caught equally often. Over 300 days the paired difference in
/// fish and in weight is within 4 of its standard errors (a true claim fails this once in 16 000).
#[test]
#[cfg_attr(debug_assertions, ignore = "hundreds of sessions: run in release")]
fn equal_shoals_are_caught_equally_often() {
    let text = r#"
        title = "Two shoals alike; an invented water"
        [line.far-bank]
        distance = "25 m"
        [shoal.first]
        count = 30
        weight = "1.5 kg"
        home = "far-bank"
        [shoal.second]
        count = 30
        weight = "1.5 kg"
        home = "far-bank"
        [plan.every-three]
        recast = "3 min"
    "#;
    // Traits are drawn for each shoal; they are held, so that only chance is left.
    let held = [
        "book.fish.comes_to_splash=0.2",
        "book.fish.startles_at_splash=0.1",
        "book.fish.startles_at_fight=0.1",
    ];
    let sets: Vec<String> = held.iter().map(|&set| set.to_owned()).collect();
    let scenario = read(text, "alike", &sets).expect("it is sound");
    let differences: Vec<[f64; 2]> = (1..=300)
        .into_par_iter()
        .map(|number| {
            let day = Day::draw(&scenario, 5, number);
            let caught = run_session(&scenario, &scenario.plans[0], &day).by_shoal;
            let fish = f64::from(caught[0].fish) - f64::from(caught[1].fish);
            [fish, caught[0].weight_g as f64 - caught[1].weight_g as f64]
        })
        .collect();
    for (part, what) in ["fish", "grams"].iter().enumerate() {
        let n = differences.len() as f64;
        let mean = differences.iter().map(|day| day[part]).sum::<f64>() / n;
        let squares: f64 = differences.iter().map(|day| (day[part] - mean).powi(2)).sum();
        let error = (squares / (n - 1.0) / n).sqrt();
        assert!(squares > 0.0, "no two days differ, so nothing is tested");
        assert!((mean / error).abs() < 4.0, "{what}: {mean} ± {error} between equal shoals");
    }
}
