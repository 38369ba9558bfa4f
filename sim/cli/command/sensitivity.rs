//! `compare --doubt`: finds what could reverse the verdict between the two best plans.

use anyhow::anyhow;

use super::cost::estimated_time;
use crate::cli::args::CompareArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::output::{
    Folder, RunSpec, earlier_results, json_document, publish, refuse_silence, write_picture,
};
use crate::cli::terminal::{notify, text_width};
use crate::cli::threads::run_study;
use crate::report::{counted, sensitivity_text, tornado_svg};
use crate::scenario::{Scenario, Units};
use crate::study::{Compare, CompareResult, Effort, SensitivityReport, analyse_sensitivity};

/// Compares the plans, then analyses which unknowns could reverse the verdict; says first how long it takes.
pub(super) fn compare_with_sensitivity(
    args: &CompareArgs,
    scenario: &Scenario,
) -> Result<(), ExitError> {
    check_scenario(scenario)?;
    refuse_silence(&args.run.output)?;
    let (days, seed, output) = (args.days_or_default(), args.run.simulation.seed, &args.run.output);
    let units = args.run.simulation.units(scenario);
    let request = RunSpec::new("doubt", scenario, seed, days, units);
    let mut folder = Folder::choose(output.folder(), request)?;
    let effort = Effort::for_days(days);
    let uncertain_inputs = scenario.inputs_that_matter().len();
    let sessions = effort.sessions(scenario) + u64::from(days) * scenario.plans.len() as u64;
    let result = run_study(&args.run, sessions, |control| {
        if !output.quiet {
            let time = estimated_time(scenario, seed, sessions);
            notify(&format!(
                "{uncertain_inputs} unknowns to vary: {}, {time}; fewer --days take less time",
                counted(sessions, "session")
            ));
        }
        match Compare::new(scenario).seed(seed).days(days).run_controlled(control) {
            CompareResult::Done(comparison) => {
                analyse_sensitivity(scenario, &comparison, effort, control)
            }
            CompareResult::Interrupted { .. } => None,
        }
    })?;
    let Some(result) = result else {
        let kept = earlier_results(&folder);
        return Err(ExitError::Interrupted(format!("interrupted; {kept}")));
    };
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
