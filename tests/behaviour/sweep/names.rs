//! What a share of somebody else says is only a name: it never makes a path, an address or a formula.

use std::fs;

use super::digests::{describe_again, digest_again};
use crate::command_line::ProgramFolder;

#[test]
fn the_name_in_a_share_never_makes_a_path() {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min", "--quiet"];
    folder.run_ok(&[&args[..], &["--days", "4", "--out", "here"]].concat());
    fs::create_dir(folder.path("work")).expect("a folder");
    let path = folder.path("here/sweep.db");
    let store = rusqlite::Connection::open(&path).expect("a database");
    let change = "UPDATE stamp SET value = '../../away' WHERE name = 'scenario'";
    store.execute_batch(change).expect("changed");
    drop(store);
    describe_again(&path);
    digest_again(&path);
    let mut command = folder.command(&["merge", "../here"]);
    let output = command.current_dir(folder.path("work")).output().expect("the program starts");
    assert!(!folder.path("away-sweep").exists() && !folder.path("../away-sweep").exists());
    let names = crate::command_line::names(&folder.path(""));
    assert_eq!(names, ["here", "pond.toml", "work"], "{output:?}");
    let inside = folder.path("work/output/..-..-away-sweep/vary.csv");
    assert!(output.status.success() && inside.exists(), "{output:?}");
    // A plan with such a name is refused.
    let store = rusqlite::Connection::open(&path).expect("a database");
    let change =
        "UPDATE stamp SET value = replace(value, 'often', '../often') WHERE name = 'plans';
                  UPDATE plan SET name = replace(name, 'often', '../often')";
    store.execute_batch(change).expect("changed");
    drop(store);
    describe_again(&path);
    digest_again(&path);
    let output = folder.run(&["merge", "here", "--out", "joined"]);
    assert_eq!(output.code, Some(2), "{}", output.err);
    assert!(!folder.path("joined").exists());
}

#[test]
fn a_folder_named_like_an_address_is_a_folder() {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min", "--quiet"];
    folder.run_ok(&[&args[..], &["--days", "2", "--out", "file:x?mode=memory"]].concat());
    assert!(folder.path("file:x?mode=memory/sweep.db").exists());
}

#[test]
fn a_value_that_looks_like_a_formula_is_a_text_in_tables() {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--vary", "title==1+1,@sum", "--quiet", "--days", "2"];
    folder.run_ok(&[&args[..], &["--out", "here"]].concat());
    let table = fs::read_to_string(folder.path("here/vary.csv")).expect("a table");
    assert!(table.contains("\n'=1+1,") && table.contains("\n'@sum,"), "{table}");
}

#[test]
fn a_message_cannot_control_the_terminal() {
    let folder = ProgramFolder::new();
    let output = folder.run(&["check", "gone\u{1b}[2J\u{202e}.toml"]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("\\u{1b}[2J\\u{202e}.toml"), "{:?}", output.err);
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--out", "a\u{1b}[2J\u{202e}b"];
    let output = folder.run_ok(&args);
    assert!(output.out.contains("Files in a\\u{1b}[2J\\u{202e}b: "), "{:?}", output.out);
}
