//! Faults: what is wrong with a scenario, where, and how to fix it.

use std::fmt;

use super::grouped::grouped;
use super::plain::{shown_in_line, shown_plainly};

/// The place of a fault.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SourceLocation {
    /// The file as a whole.
    File,
    /// A line of the file, counted from 1.
    Line(usize),
    /// A line and a column of the file, both counted from 1.
    Position {
        /// Number of the line.
        line: usize,
        /// Column, in characters.
        column: usize,
    },
    /// A value given with `--set`.
    Set,
    /// Values given with `--vary`.
    Vary,
    /// The baits that come with the program.
    BuiltIn,
}

impl SourceLocation {
    /// The line of the file. `None` if the place is not in the file.
    #[must_use]
    pub fn line(&self) -> Option<usize> {
        match *self {
            Self::Line(line) | Self::Position { line, .. } => Some(line),
            _ => None,
        }
    }

    /// The order of faults: the file from top to bottom, then the command line.
    fn rank(&self) -> (u8, usize) {
        match self {
            Self::File => (0, 0),
            Self::Line(line) | Self::Position { line, .. } => (1, *line),
            Self::Set => (2, 0),
            Self::Vary => (3, 0),
            Self::BuiltIn => (4, 0),
        }
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// The file as the user gave it.
    pub file: String,
    /// The place in the file, or the option of the command line.
    pub location: SourceLocation,
    /// The dotted key; empty if the fault has none.
    pub key: String,
    /// What is wrong.
    pub problem: String,
    /// How to fix it, or what is allowed.
    pub fix: String,
    /// The nearest known key or name, if one was unknown.
    pub nearest: Option<String>,
}

impl Diagnostic {
    /// A fault whose file is named later. What it quotes of the file is shown without hidden characters and line breaks.
    pub(crate) fn new(
        place: &SourceLocation,
        key: impl Into<String>,
        problem: impl Into<String>,
        fix: impl Into<String>,
    ) -> Self {
        Self {
            file: String::new(),
            location: place.clone(),
            key: shown_in_line(&key.into()),
            problem: shown_in_line(&problem.into()),
            fix: shown_in_line(&fix.into()),
            nearest: None,
        }
    }

    /// The same fault with the nearest known key or name, if any.
    pub(crate) fn near(mut self, nearest: Option<String>) -> Self {
        self.nearest = nearest.as_deref().map(shown_in_line);
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.location {
            SourceLocation::File => write!(f, "{}: ", self.file)?,
            SourceLocation::Line(line) => write!(f, "{}:{line}: ", self.file)?,
            SourceLocation::Position { line, column } => {
                write!(f, "{}:{line}:{column}: ", self.file)?
            }
            SourceLocation::Set => f.write_str("--set: ")?,
            SourceLocation::Vary => f.write_str("--vary: ")?,
            SourceLocation::BuiltIn => f.write_str("built-in baits: ")?,
        }
        if !self.key.is_empty() {
            write!(f, "{}: ", self.key)?;
        }
        f.write_str(&self.problem)?;
        if let Some(nearest) = &self.nearest {
            write!(f, "; did you mean `{nearest}`?")?;
        }
        match (self.fix.is_empty(), &self.nearest) {
            (true, _) => Ok(()),
            (false, None) => write!(f, "; {}", self.fix),
            (false, Some(_)) => write!(f, " ({})", self.fix),
        }
    }
}

/// Largest number of faults that a message tells; the others are counted.
const MAX_REPORTED: usize = 50;
/// Largest number of faults that are kept; the others are counted.
const MAX_KEPT: usize = 500;

/// Everything that is wrong, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
    /// Number of faults that are not in the list, since it is full.
    not_kept: usize,
}

impl Diagnostics {
    /// A list with one fault of a named file.
    pub(crate) fn from_fault(file: &str, fault: Diagnostic) -> Self {
        let mut faults = Self::default();
        faults.add(fault);
        faults.in_file(file)
    }

    /// Adds a fault.
    pub(crate) fn add(&mut self, fault: Diagnostic) {
        if self.is_full() {
            self.not_kept += 1;
        } else {
            self.list.push(fault);
        }
    }

    /// Whether further faults are only counted; what they say need not be worked out.
    pub(crate) fn is_full(&self) -> bool {
        self.list.len() >= MAX_KEPT
    }

    /// Counts a fault that is not kept.
    pub(crate) fn count_one(&mut self) {
        self.not_kept += 1;
    }

    /// Names the file of all faults and sorts them by place.
    pub(crate) fn in_file(mut self, file: &str) -> Self {
        for fault in &mut self.list {
            fault.file = shown_plainly(file);
        }
        self.list.sort_by_key(|fault| fault.location.rank());
        self
    }

    /// The same faults; those of values set for these keys are shown as faults of `--vary`.
    #[must_use]
    pub fn attributed_to_vary<S: AsRef<str>>(mut self, keys: &[S]) -> Self {
        for fault in &mut self.list {
            if fault.location == SourceLocation::Set
                && keys.iter().any(|key| key.as_ref() == fault.key)
            {
                fault.location = SourceLocation::Vary;
            }
        }
        self
    }

    /// The faults, in the order of the file.
    #[must_use]
    pub fn list(&self) -> &[Diagnostic] {
        &self.list
    }

    /// The first faults, as many as a message tells.
    #[must_use]
    pub fn reported(&self) -> &[Diagnostic] {
        &self.list[..self.list.len().min(MAX_REPORTED)]
    }

    /// Number of all faults.
    #[must_use]
    pub fn count(&self) -> usize {
        self.list.len() + self.not_kept
    }

    /// The number of faults in words, and how many of them a message tells if that is not all.
    #[must_use]
    pub fn counted(&self) -> String {
        match (self.count(), self.reported().len()) {
            (1, _) => "1 fault".to_owned(),
            (count, shown) if count > shown => {
                format!("{} faults, of which the first {shown} are shown", grouped(count as u64))
            }
            (count, _) => format!("{} faults", grouped(count as u64)),
        }
    }

    /// Whether there are no faults.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }
}

impl fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for fault in self.reported() {
            writeln!(f, "{fault}")?;
        }
        f.write_str(&self.counted())
    }
}

impl std::error::Error for Diagnostics {}

/// A user's text for a message: in quotation marks, control characters escaped, cut if it is long.
pub(crate) fn quoted(text: &str) -> String {
    const MAX_LETTERS: usize = 60;
    if text.chars().count() <= MAX_LETTERS {
        return format!("{text:?}");
    }
    let start: String = text.chars().take(MAX_LETTERS).collect();
    format!("{start:?}…")
}
