//! Files of a comparison: rows of sessions written while days are fished, and the other files at the end.

use std::fs::File;

use super::catches_csv::CatchesCsv;
use super::comparison_text::comparison_text;
use super::folder::Folder;
use super::picture::write_picture;
use super::publish::{comparison_document, earlier_results, publish};
use crate::cli::args::OutputOptions;
use crate::cli::exit_status::ExitError;
use crate::report::{comparison_markdown, counted, grouped, report_html, weight_curve_svg};
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, DayOutcomes, SessionsCsv};

/// Name of the table of sessions.
const SESSIONS: &str = "sessions.csv";
/// Name of the table of fish.
const CATCHES: &str = "catches.csv";

/// The folder of a comparison, and the table of sessions in it.
pub(in crate::cli) struct ComparisonFiles {
    folder: Folder,
    /// The open table of sessions. `None` before the first day.
    rows: Option<SessionsCsv<File>>,
    /// Whether there is a table of fish.
    has_catches: bool,
    /// The open table of fish. `None` before the first day, or if there is no table of fish.
    fish: Option<CatchesCsv<File>>,
}

impl ComparisonFiles {
    /// Files in this folder; nothing is written before the first day.
    pub(in crate::cli) fn new(folder: Folder) -> Self {
        Self { folder, rows: None, has_catches: false, fish: None }
    }

    /// The same files, and a row for each fish if `has_catches`.
    pub(in crate::cli) fn with_catches(self, has_catches: bool) -> Self {
        Self { has_catches, ..self }
    }

    /// Appends the rows of one day.
    pub(in crate::cli) fn write_day(
        &mut self,
        scenario: &Scenario,
        day: &DayOutcomes,
    ) -> Result<(), ExitError> {
        if self.rows.is_none() {
            self.rows = Some(SessionsCsv::new(self.folder.start_file(SESSIONS)?, scenario)?);
        }
        if self.has_catches && self.fish.is_none() {
            self.fish = Some(CatchesCsv::new(self.folder.start_file(CATCHES)?)?);
        }
        if let Some(rows) = &mut self.rows {
            rows.write(scenario, day)?;
        }
        if let Some(fish) = &mut self.fish {
            fish.write(scenario, day)?;
        }
        Ok(())
    }

    /// Removes the unfinished table.
    pub(in crate::cli) fn discard(&mut self) {
        if self.rows.take().is_some() {
            self.folder.discard_file(SESSIONS);
        }
        if self.fish.take().is_some() {
            self.folder.discard_file(CATCHES);
        }
    }

    /// Finishes the table and gives it its name.
    fn keep_rows(
        folder: &mut Folder,
        rows: Option<SessionsCsv<File>>,
        fish: Option<CatchesCsv<File>>,
    ) -> Result<(), ExitError> {
        if let Some(rows) = rows {
            rows.finish()?;
            folder.finish_file(SESSIONS)?;
        }
        if let Some(fish) = fish {
            fish.finish()?;
            folder.finish_file(CATCHES)?;
        }
        Ok(())
    }

    /// Keeps the rows of the finished days, unless the folder holds complete results of an earlier run.
    ///
    /// Returns the error with which the interrupted command ends; `days` is the number of days given with `--days`, if
    /// any.
    pub(in crate::cli) fn interrupted(
        mut self,
        days_done: u32,
        days: Option<u32>,
    ) -> Result<ExitError, ExitError> {
        let progress = match days {
            Some(days) => {
                let done = grouped(u64::from(days_done));
                format!("interrupted after {done} of {}", counted(days, "day"))
            }
            None => {
                let done = counted(days_done, "day");
                format!("interrupted after {done}, before the verdict was clear")
            }
        };
        if days_done == 0 || self.folder.has_results() {
            self.discard();
            let kept = earlier_results(&self.folder);
            return Ok(ExitError::Interrupted(format!("{progress}; {kept}")));
        }
        Self::keep_rows(&mut self.folder, self.rows.take(), self.fish.take())?;
        self.folder.write_stamp(days_done)?;
        let folder = self.folder.path().display();
        Ok(ExitError::Interrupted(format!(
            "{progress}; their rows are kept in {folder}/{SESSIONS}"
        )))
    }

    /// Writes all files of a finished comparison and prints its result.
    pub(in crate::cli) fn publish(
        self,
        comparison: &Comparison,
        scenario: &Scenario,
        units: Units,
        output: &OutputOptions,
        is_markdown: bool,
    ) -> Result<(), ExitError> {
        let Self { mut folder, rows, fish, .. } = self;
        let document = comparison_document(comparison, scenario, units)?;
        let write_files = |folder: &mut Folder| {
            Self::keep_rows(folder, rows, fish)?;
            write_picture(folder, "weight-curve", &weight_curve_svg(comparison, units))?;
            let report = report_html(comparison, scenario, units);
            folder.write("report.html", report.as_bytes())?;
            folder.write("summary.json", document.as_bytes())?;
            Ok(folder.write_stamp(comparison.days)?)
        };
        let text = || match is_markdown {
            true => comparison_markdown(comparison, units),
            false => comparison_text(comparison, units, scenario.fixed_days),
        };
        publish(&mut folder, output, &document, write_files, text)
    }
}
