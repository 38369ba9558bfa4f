//! Writes the files of a result, prints the result, and says where the files are.

use std::io::{Write as _, stdout};

use anyhow::anyhow;
use serde::Serialize;

use super::folder::Folder;
use crate::cli::args::OutputOptions;
use crate::cli::exit_status::ExitError;
use crate::cli::terminal::{notify, wrapped};
use crate::report::{ComparisonDocument, WatersDocument};
use crate::scenario::{Scenario, Units, shown_plainly};
use crate::study::{Comparison, WatersComparison};

/// A result as an indented JSON document that ends with a line break.
pub(in crate::cli) fn json_document(result: &impl Serialize) -> Result<String, ExitError> {
    Ok(format!("{}\n", serde_json::to_string_pretty(result)?))
}

/// A comparison as an indented JSON document, with metric figures whatever `units` the run shows its results in.
pub(in crate::cli) fn comparison_document(
    comparison: &Comparison,
    scenario: &Scenario,
    units: Units,
) -> Result<String, ExitError> {
    json_document(&ComparisonDocument::new(comparison, scenario, units))
}

/// A comparison across waters as an indented JSON document, with metric figures whatever `units` the run shows its
/// results in.
pub(in crate::cli) fn waters_document(
    waters: &WatersComparison,
    scenarios: &[Scenario],
    units: Units,
) -> Result<String, ExitError> {
    json_document(&WatersDocument::new(waters, scenarios, units))
}

/// Writes all files with `write_files`, prints `document` with `--json` and `text` without, then the names of the
/// files.
pub(in crate::cli) fn publish(
    folder: &mut Folder,
    output: &OutputOptions,
    document: &str,
    write_files: impl FnOnce(&mut Folder) -> Result<(), ExitError>,
    text: impl FnOnce() -> String,
) -> Result<(), ExitError> {
    // Files first: they must be complete even if the output goes to `head`, which closes the pipe early.
    let written = write_files(folder);
    if output.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        if let Some(changes) = folder.origin().changes() {
            writeln!(stdout(), "{}\n", wrapped(&changes))?;
        }
        stdout().write_all(text().as_bytes())?;
    }
    written?;
    if folder.is_nowhere() {
        return Ok(());
    }
    print_location(folder, output)
}

/// Refuses `--out -` without `--json`: the run would neither write nor print a result that programs read.
pub(in crate::cli) fn refuse_silence(output: &OutputOptions) -> Result<(), ExitError> {
    if output.is_without_files() && !output.json {
        return Err(ExitError::WrongInput(anyhow!(
            "--out - writes no files: say with --json what to print, or name a folder"
        )));
    }
    Ok(())
}

/// Refuses `--out -` for a run that needs a folder, for the reason `why`.
pub(in crate::cli) fn refuse_no_folder(output: &OutputOptions, why: &str) -> Result<(), ExitError> {
    if output.is_without_files() {
        return Err(ExitError::WrongInput(anyhow!(
            "--out - writes no files, but {why}: name a folder, or omit --out"
        )));
    }
    Ok(())
}

/// Says where the files are: after the text on standard output, or on standard error with `--json`.
fn print_location(folder: &Folder, output: &OutputOptions) -> Result<(), ExitError> {
    let names: Vec<String> = folder
        .written_files()
        .filter_map(|path| Some(path.file_name()?.to_string_lossy().into_owned()))
        .collect();
    let location = format!("Files in {}: {}", folder.path().display(), names.join(", "));
    match (output.json, output.quiet) {
        (true, true) => {}
        (true, false) => notify(&location),
        (false, _) => writeln!(stdout(), "\n{}", shown_plainly(&location))?,
    }
    Ok(())
}

/// What an interrupted run that wrote nothing found in its folder, in words.
pub(in crate::cli) fn earlier_results(folder: &Folder) -> String {
    if folder.has_results() {
        format!("the earlier results in {} are as they were", folder.path().display())
    } else {
        "nothing was written".to_owned()
    }
}
