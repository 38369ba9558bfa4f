//! Last results: what a test measured stands in its row of `tests/VALIDATION.md`, or is written there.

use std::fs;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// One test at a time reads and writes the page.
static PAGE: Mutex<()> = Mutex::new(());
/// Number of cells before the last result.
const CELLS_BEFORE: usize = 6;
/// Stands between the results of the tests of one row.
const BETWEEN: &str = " · ";
/// Stands for a test that measures no figure.
const PASSED: &str = "as claimed";

/// Compares what the calling test measured with the last cell of a row of `tests/VALIDATION.md`. With `SHOALWISE_BLESS=1` it
/// is written there instead.
///
/// A row of several tests has the results of each, in the order of the tests, with a middle dot between them.
macro_rules! measured {
    ($row:literal, $($text:tt)+) => {{
        fn here() {}
        $crate::measured::stands_in_page($row, std::any::type_name_of_val(&here), &format!($($text)+));
    }};
}
pub(crate) use measured;

fn page() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/VALIDATION.md")
}

/// Fails unless the page has this text as the result of a test, which is known by the path of a function inside it.
#[track_caller]
pub(crate) fn stands_in_page(row: &str, here: &str, text: &str) {
    // Debug builds try fewer cases.
    if cfg!(debug_assertions) {
        return;
    }
    let _alone = PAGE.lock().unwrap_or_else(PoisonError::into_inner);
    let before = fs::read_to_string(page()).expect("tests/VALIDATION.md is committed");
    let after = with_result(&before, row, &test_of(here), &typeset(text));
    if before == after {
        return;
    }
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        // Readers never see half a page.
        let half = page().with_extension("md.new");
        fs::write(&half, after).expect("tests can be written");
        fs::rename(half, page()).expect("tests can be written");
        return;
    }
    let line = |page: &str| page.lines().find(|line| is_row(line, row)).map(str::to_owned);
    let cell = |page: &str| line(page).and_then(|line| cells(&line).pop()).unwrap_or_default();
    panic!(
        "{row}: tests/VALIDATION.md has the last result `{}`, and this run gives `{}`; SHOALWISE_BLESS=1 writes it",
        cell(&before),
        cell(&after)
    );
}

/// `module::test` from the path of a function inside the test.
fn test_of(here: &str) -> String {
    let path: Vec<&str> = here.split("::").filter(|part| *part != "{{closure}}").collect();
    let [.., module, test, _] = path.as_slice() else { panic!("{here} is inside no test") };
    format!("{module}::{test}")
}

/// The text as it is printed: with real minus signs.
fn typeset(text: &str) -> String {
    let mut last = ' ';
    let signed = text.char_indices().map(|(at, sign)| {
        let number = text[at + sign.len_utf8()..].starts_with(|next: char| next.is_ascii_digit());
        let minus = sign == '-' && number && !last.is_alphanumeric();
        last = sign;
        if minus { '−' } else { sign }
    });
    signed.collect()
}

fn is_row(line: &str, row: &str) -> bool {
    line.strip_prefix("| ").is_some_and(|rest| rest.starts_with(&format!("{row} |")))
}

fn cells(line: &str) -> Vec<String> {
    line.trim().trim_matches('|').split(" | ").map(|cell| cell.trim().to_owned()).collect()
}

/// The page with the result of one test in the last cell of its row.
#[track_caller]
fn with_result(page: &str, row: &str, test: &str, text: &str) -> String {
    assert!(!text.contains(['|', '\n', '·']), "{row}: a result is one cell: {text}");
    let line = page.lines().find(|line| is_row(line, row));
    let line = line.unwrap_or_else(|| panic!("tests/VALIDATION.md has no row {row}"));
    let mut cells = cells(line);
    assert_eq!(cells.len(), CELLS_BEFORE + 1, "{row}: {line}");
    let tests: Vec<&str> = cells[CELLS_BEFORE - 1].split('`').skip(1).step_by(2).collect();
    let own = tests.iter().position(|known| *known == test);
    let own = own.unwrap_or_else(|| panic!("{row} does not name the test {test}"));
    let old: Vec<&str> = cells[CELLS_BEFORE].split(BETWEEN).collect();
    let mut results = if old.len() == tests.len() { old } else { vec![PASSED; tests.len()] };
    results[own] = text;
    cells[CELLS_BEFORE] = results.join(BETWEEN);
    page.replacen(line, &format!("| {} |", cells.join(" | ")), 1)
}

#[test]
fn results_are_put_where_they_belong() {
    let page = "| id |\n| V-01 | so | formula | F | none | `m::one` | 3 of 4 |\n\
                | V-02 | so | formula | F | none | `m::one`, `m::two` | 5 |\n";
    let one = with_result(page, "V-01", "m::one", "4 of 4");
    assert_eq!(one, page.replace("3 of 4", "4 of 4"));
    let two = with_result(page, "V-02", "m::two", "z = −1.0");
    assert_eq!(two, page.replace("| 5 |", "| as claimed · z = −1.0 |"));
    let both = with_result(&two, "V-02", "m::one", "6");
    assert_eq!(both, page.replace("| 5 |", "| 6 · z = −1.0 |"));
    assert_eq!(with_result(&both, "V-02", "m::one", "6"), both);
    assert_eq!(test_of("validation::patterns::m::one::{{closure}}::here"), "m::one");
    assert_eq!(typeset("z = -1.5, micro-8, 3 - 4, -x"), "z = −1.5, micro-8, 3 - 4, -x");
}
