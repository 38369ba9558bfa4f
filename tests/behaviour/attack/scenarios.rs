//! Whole scenarios made from the table of keys: sound ones are fished, spoiled ones are refused with a line.

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde_json::Value;
use sim::scenario::{
    Diagnostics, Scenario, ScenarioSource, SourceLocation, WrittenScenario, format_keys,
    scenario_json_schema,
};
use sim::session::{Day, Outcome, run_session};

use super::generator::{WEIGH_INS, WrittenKeys, generated, spoiled};
use super::inputs::{Tape, attack, is_hidden, tape};

/// Numbers on the tape of a scenario.
const NUMBERS: usize = 1200;

static SCHEMA: LazyLock<jsonschema::Validator> =
    LazyLock::new(|| jsonschema::validator_for(&scenario_json_schema()).expect("a schema"));

/// Reads a text that may name weigh-ins.
fn read(text: &str, sets: &[String]) -> Result<Scenario, Diagnostics> {
    let weigh_ins = Some(WEIGH_INS.to_owned());
    ScenarioSource::from_stored(text.to_owned(), "pond".to_owned(), weigh_ins).read(sets)
}

/// A scenario without faults: what the faults name is removed until there are none. Fails if a fault names nothing that
/// the text has.
fn sound(tape: &mut Tape) -> (WrittenKeys, Scenario) {
    let mut keys = generated(tape);
    loop {
        let text = keys.dotted();
        let faults = match read(&text, &[]) {
            Ok(scenario) => return (keys, scenario),
            Err(faults) => faults,
        };
        check_faults(&faults, &text, false);
        let removed = faults.list().iter().filter(|fault| keys.remove(&fault.key)).count();
        assert!(removed > 0, "no fault names anything in the text:\n{faults}\n{text}");
        keys.complete();
    }
}

/// Checks that each fault says where it is, and shows nothing that a terminal could obey.
fn check_faults(faults: &Diagnostics, text: &str, has_sets: bool) {
    assert!(!faults.is_empty());
    for fault in faults.list() {
        let shown = fault.to_string();
        let is_set = has_sets && fault.location == SourceLocation::Set;
        let line = fault.location.line();
        let is_placed = line.is_some_and(|line| (1..=text.lines().count() + 1).contains(&line));
        assert!(is_placed || is_set, "without a line: {shown}");
        assert!(!shown.contains(is_hidden), "{shown:?} has hidden characters");
        assert!(!fault.problem.is_empty() && shown.len() < 2500, "{shown}");
    }
}

/// A scenario without what depends on how its text is written.
fn meaning(mut scenario: Scenario) -> Scenario {
    scenario.sha256.clear();
    scenario.written = WrittenScenario::default();
    scenario
}

/// Checks that an outcome adds up.
fn check_outcome(outcome: &Outcome, scenario: &Scenario) {
    let bait = outcome.bait;
    let thrown_kg = bait.feeder_kg + bait.loose_kg;
    let there_kg =
        bait.eaten_kg + bait.lost_kg + bait.on_bed_kg + bait.hanging_kg + bait.on_feeder_kg;
    let error_kg = (thrown_kg - there_kg).abs();
    assert!(error_kg <= 1e-9 * thrown_kg.max(1.0), "{thrown_kg} kg thrown, {there_kg} kg there");
    let by_shoal: u64 = outcome.by_shoal.iter().map(|shoal| shoal.weight_g).sum();
    assert_eq!(by_shoal, outcome.weight_g);
    let after_end = outcome.catches.iter().find(|catch| catch.at_s > scenario.session_s);
    assert_eq!(after_end, None, "a fish is netted after the end");
}

/// Checks that other ways of writing a scenario mean the same, and that the schema allows it.
fn check_text(keys: &WrittenKeys, scenario: &Scenario) {
    let text = keys.with_headers();
    let again = read(&text, &[]).unwrap_or_else(|faults| panic!("{faults}\n{text}"));
    assert!(meaning(again) == meaning(scenario.clone()), "means something else:\n{text}");
    let stored = read(&scenario.written.text, &[]).expect("it was read before");
    assert!(stored == *scenario, "the stored text means something else");
    let json: toml::Table = toml::from_str(&text).expect("TOML");
    let json: Value = serde_json::to_value(json).expect("TOML without dates is JSON");
    if let Some(error) = SCHEMA.iter_errors(&json).next() {
        panic!("the schema refuses {}: {error}", error.instance_path);
    }
}

#[test]
fn sound_scenarios_are_read_back_and_fished() {
    let fished: RefCell<BTreeSet<&str>> = RefCell::default();
    let tried = attack("whole scenarios, fished", 60, tape(NUMBERS), |mut tape| {
        let seed = u64::from(tape.number());
        let (keys, scenario) = sound(&mut tape);
        check_text(&keys, &scenario);
        let day = Day::draw(&scenario, seed, 1);
        for plan in &scenario.plans {
            let outcome = run_session(&scenario, plan, &day);
            check_outcome(&outcome, &scenario);
            assert!(run_session(&scenario, plan, &day) == outcome, "not the same again");
        }
        fished.borrow_mut().extend(keys.0.iter().map(|key| key.pattern));
    });
    let fished = fished.into_inner();
    let all: Vec<&str> = format_keys().map(|key| key.pattern()).collect();
    println!("{} of {} keys were in a scenario that was fished", fished.len(), all.len());
    let missing: Vec<&&str> = all.iter().filter(|key| !fished.contains(**key)).collect();
    let most = if tried >= 3000 { 0 } else { all.len() / 2 };
    assert!(missing.len() <= most, "{missing:?} were never fished");
}

#[test]
fn spoiled_scenarios_are_read_or_refused_with_a_line() {
    let (read_count, refused) = (Cell::new(0), Cell::new(0));
    attack("whole scenarios, spoiled", 2000, tape(NUMBERS), |mut tape| {
        let keys = generated(&mut tape);
        let text = if tape.is_hit(2) { keys.with_headers() } else { keys.dotted() };
        let text = spoiled(&text, &mut tape);
        match read(&text, &[]) {
            Ok(_) => read_count.set(read_count.get() + 1),
            Err(faults) => {
                refused.set(refused.get() + 1);
                check_faults(&faults, &text, false);
            }
        }
    });
    println!("{} read, {} refused", read_count.get(), refused.get());
    assert!(refused.get() > 0);
}

#[test]
fn overrides_of_any_key_are_read_or_refused() {
    attack(
        "whole scenarios, overridden",
        300,
        (tape(NUMBERS), tape(200)),
        |(mut tape, mut other)| {
            let (keys, _) = sound(&mut tape);
            let text = keys.dotted();
            let other = spoiled(&generated(&mut other).dotted(), &mut tape);
            let mut sets: Vec<String> =
                other.lines().take(4).map(|line| line.replacen(" = ", "=", 1)).collect();
            sets.truncate(1 + tape.below(4));
            match read(&text, &sets) {
                Ok(scenario) => assert_eq!(scenario.written.sets, sets),
                Err(faults) => check_faults(&faults, &text, true),
            }
        },
    );
}
