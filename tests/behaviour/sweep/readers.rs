//! Other programs can read a store and its export, and get the verdict of a comparison from its files.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::command_line::{ProgramFolder, json};

/// The output of a script, run by the Python that `SHOALWISE_PYTHON` names, or by the system's.
fn python(folder: &ProgramFolder, script: &str) -> String {
    let python = std::env::var("SHOALWISE_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let output = Command::new(&python).current_dir(folder.path("")).args(["-c", script]).output();
    let output = output.unwrap_or_else(|why| panic!("{python}: {why}"));
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

fn fished() -> ProgramFolder {
    let folder = ProgramFolder::new();
    let args = ["sweep", "pond.toml", "--quiet", "--days", "40", "--out", "here"];
    let vary = ["--vary", "plan.often.recast=60 s,2 min", "--vary", "shoal.small.count=20,40"];
    folder.run_ok(&[&args[..], &vary].concat());
    folder
}

/// Reads SQL and CSV: eight rows, the interval in seconds, and one mean in three ways.
const WITHOUT_PACKAGES: &str = r#"
import csv, sqlite3, struct
store = sqlite3.connect("here/sweep.db")
rows = store.execute('SELECT "plan.often.recast_s", "shoal.small.count_number", plan, weight_mean_kg FROM result').fetchall()
table = list(csv.DictReader(open("here/vary.csv")))
assert len(rows) == len(table) == 8, (rows, table)
for row, line in zip(rows, table):
    assert row[0] == float(line["plan.often.recast_s"]) and row[0] in (60.0, 120.0), line
    assert row[1] == float(line["shoal.small.count_number"]), line
    assert row[2] == line["plan"] and abs(row[3] - float(line["weight_kg"])) < 5.1e-5, (row, line)
days = [gram for (block,) in store.execute("SELECT weights_g FROM block WHERE point = 1 AND plan = 0 ORDER BY first_day")
        for (gram,) in struct.iter_unpack("<I", block)]
assert len(days) == 40 and abs(sum(days) / 40e3 - rows[0][3]) < 1e-9, days
print("read")
"#;

const WITH_PACKAGES: &str = r#"
import sqlite3, duckdb, pandas
table = pandas.read_csv("here/vary.csv")
store = pandas.read_sql("SELECT * FROM result", sqlite3.connect("here/sweep.db"))
assert list(table["plan.often.recast_s"]) == list(store["plan.often.recast_s"]) and len(table) == 8
assert table["weight_kg"].dtype == "float64" and table["near_best"].dtype == "bool", table.dtypes
assert ((table["weight_kg"] - store["weight_mean_kg"]).abs() < 5.1e-5).all()
best = duckdb.connect().execute("""SELECT max(weight_kg), count(*), bool_or(near_best) FROM 'here/vary.csv' WHERE plan = 'often'""").fetchone()
assert best == (table[table.plan == "often"].weight_kg.max(), 4, True), best
print("read")
"#;

#[test]
fn python_reads_the_store_and_the_exported_table() {
    if Command::new("python3").arg("--version").output().is_err() {
        // Written directly, since the test runner hides the output of a test that passes.
        let _ = writeln!(std::io::stderr(), "SKIPPED: there is no Python here");
        return;
    }
    assert_eq!(python(&fished(), WITHOUT_PACKAGES), "read\n");
}

const SHOWN: (&str, &str) = ("output/first-try-compare\n", "```\n<!-- verdict: end -->");

fn repository(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// What a program prints about the comparison in the folder `here`.
fn example(folder: &ProgramFolder, interpreter: &str, name: &str) -> String {
    let example = repository("output/examples").join(name);
    let output =
        Command::new(interpreter).arg(example).arg("here").current_dir(folder.path("")).output();
    let output = output.unwrap_or_else(|why| panic!("{interpreter}: {why}"));
    assert!(output.status.success(), "{name}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text").replace("\r\n", "\n")
}

fn compared(args: &[&str]) -> ProgramFolder {
    let folder = ProgramFolder::new();
    folder.run_ok(&[&["compare"][..], args, &["--quiet", "--out", "here"]].concat());
    folder
}

/// The verdict as the example programs print it, from the summary.
fn verdict(folder: &ProgramFolder) -> String {
    let summary = json(&fs::read_to_string(folder.path("here/summary.json")).expect("a summary"));
    let line = |pair: &Value| {
        let number = |path: &str| pair.pointer(path).and_then(Value::as_f64).expect("a number");
        format!(
            "{} - {}: {:.3} kg, surely from {:.3} to {:.3}; ahead on {:.1} % of days, on another day {:.1} %\n",
            pair["a"].as_str().expect("a name"),
            pair["b"].as_str().expect("a name"),
            number("/difference_kg/mean"),
            number("/difference_kg/low95"),
            number("/difference_kg/high95"),
            100.0 * number("/beats/same_day/share"),
            100.0 * number("/beats/two_days/share"),
        )
    };
    summary["pairs"].as_array().expect("pairs").iter().map(line).collect()
}

/// Checks that a program prints the verdicts of a comparison with several pairs, and of one with days that tie.
fn gets_the_verdict(interpreter: &str, name: &str) {
    let waters = repository("tests/waters/reacting.toml");
    let waters = waters.to_string_lossy();
    for args in [
        &[&*waters, "--days", "60"][..],
        &["pond.toml", "--days", "60", "--set", "shoal.small.count=2"],
    ] {
        let folder = compared(args);
        assert_eq!(example(&folder, interpreter, name), verdict(&folder), "{name}");
    }
}

#[test]
fn a_program_without_packages_gets_the_verdict_and_the_page_shows_what_it_prints() {
    if Command::new("python3").arg("--version").output().is_err() {
        let _ = writeln!(std::io::stderr(), "SKIPPED: there is no Python here");
        return;
    }
    gets_the_verdict("python3", "verdict.py");
    let scenario = repository("scenarios/first-try.toml");
    let folder = compared(&[&*scenario.to_string_lossy(), "--days", "200"]);
    let printed = example(&folder, "python3", "verdict.py");
    let path = repository("output/README.md");
    let page = fs::read_to_string(&path).expect("the page");
    let start = page.find(SHOWN.0).expect("the command") + SHOWN.0.len();
    let end = start + page[start..].find(SHOWN.1).expect("the end");
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        fs::write(&path, [&page[..start], &printed, &page[end..]].concat()).expect("written");
    } else {
        assert_eq!(page[start..end], printed, "output/README.md: write it with SHOALWISE_BLESS=1");
    }
}

#[test]
fn r_gets_the_verdict() {
    if Command::new("Rscript").arg("--version").output().is_err() {
        let _ = writeln!(std::io::stderr(), "SKIPPED: there is no R here");
        return;
    }
    gets_the_verdict("Rscript", "verdict.R");
}

#[test]
#[ignore = "needs pandas and DuckDB, which .ci/run installs"]
fn pandas_and_duckdb_read_the_store_and_the_exported_table() {
    assert_eq!(python(&fished(), WITH_PACKAGES), "read\n");
}

#[test]
#[ignore = "needs pandas, which .ci/run installs"]
fn pandas_gets_the_verdict() {
    let python = std::env::var("SHOALWISE_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    gets_the_verdict(&python, "verdict_pandas.py");
}
