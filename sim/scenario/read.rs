//! Reads a scenario: text and `--set` in, a scenario or all its faults out.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use sha2::{Digest, Sha256};

use super::assemble::assemble;
use super::check::check_keys;
use super::fault::{Fault, Faults, Place};
use super::file::take_apart;
use super::larder::built_in;
use super::ready::Scenario;
use super::set::overlay;
use super::sheet::Sheet;
use super::weigh_ins::weigh_ins;

/// Largest file read [bytes]; a scenario has a few thousand.
const MOST_BYTES: u64 = 200_000;

/// Reads a scenario file, with values of the command line (`KEY=VALUE`) laid over it.
///
/// # Errors
///
/// Everything that is wrong with the file and with `sets`, all at once.
pub fn load(path: &Path, sets: &[String]) -> Result<Scenario, Faults> {
    let shown = path.display().to_string();
    let text = text_of(path)?;
    let name =
        path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    read_as(&text, &name, &shown, path.parent(), sets)
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
    read_as(text, name, &format!("{name}.toml"), None, sets)
}

fn read_as(
    text: &str,
    name: &str,
    shown: &str,
    folder: Option<&Path>,
    sets: &[String],
) -> Result<Scenario, Faults> {
    let mut faults = Faults::default();
    let Some(sheet) = sheet_of(text, sets, &mut faults) else {
        return Err(faults.in_file(shown));
    };
    let past = weigh_ins(&sheet, folder, &mut faults);
    let sha256 = sha256(text, past.as_ref().map(|past| past.text.as_str()), sets);
    let past_kg = past.map(|past| past.sorted_kg);
    let scenario = assemble(&sheet, name, sha256, past_kg, &mut faults);
    if faults.is_empty() { Ok(scenario) } else { Err(faults.in_file(shown)) }
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

/// The text of a scenario file, as it stands.
///
/// # Errors
///
/// Where there is no such file, or it cannot be read, is too large or is no text.
pub fn text_of(path: &Path) -> Result<String, Faults> {
    read_text(path).map_err(|fault| Faults::one(&path.display().to_string(), *fault))
}

fn read_text(path: &Path) -> Result<String, Box<Fault>> {
    let unread = |wrong: String, mend: &str| Box::new(Fault::new(&Place::File, "", wrong, mend));
    if path.is_dir() {
        return Err(unread(
            "is a directory".to_owned(),
            "name a scenario file, which ends in .toml",
        ));
    }
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
    if let Err(why) = read {
        let fault = match why.kind() {
            std::io::ErrorKind::NotFound => unread(
                "there is no such file".to_owned(),
                "name a scenario file; examples stand in the folder `scenarios`",
            ),
            _ => unread(format!("cannot be read: {why}"), "see that you may read it"),
        };
        return Err(fault);
    }
    if bytes.len() as u64 > MOST_BYTES {
        let mend = "a scenario has a few thousand bytes, and 200,000 at most";
        return Err(unread("is too large".to_owned(), mend));
    }
    String::from_utf8(bytes).map_err(|why| {
        let good = &why.as_bytes()[..why.utf8_error().valid_up_to()];
        let line = good.iter().filter(|byte| **byte == b'\n').count() + 1;
        Box::new(Fault::new(
            &Place::Line(line),
            "",
            "holds bytes that are not UTF-8 text",
            "save the file as plain text in UTF-8",
        ))
    })
}
