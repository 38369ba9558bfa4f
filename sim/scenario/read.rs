//! Reads a scenario: text and `--set` in, a scenario or all its faults out.

use std::path::Path;

use sha2::{Digest, Sha256};

use super::assemble::assemble;
use super::check::check_keys;
use super::fault::Faults;
use super::file::take_apart;
use super::larder::built_in;
use super::ready::Scenario;
use super::set::overlay;
use super::sheet::Sheet;
use super::weigh_ins::{Beside, weigh_ins};
use super::written::Written;

/// Reads a scenario file, with values of the command line (`KEY=VALUE`) laid over it.
///
/// # Errors
///
/// Everything that is wrong with the file and with `sets`, all at once.
pub fn load(path: &Path, sets: &[String]) -> Result<Scenario, Faults> {
    Written::open(path)?.read(sets)
}

/// Reads a scenario from its text; `name` becomes the scenario's name.
///
/// # Errors
///
/// Everything that is wrong with the text and with `sets`, all at once.
///
/// ```
/// let text = r#"
///     line.bar.distance = "28 m"
///     shoal.residents.count = 60
///     plan.patient.recast = "10 min"
/// "#;
/// let scenario = sim::scenario::read(text, "pond", &[]).expect("nothing is wrong with it");
/// assert_eq!(scenario.plans[0].phases[0].recast_s, 600.0);
///
/// let set = ["plan.patient.recast=ten".to_owned()];
/// let faults = sim::scenario::read(text, "pond", &set).expect_err("ten is no time");
/// assert!(faults.to_string().contains("plan.patient.recast"));
/// ```
pub fn read(text: &str, name: &str, sets: &[String]) -> Result<Scenario, Faults> {
    Written::new(text, name).read(sets)
}

/// Reads a text with what lies beside it; faults are told without the file's name.
pub(super) fn read_beside(
    text: &str,
    name: &str,
    beside: &Beside,
    sets: &[String],
) -> Result<Scenario, Faults> {
    let mut faults = Faults::default();
    let Some(sheet) = sheet_of(text, sets, &mut faults) else { return Err(faults) };
    let past = weigh_ins(&sheet, beside, &mut faults);
    let sha256 = sha256(text, past.as_ref().map(|past| past.text.as_str()), sets);
    let past_kg = past.map(|past| past.sorted_kg);
    let scenario = assemble(&sheet, name, sha256, past_kg, &mut faults);
    if faults.is_empty() { Ok(scenario) } else { Err(faults) }
}

/// Every value of a text with `sets` laid over it, keys checked; none where the text is not TOML.
pub(super) fn sheet_of(text: &str, sets: &[String], faults: &mut Faults) -> Option<Sheet> {
    let mut leaves = take_apart(text, faults)?;
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
