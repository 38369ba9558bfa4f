//! `compare --doubt`: finds what could reverse the verdict between the two best plans.

use std::convert::Infallible;

use anyhow::anyhow;

use super::cost::estimated_time;
use crate::cli::args::CompareArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::{
    Folder, earlier_results, json_document, publish, run_request, write_picture,
};
use crate::cli::progress::ProgressDisplay;
use crate::cli::terminal::{notify, text_width};
use crate::cli::threads::on_threads;
use crate::report::{sensitivity_text, tornado_svg};
use crate::scenario::{Scenario, Units};
use crate::study::{Control, Effort, SensitivityReport, analyse_sensitivity, compare};

/// Compares the plans, then analyses which unknowns could reverse the verdict; says first how long it takes.
pub(super) fn compare_with_sensitivity(
    args: &CompareArgs,
    scenario: &Scenario,
) -> Result<(), ExitError> {
    check_scenario(scenario)?;
    let (days, seed, output) = (args.days_or_default(), args.run.simulation.seed, &args.run.output);
    let request = run_request("doubt", scenario, seed, days);
    let mut folder = Folder::choose(output.folder(), request)?;
    let stop = interrupt::listen()?;
    let effort = Effort::for_days(days);
    let unknowns = scenario.uncertain_inputs().len();
    let sessions = effort.sessions(unknowns) + u64::from(days) * scenario.plans.len() as u64;
    let progress = ProgressDisplay::new(sessions, output.quiet);
    let control = Control { progress: &progress, stop };
    let result = on_threads(args.run.threads, || {
        if !output.quiet {
            let time = estimated_time(scenario, seed, sessions);
            notify(&format!(
                "{unknowns} unknowns to vary: {sessions} sessions, {time}; fewer --days take less time"
            ));
        }
        let ignore_day = |_: &_| Ok::<(), Infallible>(());
        let Ok(comparison) = compare(scenario, seed, days, control, ignore_day);
        let is_complete = comparison.days == days;
        is_complete.then(|| analyse_sensitivity(scenario, &comparison, effort, control)).flatten()
    });
    progress.finish();
    let Some(result) = result? else {
        let kept = earlier_results(&folder);
        return Err(ExitError::Interrupted(format!("interrupted; {kept}")));
    };
    let units = args.run.simulation.units(scenario);
    let document = json_document(&result)?;
    publish(
        &mut folder,
        output,
        &document,
        |folder| write_files(folder, &result, &document, units),
        || sensitivity_text(&result, units, text_width()),
    )
}

/// Refuses a scenario in which there is no verdict, or nothing that could reverse it.
fn check_scenario(scenario: &Scenario) -> Result<(), ExitError> {
    if scenario.plans.len() < 2 {
        return Err(ExitError::WrongInput(anyhow!(
            "--doubt is about the verdict between two plans; {} has one here: name two with --plan",
            scenario.name
        )));
    }
    if scenario.fixed_days {
        return Err(ExitError::WrongInput(anyhow!(
            "--doubt is about days and unknowns that vary, and --fixed-days fixes both: leave one of the two out"
        )));
    }
    Ok(())
}

/// Writes the document and the chart.
fn write_files(
    folder: &mut Folder,
    result: &SensitivityReport,
    document: &str,
    units: Units,
) -> Result<(), ExitError> {
    write_picture(folder, "doubt", &tornado_svg(result, units))?;
    folder.write("doubt.json", document.as_bytes())?;
    Ok(folder.write_stamp(result.days)?)
}
