//! A learned book in a sweep: the store keeps it, every share has it, and another book is refused.

use std::fs;

use sim::scenario::{Unknown, learned_book_text, read};

use super::results::same_bytes;
use crate::command_line::{POND, ProgramFolder, json};

/// A book with these factors of the number of fish, all equally likely.
fn book(factors: &[f64]) -> String {
    let scenario = read(POND, "pond", &[]).expect("sound");
    let is_stock = |unknown: &Unknown| unknown.key == "shoal.small.count";
    let unknown = scenario.unknowns().into_iter().find(is_stock).expect("the number of fish");
    let draws: Vec<Vec<f64>> = factors.iter().map(|factor| vec![*factor]).collect();
    learned_book_text("", &[(&unknown, [0.4, 1.0, 2.5], [0.4, 0.5, 0.6])], &draws)
}

/// A folder with two books, one for few fish and one for many.
fn folder() -> ProgramFolder {
    let folder = ProgramFolder::new();
    fs::write(folder.path("few.toml"), book(&[0.4, 0.5, 0.6])).expect("a book");
    fs::write(folder.path("many.toml"), book(&[1.9, 2.0])).expect("a book");
    folder
}

const VARY: [&str; 5] = ["--vary", "plan.often.recast=90 s,4 min", "--days", "70", "--quiet"];

#[test]
fn a_point_of_a_sweep_with_a_book_is_the_comparison_with_it() {
    let folder = folder();
    let run = |args: &[&str]| folder.run_ok(args);
    let swept = json(
        &run(&[&["sweep", "pond.toml", "--book", "few.toml", "--json"][..], &VARY].concat()).out,
    );
    let compared = ["compare", "pond.toml", "--days", "70", "--json", "--out", "-", "--quiet"];
    let few = json(&run(&[&compared[..], &["--book", "few.toml"]].concat()).out);
    let plain = json(&run(&compared).out);
    let kg = |plan: &serde_json::Value| plan["weight_kg"]["mean"].as_f64().expect("a weight");
    for plan in 0..2 {
        let swept_kg = swept["settings"][0]["plans"][plan]["weight_kg"]["mean"].as_f64();
        let swept_kg = swept_kg.expect("a weight");
        let few_kg = kg(&few["plans"][plan]);
        assert!((swept_kg - few_kg).abs() < 1e-9, "{swept_kg} kg swept, {few_kg} kg compared");
        assert!(few_kg < kg(&plain["plans"][plan]), "half the fish are no fewer");
    }
    assert_eq!(swept["stamp"]["book_sha256"], few["stamp"]["book_sha256"]);
    assert_eq!(swept["stamp"]["scenario_sha256"], few["stamp"]["scenario_sha256"]);
}

#[test]
fn a_store_keeps_its_book_and_refuses_another() {
    let folder = folder();
    let args = |book: &[&'static str]| {
        [&["sweep", "pond.toml", "--out", "here"][..], book, &VARY].concat()
    };
    folder.run_ok(&args(&["--book", "few.toml"]));
    let before = fs::read(folder.path("here/sweep.db")).expect("a store");
    let kept: String = rusqlite::Connection::open(folder.path("here/sweep.db"))
        .and_then(|store| {
            store
                .query_row("SELECT value FROM stamp WHERE name = 'book_text'", [], |row| row.get(0))
        })
        .expect("the book");
    assert_eq!(kept, book(&[0.4, 0.5, 0.6]));
    for (book, message) in [
        (&["--book", "many.toml"][..], "learned book's SHA-256"),
        (&[], "not none)"),
        (&["--book", "pond.toml"], "cannot be read as a book"),
        (&["--book", "no.toml"], "there is no such file"),
    ] {
        let refused = folder.run(&args(book));
        assert_eq!(
            (refused.code, refused.out.as_str()),
            (Some(2), ""),
            "{book:?}: {}",
            refused.err
        );
        assert!(refused.err.contains(message), "{message}: {}", refused.err);
    }
    assert_eq!(
        fs::read(folder.path("here/sweep.db")).expect("a store"),
        before,
        "not a byte changed"
    );
    // A store without a book refuses one as well, and holds no word of one.
    folder.run_ok(&[&["sweep", "pond.toml", "--out", "plain"][..], &VARY].concat());
    let elsewhere: Vec<&str> = args(&["--book", "few.toml"])
        .into_iter()
        .map(|word| if word == "here" { "plain" } else { word })
        .collect();
    let refused = folder.run(&elsewhere);
    assert_eq!(refused.code, Some(2), "{}", refused.err);
    let status = [&args(&["--book", "few.toml"])[..], &["--status"]].concat();
    let shown = folder.run_ok(&status);
    assert!(shown.out.contains("all is done"), "{}", shown.out);
    // More days go on from where it was, with the same book.
    let longer: Vec<&str> = args(&["--book", "few.toml"])
        .into_iter()
        .map(|w| if w == "70" { "100" } else { w })
        .collect();
    folder.run_ok(&longer);
    let fresh: Vec<&str> =
        longer.iter().map(|word| if *word == "here" { "fresh" } else { word }).collect();
    folder.run_ok(&fresh);
    same_bytes(&folder.path("here"), &folder.path("fresh"));
}

#[test]
fn shares_with_a_book_are_merged_without_its_file() {
    let folder = folder();
    let swept = ["sweep", "pond.toml", "--book", "few.toml"];
    let compared = ["compare", "pond.toml", "--book", "few.toml", "--days", "70", "--quiet"];
    folder.run_ok(&[&swept[..], &VARY, &["--out", "swept"]].concat());
    folder.run_ok(&[&compared[..], &["--out", "compared"]].concat());
    for part in ["1/2", "2/2"] {
        let out = |what: &str| format!("{what}-{}", &part[..1]);
        folder.run_ok(&[&swept[..], &VARY, &["--part", part, "--out", &out("s")]].concat());
        folder.run_ok(&[&compared[..], &["--part", part, "--out", &out("c")]].concat());
    }
    let other = [
        &["sweep", "pond.toml", "--book", "many.toml"][..],
        &VARY,
        &["--part", "2/2", "--out", "s-other"],
    ];
    folder.run_ok(&other.concat());
    fs::remove_file(folder.path("few.toml")).expect("it was there");
    let refused = folder.run(&["merge", "s-1", "s-other", "--out", "joined"]);
    assert_eq!(refused.code, Some(2), "{}", refused.err);
    assert!(refused.err.contains("learned book's SHA-256"), "{}", refused.err);
    folder.run_ok(&["merge", "s-1", "s-2", "--out", "joined"]);
    same_bytes(&folder.path("swept"), &folder.path("joined"));
    folder.run_ok(&["merge", "c-2", "c-1", "--out", "joined-comparison"]);
    for file in ["sessions.csv", "summary.json", "stamp.json"] {
        let [whole, joined] = ["compared", "joined-comparison"]
            .map(|name| fs::read(folder.path(name).join(file)).expect("a file"));
        assert!(whole == joined, "{file} differs");
    }
}
