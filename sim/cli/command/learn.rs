//! `learn`: what a catch log says, alone or with the simulator fitted to it.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write, stdout};
use std::path::Path;

use anyhow::anyhow;

use super::fit::fit_to_log;
use crate::catch_log::{CatchLog, LOG_COLUMNS, catch_log_template};
use crate::cli::args::{LearnArgs, UnitsArg};
use crate::cli::exit_status::ExitError;
use crate::cli::output::{
    Folder, RunOrigin, RunSpec, json_document, publish, refuse_silence, write_picture,
};
use crate::cli::scenario::read_log;
use crate::cli::terminal::{notify, text_width};
use crate::report::{expected_bites_svg, learn_text, recast_rate_svg, waits_svg};
use crate::scenario::{Units, system_fault};
use crate::study::{LearnResult, LearnSpec};

/// Reads a log, writes pictures and figures of what it says, and prints it; or writes an empty log.
pub fn learn(args: &LearnArgs) -> Result<(), ExitError> {
    if args.template {
        return write_template(args.log.as_deref());
    }
    let Some(path) = &args.log else {
        return Err(ExitError::WrongInput(anyhow!("name a catch log")));
    };
    let log = read_log(path, args.scenario.as_deref())?;
    refuse_silence(&args.output)?;
    if let Some(scenario) = &args.scenario {
        return fit_to_log(args, path, &log, scenario);
    }
    let spec = LearnSpec { seed: args.seed, by: args.group_by(), recast_time_s: args.recast_time };
    let result = crate::study::learn(&log, &spec);
    let units = match args.units {
        Some(UnitsArg::Imperial) => Units::Imperial,
        Some(UnitsArg::Metric) => Units::Metric,
        None => log.units,
    };
    let request = run_spec(&log, &spec, &result, units);
    let mut folder = Folder::choose(args.output.folder(), request)?;
    let document = json_document(&result)?;
    publish(
        &mut folder,
        &args.output,
        &document,
        |folder| write_files(folder, &result, &document),
        || learn_text(&result, units, text_width()),
    )
}

/// What decides the files of the run.
fn run_spec(log: &CatchLog, spec: &LearnSpec, result: &LearnResult, units: Units) -> RunSpec {
    let mut result_options: Vec<String> =
        spec.by.iter().map(|by| format!("by {}", by.name())).collect();
    result_options.extend(spec.recast_time_s.map(|s| format!("recast-time {s} s")));
    RunSpec {
        command: "learn",
        stamp: result.stamp.clone(),
        plans: Vec::new(),
        result_options,
        days: log.sessions.len() as u32,
        origin: RunOrigin::without_scenario(units),
    }
}

fn write_files(folder: &mut Folder, result: &LearnResult, document: &str) -> Result<(), ExitError> {
    write_picture(folder, "waits", &waits_svg(result))?;
    write_picture(folder, "expected-bites", &expected_bites_svg(result))?;
    if let Some(svg) = recast_rate_svg(result) {
        write_picture(folder, "recast-rate", &svg)?;
    }
    folder.write("learn.json", document.as_bytes())?;
    Ok(folder.write_stamp(result.totals.sessions as u32)?)
}

/// Writes an empty log to a new file or to standard output, and explains its columns on standard error.
fn write_template(path: Option<&Path>) -> Result<(), ExitError> {
    let template = catch_log_template();
    match path {
        None => stdout().write_all(template.as_bytes())?,
        Some(path) => {
            let file = OpenOptions::new().write(true).create_new(true).open(path);
            let mut file = file.map_err(|error| match error.kind() {
                ErrorKind::AlreadyExists => ExitError::WrongInput(anyhow!(
                    "{} exists already, and is left as it is: name a new file",
                    path.display()
                )),
                _ => ExitError::Failed(anyhow!(
                    "cannot write {}: {}",
                    path.display(),
                    system_fault(&error)
                )),
            })?;
            file.write_all(template.as_bytes())?;
            notify(&format!("{} is an empty catch log", path.display()));
        }
    }
    for column in &LOG_COLUMNS {
        let must = if column.is_required { "" } else { "; may be left out" };
        notify(&format!("  {:<14}{}{must}", column.name, column.meaning));
    }
    Ok(())
}
