//! Stores of other runs, and files that are not stores, are refused.

use std::fs;

use super::results::same_bytes;
use crate::command_line::ProgramFolder;

const SWEEP: [&str; 10] = [
    "sweep",
    "pond.toml",
    "--plan",
    "often",
    "--vary",
    "plan.often.recast=1 min,2 min",
    "--quiet",
    "--days",
    "4",
    "--out",
];

#[test]
fn the_store_of_another_run_is_refused_with_the_difference() {
    let folder = ProgramFolder::new();
    let run = |more: &[&str]| folder.run(&[&SWEEP[..], &["here"], more].concat());
    assert_eq!(run(&[]).code, Some(0));
    let before = fs::read(folder.path("here/sweep.db")).expect("a store");
    for (more, message) in [
        (&["--seed", "2"][..], "seed 1, not 2"),
        (&["--set", "shoal.small.count=20"], "SHA-256"),
        (&["--plan", "seldom"], "plans often, not often, seldom"),
        (&["--vary", "shoal.small.count=20,30"], "keys plan.often.recast, not"),
        (&["--part", "1/2"], "share 1/1, not 1/2"),
    ] {
        let output = run(more);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{more:?}: {}", output.err);
        assert!(
            output.err.contains(message) && output.err.contains("--out"),
            "{message}: {}",
            output.err
        );
    }
    // Fewer days, or one point less, are another run too.
    let fewer = SWEEP.map(|word| if word == "4" { "3" } else { word });
    let output = folder.run(&[&fewer[..], &["here"]].concat());
    assert!(output.err.contains("on 4 days, not 3"), "{}", output.err);
    let less =
        SWEEP.map(|word| word.strip_suffix(",2 min").map_or(word, |_| "plan.often.recast=1 min"));
    let output = folder.run(&[&less[..], &["here"]].concat());
    assert!(output.err.contains("an additional point"), "{}", output.err);
    assert_eq!(
        fs::read(folder.path("here/sweep.db")).expect("a store"),
        before,
        "not a byte changed"
    );
}

#[test]
fn without_a_named_folder_another_run_uses_the_next_and_says_why() {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min", "--days", "3"];
    folder.run_ok(&args);
    let output = folder.run_ok(&[&args[..], &["--seed", "2"]].concat());
    assert!(folder.path("output/pond-sweep-2/sweep.db").exists());
    assert!(
        output.err.contains("seed 1, not 2); so this goes to output/pond-sweep-2"),
        "{}",
        output.err
    );
}

#[test]
fn a_file_that_is_not_a_store_is_refused_with_advice() {
    let folder = ProgramFolder::new();
    folder.run_ok(&[&SWEEP[..], &["good"]].concat());
    let good = fs::read(folder.path("good/sweep.db")).expect("a store");
    let middle = good.len() / 2;
    let mut scratched = good.clone();
    scratched[middle..middle + 2000].fill(0xa5);
    let other = folder.path("other.db");
    let table = rusqlite::Connection::open(&other)
        .and_then(|other| other.execute_batch("CREATE TABLE t (x)"));
    table.expect("a database of another program");
    for (what, bytes, message) in [
        ("cut", good[..middle].to_vec(), "damaged"),
        ("scratched", scratched, "damaged"),
        ("text", b"plan,day\n".repeat(600), "not a database"),
        ("other", fs::read(&other).expect("a database"), "another program"),
    ] {
        fs::create_dir(folder.path(what)).expect("a folder");
        let path = folder.path(what).join("sweep.db");
        fs::write(&path, &bytes).expect("a file");
        let output = folder.run(&[&SWEEP[..], &[what]].concat());
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{what}: {}", output.err);
        assert!(
            output.err.contains(message) && output.err.contains("--out"),
            "{what}: {}",
            output.err
        );
        assert!(fs::read(&path).expect("still there") == bytes, "{what} was changed");
        let output = folder.run(&["merge", what, "--out", "joined"]);
        assert_eq!(output.code, Some(2), "{what}: {}", output.err);
        assert!(
            output.err.contains(message) && output.err.to_lowercase().contains("move it"),
            "{what}: {}",
            output.err
        );
    }
    assert!(!folder.path("joined").exists(), "nothing is written");
}

#[test]
fn missing_days_are_found_and_fished_again() {
    let folder = ProgramFolder::new();
    let args = SWEEP.map(|word| if word == "4" { "70" } else { word });
    folder.run_ok(&[&args[..], &["here"]].concat());
    folder.run_ok(&[&args[..], &["whole"]].concat());
    let store = rusqlite::Connection::open(folder.path("here/sweep.db")).expect("a database");
    let less = store.execute("DELETE FROM block WHERE point = 2 AND first_day = 33", []);
    assert_eq!(less, Ok(1));
    drop(store);
    let output = folder.run(&["merge", "here", "--out", "joined"]);
    assert!(output.err.contains("lacks 32 of its sessions"), "{}", output.err);
    folder.run_ok(&[&args[..], &["here"]].concat());
    same_bytes(&folder.path("whole"), &folder.path("here"));
}

#[test]
fn errors_in_a_varied_value_are_reported_as_errors_of_vary() {
    let folder = ProgramFolder::new();
    for command in ["compare", "sweep", "best"] {
        let output = folder.run(&[command, "pond.toml", "--vary", "plan.often.recast=1 min,ten"]);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{command}: {}", output.err);
        let message = "--vary: plan.often.recast: \"ten\" is not a quantity";
        assert!(output.err.contains(message), "{command}: {}", output.err);
    }
}

#[test]
fn a_fault_at_any_point_is_reported_before_a_store_is_created() {
    let folder = ProgramFolder::new();
    // Of 600 points one has a fault, and it is none of the 256 that are read at once, whichever key changes faster.
    let list = |first: [&str; 2], count: usize| {
        let more = (2..count).map(|number| format!("{} cm", 1200 + number));
        let first = first.map(str::to_owned).into_iter();
        first.chain(more).collect::<Vec<_>>().join(",")
    };
    let lengths = list(["1450 cm", "1600 cm"], 24).replace(",12", ",32");
    let lengths = format!("water.length={lengths}");
    let distances = format!("line.middle.distance={}", list(["1000 cm", "1460 cm"], 25));
    let args = ["sweep", "pond.toml", "--vary", &lengths, "--vary", &distances, "--days", "1000"];
    let output = folder.run(&[&args[..], &["--out", "here"]].concat());
    assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{}", output.err);
    assert!(output.err.contains("outside the water"), "{}", output.err);
    assert!(!folder.path("here").exists(), "nothing is written");
}
