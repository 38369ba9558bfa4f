//! The page of tables, `tests/TABLES.md`, of which each table is a part.

use std::fs;
use std::path::Path;

use sim::study::MODEL_VERSION;

/// Writes one part of `tests/TABLES.md`, from its heading up to the next one, in place of what was there, with the version of the
/// model that made it.
pub(super) fn write_part(heading: &str, text: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/TABLES.md");
    let page = fs::read_to_string(&file).expect("tests/TABLES.md is committed");
    let heading = format!("## {heading}\n");
    let from = page.find(&heading).unwrap_or_else(|| panic!("TABLES.md has no {heading}"));
    let after = from + heading.len();
    let until = page[after..].find("\n## ").map_or(page.len(), |at| after + at + 1);
    let end = if until < page.len() { "\n" } else { "" };
    let text = text.trim_end();
    let part = format!("{heading}\n{text}\n\nVersion {MODEL_VERSION} of the model.\n{end}");
    fs::write(&file, format!("{}{part}{}", &page[..from], &page[until..])).expect("can be written");
}
