//! The folder, store and files of a sweep.

use std::path::{Path, PathBuf};

use super::folder::Folder;
use super::picture::write_picture;
use super::publish::{json_document, publish};
use super::run_origin::RunOrigin;
use super::run_spec::RunSpec;
use crate::cli::args::OutputOptions;
use crate::cli::exit_status::ExitError;
use crate::cli::terminal::notify;
use crate::report::{sweep_pictures, sweep_text};
use crate::scenario::Units;
use crate::study::{Store, SweepDefinition, SweepResult, summarise};

/// Chooses the folder of a sweep, `out` if it is given; returns it with the path of the store in it.
pub(in crate::cli) fn choose_sweep_folder(
    sweep: &SweepDefinition,
    command: &'static str,
    out: Option<&Path>,
    quiet: bool,
    origin: RunOrigin,
) -> Result<(Folder, PathBuf), ExitError> {
    let request = RunSpec {
        command,
        stamp: sweep.stamp.clone(),
        plans: sweep.plans.clone(),
        result_options: sweep.design.keys.clone(),
        days: sweep.days,
        origin,
    };
    let examine = |path: &Path| Store::examine(path, sweep);
    let (folder, occupied) = Folder::choose_with_store(out, request, examine)?;
    if !quiet {
        let chosen = folder.path().display();
        occupied.iter().for_each(|holds| notify(&format!("{holds}; so this goes to {chosen}")));
    }
    let store = folder.path().join(Store::FILE);
    Ok((folder, store))
}

/// Writes the files of a finished sweep and prints its result.
pub(in crate::cli) fn publish_sweep(
    store: &Store,
    mut folder: Folder,
    output: &OutputOptions,
    units: Units,
) -> Result<(), ExitError> {
    let result = summarise(store)?;
    let document = json_document(&result)?;
    publish(
        &mut folder,
        output,
        &document,
        |folder| write_files(folder, &result, &document, units),
        || format!("{}\n", sweep_text(&result, units)),
    )
}

/// Writes tables, pictures and the JSON document.
fn write_files(
    folder: &mut Folder,
    result: &SweepResult,
    document: &str,
    units: Units,
) -> Result<(), ExitError> {
    folder.write("vary.csv", &result.to_csv()?)?;
    for (name, svg) in sweep_pictures(result, units) {
        write_picture(folder, &name, &svg)?;
    }
    folder.write("vary.json", document.as_bytes())?;
    Ok(folder.write_stamp(result.days)?)
}
