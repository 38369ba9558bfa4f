//! The rows of `VALIDATION.md`: every claim has a test, and every test a claim.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// One row of the table of claims.
#[derive(Debug, PartialEq, Eq)]
struct Claim {
    id: String,
    cells: Vec<String>,
    tests: Vec<String>,
}

const COLUMNS: [&str; 7] =
    ["id", "claim", "truth", "source", "tolerance, and why", "tests", "last result"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// The rows whose first cell is an id.
fn claims(page: &str) -> Vec<Claim> {
    page.lines()
        .filter(|line| line.starts_with("| V-"))
        .map(|line| {
            let cells: Vec<String> =
                line.trim_matches('|').split(" | ").map(|cell| cell.trim().to_owned()).collect();
            let tests = cells.get(5).map_or(String::new(), Clone::clone);
            let tests = tests.split('`').skip(1).step_by(2).map(str::to_owned).collect();
            Claim { id: cells[0].clone(), cells, tests }
        })
        .collect()
}

/// Names of the tests of one file, in order.
fn tests_in(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    let mut announced = false;
    for line in text.lines().map(str::trim) {
        if line == "#[test]" {
            announced = true;
        } else if announced && let Some((_, rest)) = line.split_once("fn ") {
            let name = rest.split(['(', '<']).next().unwrap_or_default();
            names.push(name.to_owned());
            announced = false;
        }
    }
    names
}

fn sources_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let entries = fs::read_dir(folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    for entry in entries {
        let path = entry.expect("an entry of a folder that can be listed").path();
        if path.is_dir() {
            found.extend(sources_below(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found
}

/// Every id in a text.
fn ids_in(text: &str) -> BTreeSet<String> {
    text.match_indices("V-")
        .filter_map(|(at, _)| {
            let digits: String = text[at + 2..].chars().take_while(char::is_ascii_digit).collect();
            (digits.len() >= 2).then(|| format!("V-{digits}"))
        })
        .collect()
}

/// The rows whose last result a test writes: `measured!("V-…", …)`.
fn measured_in(text: &str) -> BTreeSet<String> {
    text.split("measured!(")
        .skip(1)
        .filter_map(|rest| rest.trim_start().strip_prefix('"')?.split('"').next())
        .filter(|id| id.starts_with("V-"))
        .map(str::to_owned)
        .collect()
}

fn page() -> Vec<Claim> {
    let text = read(&root().join("tests/VALIDATION.md"));
    let head = format!("| {} |", COLUMNS.join(" | "));
    assert!(text.contains(&head), "VALIDATION.md lacks the head `{head}`");
    claims(&text)
}

#[test]
fn every_validation_test_is_named_in_a_claim_and_every_claim_has_its_tests() {
    let mut written = BTreeSet::new();
    for path in sources_below(&root().join("tests/validation")) {
        // What writes the last results is no claim about the world.
        if path.ends_with("measured.rs") {
            continue;
        }
        let module = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
        for test in tests_in(&read(&path)) {
            written.insert(format!("{}::{test}", module.clone().unwrap_or_default()));
        }
    }
    assert!(written.len() > 30, "only {} tests found", written.len());
    let claims = page();
    let named: BTreeSet<String> =
        claims.iter().flat_map(|claim| claim.tests.iter().cloned()).collect();
    let unnamed: Vec<_> = written.difference(&named).collect();
    let unwritten: Vec<_> = named.difference(&written).collect();
    assert!(unnamed.is_empty(), "tests that no row of VALIDATION.md names: {unnamed:#?}");
    assert!(unwritten.is_empty(), "tests named in VALIDATION.md that do not exist: {unwritten:#?}");
    for claim in &claims {
        assert!(!claim.tests.is_empty(), "{} names no test", claim.id);
    }
}

#[test]
fn claims_are_numbered_once_in_order_and_filled_in() {
    let claims = page();
    let number = |claim: &Claim| claim.id[2..].parse::<u32>().expect("a number");
    let ids: Vec<u32> = claims.iter().map(number).collect();
    let unique: BTreeSet<u32> = ids.iter().copied().collect();
    assert_eq!(ids, unique.into_iter().collect::<Vec<_>>(), "ids in order, each once");
    for claim in &claims {
        assert_eq!(claim.cells.len(), COLUMNS.len(), "{}: {:?}", claim.id, claim.cells);
        for (column, cell) in COLUMNS.iter().zip(&claim.cells) {
            assert!(!cell.is_empty(), "{}: nothing under `{column}`", claim.id);
        }
        let kinds = ["formula", "published", "data", "program", "computed", "twin", "practice"];
        let truth = &claim.cells[2];
        assert!(
            truth
                .split([',', ' '])
                .filter(|word| !word.is_empty())
                .all(|word| kinds.contains(&word)),
            "{}: truth `{truth}` is none of {kinds:?}",
            claim.id
        );
    }
}

#[test]
fn every_id_that_code_or_a_test_refers_to_has_a_row() {
    let known: BTreeSet<String> = page().into_iter().map(|claim| claim.id).collect();
    let mut referred: BTreeMap<String, String> = BTreeMap::new();
    for folder in ["sim", "tests/validation"] {
        for path in sources_below(&root().join(folder)) {
            for id in ids_in(&read(&path)) {
                referred.entry(id).or_insert_with(|| path.display().to_string());
            }
        }
    }
    assert!(referred.len() > 20, "only {referred:?} found");
    for (id, path) in &referred {
        assert!(known.contains(id), "{path} refers to {id}, which VALIDATION.md lacks");
    }
    for id in &known {
        assert!(referred.contains_key(id), "nothing refers to {id}");
    }
}

/// Rows whose last result has figures that are still written by hand. Only ever lower it.
const WRITTEN_BY_HAND: usize = 0;

#[test]
fn last_results_are_written_by_tests_and_ever_fewer_by_hand() {
    let sources = sources_below(&root().join("tests/validation"));
    let measured: BTreeSet<String> =
        sources.iter().flat_map(|path| measured_in(&read(path))).collect();
    let has_figures = |claim: &&Claim| claim.cells[6].contains(|sign: char| sign.is_ascii_digit());
    let by_hand: Vec<String> = page()
        .iter()
        .filter(has_figures)
        .filter(|claim| !measured.contains(&claim.id))
        .map(|claim| claim.id.clone())
        .collect();
    assert_eq!(
        by_hand.len(),
        WRITTEN_BY_HAND,
        "rows with figures that no test writes; if they are fewer, lower WRITTEN_BY_HAND, if they are more, let the \
         test write its figures with `measured!`: {by_hand:?}"
    );
}

#[test]
fn gaps_in_the_table_of_claims_are_noticed() {
    let text = "#[test]\nfn one_is_so() {}\n\nproptest! {\n    #[test]\n    fn two_is_so(x in 0..1) {}\n}\nfn helps() {}\n";
    assert_eq!(tests_in(text), ["one_is_so", "two_is_so"]);
    assert_eq!(
        ids_in("V-07 and V-123; not V- nor V-1"),
        ["V-07", "V-123"].map(String::from).into()
    );
    let macros = "measured!(\"V-07\", \"{z}\"); measured!(\n    \"V-12\",\n); measured!(\"x\")";
    assert_eq!(measured_in(macros), ["V-07", "V-12"].map(String::from).into());
    let found =
        claims("| V-01 | so | formula | F | none | `m::one`, `m::two` | passed |\n| id |\n");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].tests, ["m::one", "m::two"]);
    assert_eq!(found[0].cells.len(), COLUMNS.len());
}
