//! The steps from a text to a scenario: split, override, read, check, assemble.

use sha2::{Digest, Sha256};

use super::assemble::assemble;
use super::baits::built_in;
use super::weigh_ins::{Attachments, weigh_ins};
use crate::scenario::check::{check_keys, check_sizes};
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::ready::{Scenario, WrittenScenario};
use crate::scenario::values::{ValueTable, apply_overrides, split_text};

/// Reads a text with its attached files; its faults do not have the file's name yet.
pub(super) fn read_text(
    text: &str,
    name: &str,
    attachments: &Attachments,
    sets: &[String],
) -> Result<Scenario, Diagnostics> {
    let mut faults = Diagnostics::default();
    let Some(table) = value_table(text, sets, &mut faults) else { return Err(faults) };
    let past = weigh_ins(&table, attachments, &mut faults);
    let sha256 = sha256(text, past.as_ref().map(|past| past.text.as_str()), sets);
    let written = WrittenScenario {
        text: text.to_owned(),
        sets: sets.to_vec(),
        weigh_ins: past.as_ref().map(|past| (past.name.clone(), past.text.clone())),
    };
    let past_kg = past.map(|past| past.sorted_kg);
    let scenario = assemble(&table, name, sha256, past_kg, &mut faults);
    if faults.is_empty() { Ok(Scenario { written, ..scenario }) } else { Err(faults) }
}

/// All values of a text, overridden by `sets`, with the keys checked. `None` if the text is not TOML, or
/// too large.
pub(crate) fn value_table(
    text: &str,
    sets: &[String],
    faults: &mut Diagnostics,
) -> Option<ValueTable> {
    let mut entries = split_text(text, faults)?;
    if !check_sizes(&entries.tables, faults) {
        return None;
    }
    let mut table = built_in().clone();
    let known: Vec<_> = table.tables().iter().chain(&entries.tables).cloned().collect();
    table.keep_lines_of_file(&entries);
    apply_overrides(&mut entries, sets, &known, faults);
    table.read(entries, faults);
    check_keys(&table, faults);
    Some(table)
}

/// SHA-256 in hexadecimal of a text, its weigh-ins if any, and its `--set` values.
fn sha256(text: &str, weigh_ins: Option<&str>, sets: &[String]) -> String {
    let mut hash = Sha256::new();
    hash.update(text.as_bytes());
    if let Some(weigh_ins) = weigh_ins {
        hash.update(b"\nweigh-ins\n");
        hash.update(weigh_ins.as_bytes());
    }
    for set in sets {
        hash.update(b"\n--set ");
        hash.update(set.as_bytes());
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
