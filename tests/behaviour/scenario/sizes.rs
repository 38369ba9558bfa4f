//! Bounded work from bounded input: large files are refused quickly, and long lists of faults are cut.

use std::fmt::Write;
use std::time::{Duration, Instant};

use sim::scenario::{Diagnostics, ScenarioSource, read, read_lessons, shown_plainly};

/// Time in which any file of 200,000 bytes must be read or refused; a debug build on a busy machine is slower.
const MAX_TIME: Duration = Duration::from_secs(if cfg!(debug_assertions) { 8 } else { 2 });

const WATER: &str = "line.bar.distance = \"28 m\"\nplan.patient.recast = \"10 min\"\n";

/// Lines of a text, one for each number.
fn repeated(count: usize, line: impl Fn(usize) -> String) -> String {
    (0..count).fold(WATER.to_owned(), |mut text, number| {
        let _ = writeln!(text, "{}", line(number));
        text
    })
}

/// Faults of a text, which must be found quickly.
fn faults(text: &str) -> Diagnostics {
    assert!(text.len() <= 200_000, "{} bytes", text.len());
    let started = Instant::now();
    let faults = read(text, "pond", &[]).expect_err("too large");
    assert!(started.elapsed() < MAX_TIME, "{:?}", started.elapsed());
    faults
}

#[test]
fn more_tables_than_the_reference_allows_are_refused_quickly() {
    let chain = |n: usize| {
        format!(
            "bait.b{n}.like = \"{}\"",
            if n == 0 { "groundbait".into() } else { format!("b{}", n - 1) }
        )
    };
    let rule = |n: usize| {
        format!("plan.patient.rule.r{n} = {{ after = \"{} s\", recast = \"2 min\" }}", n + 1)
    };
    for (text, message) in [
        (repeated(2000, chain), "2000 baits; 50 baits of your own at most"),
        (repeated(2700, rule), "2700 rules; 50 rules at most in one plan"),
        (
            repeated(60, |n| format!("water.feature.f{n}.depth = \"1 m\"")),
            "60 features; 50 features",
        ),
        (
            repeated(30, |n| {
                format!("bait.mine.class.c{n} = {{ diameter = \"1 mm\", share = 0.1 }}")
            }),
            "30 classes; 20 classes",
        ),
        (repeated(60, |n| format!("shoal.s{n}.count = 1")), "60 shoals; 50 shoals at most"),
        (repeated(9, |n| format!("line.l{n}.distance = \"10 m\"")), "10 lines; 8 lines at most"),
        (repeated(60, |n| format!("plan.p{n}.recast = \"1 min\"")), "61 plans; 50 plans at most"),
    ] {
        let faults = faults(&text).to_string();
        assert!(faults.contains(message), "{message}: {faults}");
    }
}

#[test]
fn no_file_takes_long_to_check() {
    for text in [
        repeated(9000, |n| format!("unknown-{n} = 1")),
        repeated(8000, |n| format!("plan.patient.k{n} = 1")),
        repeated(6000, |n| format!("book.fish.row_{n} = 1")),
        repeated(50, |n| format!("plan.p{n}.load = \"{}\"", "9".repeat(3000))),
        format!("{WATER}title = \"{}\"", "x".repeat(190_000)),
        format!("{WATER}{} = 1", "x".repeat(190_000)),
        format!("{WATER}x = {}", "[".repeat(190_000)),
        format!("{WATER}{}y = 1", "x.".repeat(90_000)),
    ] {
        faults(&text);
    }
}

#[test]
fn too_many_lessons_or_choices_are_refused_quickly() {
    let water = ScenarioSource::new(WATER, "pond");
    let lesson = |name: &str| {
        format!(
            "[lesson.{name}]\ntitle = \"t\"\nquestion = \"q\"\nlook = \"l\"\nplan = \"patient\"\n"
        )
    };
    let choice = |n: usize| format!("choice.c{n}.recast = \"2 min\"\n");
    let lessons: String =
        (0..1500).map(|n| lesson(&format!("l{n}")) + &choice(1) + &choice(2)).collect();
    let choices: String = lesson("one") + &(0..5000).map(choice).collect::<String>();
    for (text, message) in [
        (lessons, "there are 1500; at most 50 in one file"),
        (choices, "has 5000 choices; write 2 to 4 tables"),
    ] {
        assert!(text.len() <= 200_000, "{} bytes", text.len());
        let started = Instant::now();
        let faults = read_lessons(&text, "pond.lessons.toml", &water).expect_err("too many");
        assert!(started.elapsed() < MAX_TIME, "{:?}", started.elapsed());
        assert!(faults.to_string().contains(message), "{faults}");
    }
}

#[test]
fn at_most_fifty_faults_are_told_and_all_are_counted() {
    let faults = faults(&repeated(5000, |n| format!("unknown-{n} = 1")));
    assert_eq!((faults.count(), faults.reported().len()), (5000, 50));
    let message = faults.to_string();
    assert_eq!(message.lines().count(), 51);
    assert!(message.ends_with("5,000 faults, of which the first 50 are shown"), "{message}");
    let few = read("plan.a.b = 1", "pond", &[]).expect_err("wrong").to_string();
    assert!(few.ends_with("2 faults"), "{few}");
}

#[test]
fn hidden_characters_are_refused_in_texts_and_shown_in_messages() {
    for hidden in ["\u{202e}", "\u{2066}", "\u{200f}", "\\u001b"] {
        let text = format!("{WATER}title = \"a{hidden}b\"");
        let faults = read(&text, "pond", &[]).expect_err("hidden").to_string();
        assert!(faults.contains("hidden characters"), "{faults}");
        assert!(!faults.contains('\u{202e}') && !faults.contains('\u{1b}'), "{faults:?}");
    }
    // Nor in what a message proposes to write, or over several lines.
    for line in ["\u{1b}[2J = 2 min", "\"be\\nfore\" = 1", "home = \"\"\"a\nb\"\"\""] {
        let faults = read(&format!("{WATER}{line}"), "pond", &[]).expect_err("hidden");
        for fault in faults.list() {
            assert!(!fault.to_string().contains(char::is_control), "{fault:?}");
        }
    }
    assert_eq!(shown_plainly("a\u{1b}[2J\n\u{202e}b"), "a\\u{1b}[2J\n\\u{202e}b");
    // A name from outside is only a name.
    let scenario = read(WATER, "../../etc/\u{202e}pond", &[]).expect("sound");
    assert_eq!(scenario.name, "..-..-etc--pond");
}
