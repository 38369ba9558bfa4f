//! A column of a table that is written as CSV: its name, type, unit and meaning.

/// Type of the cells of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellKind {
    /// Text.
    Text,
    /// A whole number.
    WholeNumber,
    /// A number.
    Number,
    /// `true` or `false`.
    TrueOrFalse,
}

/// A column of a table that is written as CSV.
///
/// Tables have one list of columns and one of cells, of the same length: a cell without a column does not compile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CsvColumn {
    /// Its name in the header. A part in angle brackets stands for a name that differs between runs.
    pub name: &'static str,
    /// Type of its cells.
    pub kind: CellKind,
    /// Unit; empty for counts, texts and names.
    pub unit: &'static str,
    /// What is in it.
    pub meaning: &'static str,
    /// Whether a cell may be empty, or `NaN`, for want of a value.
    pub may_lack: bool,
}

impl CsvColumn {
    /// A column whose cells all have a value.
    #[must_use]
    pub const fn new(
        name: &'static str,
        kind: CellKind,
        unit: &'static str,
        meaning: &'static str,
    ) -> Self {
        Self { name, kind, unit, meaning, may_lack: false }
    }

    /// The same column with cells that may lack a value.
    #[must_use]
    pub const fn or_empty(self) -> Self {
        Self { may_lack: true, ..self }
    }
}
