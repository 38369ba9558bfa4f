//! `card`: one plan on one page for the bank.

use super::cost::announce_days;
use crate::cli::args::CardArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::output::{
    Folder, RunSpec, comparison_document, earlier_results, publish, refuse_silence,
};
use crate::cli::scenario::{chosen_plan, keep_plans, read};
use crate::cli::threads::run_study;
use crate::report::{card_html, card_pdf, card_svg, counted, grouped};
use crate::scenario::{Scenario, Units};
use crate::study::{Compare, CompareResult, Comparison};

/// Fishes one plan to see what to expect of it, and writes its card: a page for a phone and one for paper.
pub fn card(args: &CardArgs) -> Result<(), ExitError> {
    let (seed, output) = (args.run.simulation.seed, &args.run.output);
    let mut scenario = read(&args.scenario, &[])?;
    let plan = chosen_plan(&scenario, args.plan.as_deref())?;
    let plan = scenario.plans[plan].name.clone();
    keep_plans(&mut scenario, std::slice::from_ref(&plan))?;
    refuse_silence(output)?;
    let units = args.run.simulation.units(&scenario);
    let request = RunSpec::new("card", &scenario, seed, args.days, units);
    let mut folder = Folder::choose(output.folder(), request)?;
    let result = run_study(&args.run, u64::from(args.days), |control| {
        announce_days(&args.run, &[&scenario], Some(args.days), "which writes nothing");
        Compare::new(&scenario).seed(seed).days(args.days).run_controlled(control)
    })?;
    let comparison = match result {
        CompareResult::Done(comparison) => comparison,
        CompareResult::Interrupted { days } => {
            let done = grouped(u64::from(days));
            let so_far = format!("interrupted after {done} of {}", counted(args.days, "day"));
            return Err(ExitError::Interrupted(format!("{so_far}; {}", earlier_results(&folder))));
        }
    };
    let document = comparison_document(&comparison, &scenario, units)?;
    let write_files =
        |folder: &mut Folder| write_files(folder, &plan, &comparison, &scenario, units, &document);
    publish(&mut folder, output, &document, write_files, String::new)
}

fn write_files(
    folder: &mut Folder,
    plan: &str,
    comparison: &Comparison,
    scenario: &Scenario,
    units: Units,
    document: &str,
) -> Result<(), ExitError> {
    let Some(card) = crate::report::card(comparison, scenario, plan, units) else {
        return Ok(());
    };
    let pdf = card_pdf(&card).map_err(|error| ExitError::Failed(error.into()))?;
    folder.write("card.html", card_html(&card).as_bytes())?;
    folder.write("card.pdf", &pdf)?;
    folder.write("card.svg", card_svg(&card).as_bytes())?;
    folder.write("summary.json", document.as_bytes())?;
    Ok(folder.write_stamp(comparison.days)?)
}
