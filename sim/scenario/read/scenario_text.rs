//! A scenario as it was written: its text, its name, and what lies beside its file.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::interpret::{read_beside, value_table};
use super::weigh_ins::{Attachments, weigh_ins};
use crate::scenario::diagnose::{Fault, Faults, Place};
use crate::scenario::ready::Scenario;

/// Largest file read [bytes]; a scenario has a few thousand.
const MOST_BYTES: u64 = 200_000;

/// A scenario as it was written, taken from its file once and made ready as often as needed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its text.
    pub text: String,
    /// The scenario's name.
    pub name: String,
    /// What faults call the file.
    shown: String,
    beside: Attachments,
}

impl Written {
    /// A text beside which nothing lies.
    #[must_use]
    pub fn new(text: &str, name: &str) -> Self {
        let shown = format!("{name}.toml");
        Self { text: text.to_owned(), name: name.to_owned(), shown, beside: Attachments::Nothing }
    }

    /// The text of a file; what else it names is read by its path from there.
    ///
    /// # Errors
    ///
    /// Where there is no such file, or it cannot be read, is too large or is no text.
    pub fn open(path: &Path) -> Result<Self, Faults> {
        let shown = path.display().to_string();
        let text = read_text(path).map_err(|fault| Faults::one(&shown, *fault))?;
        let name =
            path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
        let beside =
            path.parent().map_or(Attachments::Nothing, |folder| Attachments::In(folder.to_owned()));
        Ok(Self { text, name, shown, beside })
    }

    /// A text that was kept, with the weigh-ins that lay beside it.
    #[must_use]
    pub fn kept(text: String, name: String, weigh_ins: Option<String>) -> Self {
        let beside = weigh_ins.map_or(Attachments::Nothing, Attachments::Kept);
        Self { shown: format!("{name}.toml"), text, name, beside }
    }

    /// The same with another text.
    #[must_use]
    pub fn with_text(&self, text: String) -> Self {
        Self { text, ..self.clone() }
    }

    /// The same, for others to see: nothing but what lies in the very folder of the file is read, and no fault tells
    /// where that is.
    #[must_use]
    pub fn fenced(mut self) -> Self {
        self.shown = format!("{}.toml", self.name);
        if let Attachments::In(folder) = self.beside {
            self.beside = Attachments::Within(folder);
        }
        self
    }

    /// The same, with the weigh-ins that it names, with `sets` laid over it, held from now on.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with them.
    pub fn with_weigh_ins(mut self, sets: &[String]) -> Result<Self, Faults> {
        let mut faults = Faults::default();
        let sheet = value_table(&self.text, sets, &mut faults);
        let past = sheet.and_then(|sheet| weigh_ins(&sheet, &self.beside, &mut faults));
        if !faults.is_empty() {
            return Err(faults.in_file(&self.shown));
        }
        self.beside = past.map_or(Attachments::Nothing, |past| Attachments::Kept(past.text));
        Ok(self)
    }

    /// The weigh-ins that are held.
    #[must_use]
    pub fn weigh_ins(&self) -> Option<&str> {
        match &self.beside {
            Attachments::Kept(text) => Some(text),
            _ => None,
        }
    }

    /// The scenario, with values of the command line (`KEY=VALUE`) laid over it.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the text and with `sets`, all at once.
    pub fn read(&self, sets: &[String]) -> Result<Scenario, Faults> {
        read_beside(&self.text, &self.name, &self.beside, sets)
            .map_err(|faults| faults.in_file(&self.shown))
    }
}

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
