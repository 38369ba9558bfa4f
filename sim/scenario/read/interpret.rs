//! Reads a scenario: text and `--set` in, a scenario or all its faults out.

use sha2::{Digest, Sha256};

use super::assemble::assemble;
use super::built_in_baits::built_in;
use super::weigh_ins::{Attachments, weigh_ins};
use crate::scenario::check::check_keys;
use crate::scenario::diagnose::Faults;
use crate::scenario::ready::Scenario;
use crate::scenario::values::{ValueTable, overlay, split_text};

/// Reads a text with what lies beside it; faults are told without the file's name.
pub(crate) fn read_beside(
    text: &str,
    name: &str,
    beside: &Attachments,
    sets: &[String],
) -> Result<Scenario, Faults> {
    let mut faults = Faults::default();
    let Some(sheet) = value_table(text, sets, &mut faults) else { return Err(faults) };
    let past = weigh_ins(&sheet, beside, &mut faults);
    let sha256 = sha256(text, past.as_ref().map(|past| past.text.as_str()), sets);
    let past_kg = past.map(|past| past.sorted_kg);
    let scenario = assemble(&sheet, name, sha256, past_kg, &mut faults);
    if faults.is_empty() { Ok(scenario) } else { Err(faults) }
}

/// Every value of a text with `sets` laid over it, keys checked; none where the text is not TOML.
pub(crate) fn value_table(text: &str, sets: &[String], faults: &mut Faults) -> Option<ValueTable> {
    let mut leaves = split_text(text, faults)?;
    let mut sheet = built_in().clone();
    let known = sheet.tables().iter().chain(&leaves.tables).cloned().collect::<Vec<_>>();
    overlay(&mut leaves, sets, &known, faults);
    sheet.take(leaves, faults);
    check_keys(&sheet, faults);
    Some(sheet)
}

/// SHA-256 of a text, of the weigh-ins beside it and of what was set, in hexadecimal; of the text alone where there
/// is neither.
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
