//! A scenario as written: its text, its name and its attached files.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::interpret::{read_text, value_table};
use super::weigh_ins::{Attachments, weigh_ins};
use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, nearest_name, plain_name, system_problem,
};
use crate::scenario::ready::Scenario;

/// Largest file read [bytes]; a scenario has a few thousand.
const MAX_BYTES: u64 = 200_000;

/// A scenario as written; it can be read again and again with different `--set` values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScenarioSource {
    /// Its text.
    pub text: String,
    /// The scenario's name.
    pub name: String,
    /// The name of the file in faults.
    shown: String,
    attachments: Attachments,
}

impl ScenarioSource {
    /// A scenario text without attached files.
    #[must_use]
    pub fn new(text: &str, name: &str) -> Self {
        Self::from_stored(text.to_owned(), name.to_owned(), None)
    }

    /// The text of a file; other files that it names are looked up in its folder.
    ///
    /// # Errors
    ///
    /// If the file does not exist, cannot be read, is too large or is not text.
    pub fn open(path: &Path) -> Result<Self, Diagnostics> {
        let shown = path.display().to_string();
        let fix = "name a scenario file; `shoalwise new my-water` writes a first one";
        let text = text_of_file(path, fix).map_err(|mut fault| {
            if !path.exists() {
                fault.nearest = nearest_file(path);
            }
            Diagnostics::from_fault(&shown, *fault)
        })?;
        let name =
            path.file_stem().map_or_else(String::new, |stem| plain_name(&stem.to_string_lossy()));
        let attachments =
            path.parent().map_or(Attachments::None, |folder| Attachments::From(folder.to_owned()));
        Ok(Self { text, name, shown, attachments })
    }

    /// The text of an open file or pipe that has no name, such as standard input; other files that it names are looked up in
    /// the working folder.
    ///
    /// # Errors
    ///
    /// If it cannot be read, is too large or is not text.
    pub fn from_input(input: impl Read) -> Result<Self, Diagnostics> {
        let (name, shown) = ("stdin".to_owned(), "standard input".to_owned());
        let text = text_of(Ok(input), "give the text of a scenario")
            .map_err(|fault| Diagnostics::from_fault(&shown, *fault))?;
        Ok(Self { text, name, shown, attachments: Attachments::From(PathBuf::new()) })
    }

    /// The text of a file, safe to show to others: only files in its own folder are read, and faults do not reveal where
    /// that folder is or what is in other files.
    ///
    /// # Errors
    ///
    /// As [`ScenarioSource::open`].
    pub fn open_confined(path: &Path) -> Result<Self, Diagnostics> {
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into());
        if !path.is_file() {
            let fix = "name a scenario file, which ends in .toml";
            let fault = Diagnostic::new(&SourceLocation::File, "", "is no plain file", fix);
            return Err(Diagnostics::from_fault(&name, fault));
        }
        let mut source = Self::open(path).map_err(|faults| faults.in_file(&name))?;
        source.shown = name;
        if let Attachments::From(folder) = source.attachments {
            source.attachments = Attachments::Only(folder);
        }
        Ok(source)
    }

    /// A stored text with the weigh-ins that were stored with it.
    #[must_use]
    pub fn from_stored(text: String, name: String, weigh_ins: Option<String>) -> Self {
        let attachments = weigh_ins.map_or(Attachments::None, Attachments::Stored);
        let name = plain_name(&name);
        Self { shown: format!("{name}.toml"), text, name, attachments }
    }

    /// The same scenario with another text.
    #[must_use]
    pub fn with_text(&self, text: String) -> Self {
        Self { text, ..self.clone() }
    }

    /// The same scenario with the weigh-ins that it names stored in it; `sets` may change which file that is.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the text, with `sets` and with the weigh-ins.
    pub fn with_stored_weigh_ins(mut self, sets: &[String]) -> Result<Self, Diagnostics> {
        let mut faults = Diagnostics::default();
        let table = value_table(&self.text, sets, &mut faults);
        let past = table.and_then(|table| weigh_ins(&table, &self.attachments, &mut faults));
        if !faults.is_empty() {
            return Err(faults.in_file(&self.shown));
        }
        self.attachments = past.map_or(Attachments::None, |past| Attachments::Stored(past.text));
        Ok(self)
    }

    /// The weigh-ins that are stored in it.
    #[must_use]
    pub fn stored_weigh_ins(&self) -> Option<&str> {
        match &self.attachments {
            Attachments::Stored(text) => Some(text),
            _ => None,
        }
    }

    /// The scenario, with values of the command line (`KEY=VALUE`) overriding those of the text.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the text and with `sets`, all at once.
    pub fn read(&self, sets: &[String]) -> Result<Scenario, Diagnostics> {
        read_text(&self.text, &self.name, &self.attachments, sets)
            .map_err(|faults| faults.in_file(&self.shown))
    }
}

/// Reads a scenario file, with values of the command line (`KEY=VALUE`) overriding those of the file.
///
/// # Errors
///
/// Everything that is wrong with the file and with `sets`, all at once.
pub fn load(path: &Path, sets: &[String]) -> Result<Scenario, Diagnostics> {
    ScenarioSource::open(path)?.read(sets)
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
/// assert_eq!(scenario.plans[0].phases[0].tackle.recast_s, 600.0);
///
/// let set = ["plan.patient.recast=ten".to_owned()];
/// let faults = sim::scenario::read(text, "pond", &set).expect_err("ten is not a time");
/// assert!(faults.to_string().contains("plan.patient.recast"));
/// ```
pub fn read(text: &str, name: &str, sets: &[String]) -> Result<Scenario, Diagnostics> {
    ScenarioSource::new(text, name).read(sets)
}

/// The scenario file whose name is nearest to that of a file which does not exist: in the same folder, or in the folder
/// `scenarios` there.
fn nearest_file(path: &Path) -> Option<String> {
    const MAX_FILES: usize = 1000;
    let wanted = path.file_stem()?.to_string_lossy();
    let folder = path.parent()?;
    [folder.to_owned(), folder.join("scenarios")].iter().find_map(|folder| {
        let listed = if folder.as_os_str().is_empty() { Path::new(".") } else { folder.as_path() };
        let entries = fs::read_dir(listed).ok()?.take(MAX_FILES).flatten();
        let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
        let stem = |name: String| Some(name.strip_suffix(".toml")?.to_owned());
        let stems: Vec<String> = names.filter_map(stem).collect();
        let nearest = nearest_name(&wanted, stems.iter().map(String::as_str))?;
        Some(folder.join(format!("{nearest}.toml")).display().to_string())
    })
}

/// The text of a file; `fix` says which file to name instead if it does not exist.
pub(super) fn text_of_file(path: &Path, fix: &str) -> Result<String, Box<Diagnostic>> {
    if path.is_dir() {
        return Err(fault(
            SourceLocation::File,
            "is a folder",
            "name a scenario file, which ends in .toml",
        ));
    }
    text_of(File::open(path), fix)
}

fn fault(place: SourceLocation, problem: &str, fix: &str) -> Box<Diagnostic> {
    Box::new(Diagnostic::new(&place, "", problem.to_owned(), fix))
}

fn text_of(input: io::Result<impl Read>, fix: &str) -> Result<String, Box<Diagnostic>> {
    let file_fault = |problem: &str, fix: &str| fault(SourceLocation::File, problem, fix);
    let mut bytes = Vec::new();
    let read = input.and_then(|input| input.take(MAX_BYTES + 1).read_to_end(&mut bytes));
    read.map_err(|error| match error.kind() {
        ErrorKind::NotFound => file_fault("there is no such file", fix),
        _ => {
            let (problem, fix) = system_problem(&error);
            file_fault(&format!("cannot be read: {problem}"), fix)
        }
    })?;
    if bytes.len() as u64 > MAX_BYTES {
        let fix = "a scenario has a few thousand bytes, and at most 200,000";
        return Err(file_fault("is too large", fix));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = good.iter().filter(|byte| **byte == b'\n').count() + 1;
        let fix = "save the file as plain text in UTF-8";
        fault(SourceLocation::Line(line), "has bytes that are not UTF-8 text", fix)
    })
}
