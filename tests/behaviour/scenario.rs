//! Scenario files: what they mean, what is said of faulty ones, and that their documents are true.

mod documents;
mod faults;
mod meaning;
mod reach;
mod rewrite;
mod rules;
mod vary;

use sim::scenario::{Scenario, read};

/// A line, a shoal and a plan, one on each line of the file.
const SMALL: &str = r#"line.bar.distance = "28 m"
shoal.residents.count = 60
plan.patient.recast = "10 min"
"#;

/// Reads a text that has no faults.
fn good(text: &str, sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    read(text, "pond", &sets).unwrap_or_else(|faults| panic!("{faults}\nin\n{text}"))
}

/// What is said of a faulty text.
fn told(text: &str, sets: &[&str]) -> String {
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    match read(text, "pond", &sets) {
        Ok(_) => panic!("nothing was found wrong with {sets:?} in\n{text}"),
        Err(faults) => faults.to_string(),
    }
}

/// Holds that a message has every one of some words.
#[track_caller]
fn says(message: &str, words: &[&str]) {
    for word in words {
        assert!(message.contains(word), "no {word:?} in:\n{message}");
    }
}
