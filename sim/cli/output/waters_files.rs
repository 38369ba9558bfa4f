//! Files of a comparison across waters, and the comparison as text.

use std::fmt::Write as _;
use std::fs::File;

use sha2::{Digest, Sha256};

use super::comparison_text::push_list;
use super::folder::Folder;
use super::picture::write_picture;
use super::publish::{earlier_results, publish, waters_document};
use super::run_origin::RunOrigin;
use super::run_spec::RunSpec;
use crate::cli::args::OutputOptions;
use crate::cli::exit_status::ExitError;
use crate::cli::terminal::{columns, wrapped};
use crate::report::{
    counted, water_curves_svg, waters_chances, waters_markdown, waters_notes, waters_table,
    waters_verdict,
};
use crate::scenario::{Scenario, Units};
use crate::study::{DayOutcomes, SessionsCsv, Stamp, WatersComparison};

/// Name of the table of sessions.
const ROWS: &str = "waters.csv";

/// Describes a run that fishes all plans of several waters, each with the seed of its days.
pub(in crate::cli) fn waters_request(
    waters: &[(&Scenario, u64)],
    sets: &[String],
    days: u32,
    units: Units,
) -> RunSpec {
    let digests: String =
        waters.iter().map(|(scenario, _)| format!("{}\n", scenario.sha256)).collect();
    let digest: String = Sha256::digest(digests).iter().map(|byte| format!("{byte:02x}")).collect();
    let books: Option<String> = waters
        .first()
        .and_then(|(scenario, _)| scenario.learned.as_ref().map(|book| book.sha256.clone()));
    let (first, seed) =
        waters.first().map_or(("", 1), |(first, seed)| (first.name.as_str(), *seed));
    let name = match waters {
        [_, (second, _)] => format!("{first}-and-{}", second.name),
        _ => format!("{first}-and-{}-more", waters.len().saturating_sub(1)),
    };
    let plans = waters.iter().flat_map(|(scenario, _)| {
        scenario.plans.iter().map(|plan| format!("{}/{}", scenario.name, plan.name))
    });
    RunSpec {
        command: "compare",
        stamp: Stamp { book_sha256: books, ..Stamp::new(&name, &digest, seed) },
        plans: plans.collect(),
        result_options: Vec::new(),
        days,
        origin: RunOrigin::across_waters(waters, sets, units),
    }
}

/// The folder of a comparison across waters, and the table of sessions in it.
pub(in crate::cli) struct WatersFiles<'a> {
    folder: Folder,
    /// The scenarios, in order.
    scenarios: &'a [Scenario],
    /// `None` before the first day.
    rows: Option<SessionsCsv<File>>,
}

impl<'a> WatersFiles<'a> {
    /// Files of these scenarios in this folder; nothing is written before the first day.
    pub(in crate::cli) fn new(folder: Folder, scenarios: &'a [Scenario]) -> Self {
        Self { folder, scenarios, rows: None }
    }

    /// Appends the rows of one day of the water with an index.
    pub(in crate::cli) fn write_day(
        &mut self,
        water: usize,
        day: &DayOutcomes,
    ) -> Result<(), ExitError> {
        if self.rows.is_none() {
            let file = self.folder.start_file(ROWS)?;
            self.rows = Some(SessionsCsv::across_scenarios(file, self.scenarios)?);
        }
        if let Some(rows) = &mut self.rows {
            rows.write(&self.scenarios[water], day)?;
        }
        Ok(())
    }

    /// Removes the unfinished table.
    pub(in crate::cli) fn discard(&mut self) {
        if self.rows.take().is_some() {
            self.folder.discard_file(ROWS);
        }
    }

    /// Writes nothing, since the days of the waters do not match yet; returns the error with which the interrupted command
    /// ends.
    pub(in crate::cli) fn interrupted(mut self, days: u32) -> ExitError {
        self.discard();
        let kept = earlier_results(&self.folder);
        ExitError::Interrupted(format!(
            "interrupted after {} on every water; {kept}",
            counted(days, "day")
        ))
    }

    /// Writes all files of a finished comparison and prints its result.
    pub(in crate::cli) fn publish(
        self,
        waters: &WatersComparison,
        units: Units,
        output: &OutputOptions,
        is_markdown: bool,
    ) -> Result<(), ExitError> {
        let Self { mut folder, scenarios, rows } = self;
        let are_days_fixed = folder.origin().fixed_days;
        let document = waters_document(waters, scenarios, units)?;
        let write_files = |folder: &mut Folder| {
            if let Some(rows) = rows {
                rows.finish()?;
                folder.finish_file(ROWS)?;
            }
            write_picture(folder, "weight-curve", &water_curves_svg(waters, units))?;
            folder.write("waters.json", document.as_bytes())?;
            Ok(folder.write_stamp(waters.days)?)
        };
        let text = || match is_markdown {
            true => waters_markdown(waters, units),
            false => waters_text(waters, units, are_days_fixed),
        };
        publish(&mut folder, output, &document, write_files, text)
    }
}

/// The comparison as tables and sentences.
fn waters_text(waters: &WatersComparison, units: Units, are_days_fixed: bool) -> String {
    let mut text = format!("{}\n\n", waters_table(waters, units, columns()));
    // Writing to a string does not fail.
    if are_days_fixed {
        let sentence = "All days of a water are the same, with central values: plans differ only by chance within the \
                        day, so the intervals cover neither other days nor what is unknown about the fish.";
        let _ = writeln!(text, "{}", wrapped(sentence));
    }
    for sentence in waters_verdict(waters, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence));
    }
    if let Some((table, notes)) = waters_chances(waters, units, columns()) {
        let _ = writeln!(text, "\n{table}\n{}", wrapped(&notes.join(" ")));
    }
    push_list(&mut text, "Note", &waters_notes(waters, units));
    text
}
