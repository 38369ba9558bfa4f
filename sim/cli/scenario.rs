//! Reads the scenario named on the command line, and selects plans in it by name.

use anyhow::anyhow;

use super::args::ScenarioArgs;
use super::exit_status::ExitError;
use crate::angler::PlanId;
use crate::scenario::{Scenario, load_learned_book, nearest_name};

/// Reads the scenario with the values of `--set`, and then `varied`, the values of `--vary` as `KEY=VALUE`.
pub(super) fn read(args: &ScenarioArgs, varied: &[String]) -> Result<Scenario, ExitError> {
    let sets: Vec<String> = args.sets.iter().chain(varied).cloned().collect();
    let keys: Vec<&str> =
        varied.iter().filter_map(|set| Some(set.split_once('=')?.0.trim())).collect();
    let mut scenario =
        args.source()?.read(&sets).map_err(|faults| faults.attributed_to_vary(&keys))?;
    if let Some(book) = &args.book {
        let book = load_learned_book(book, &scenario)?;
        scenario.lay_over(book);
    }
    if args.fixed_days {
        scenario.fix_days();
    }
    Ok(scenario)
}

/// Keeps only the named plans, in the order of the scenario; keeps all if `names` is empty.
pub(super) fn keep_plans(scenario: &mut Scenario, names: &[String]) -> Result<(), ExitError> {
    for name in names {
        find_plan(scenario, name)?;
    }
    if !names.is_empty() {
        scenario.plans.retain(|plan| names.contains(&plan.name));
    }
    Ok(())
}

/// Index of the plan called `name`.
///
/// # Errors
///
/// [`ExitError::WrongInput`] with all names and the nearest one if no plan has that name.
pub(super) fn find_plan(scenario: &Scenario, name: &str) -> Result<PlanId, ExitError> {
    let plans = &scenario.plans;
    plans.iter().position(|plan| plan.name == name).map(PlanId).ok_or_else(|| {
        let names = plan_names(scenario);
        let nearest = nearest_name(name, names.iter().map(String::as_str));
        let hint = nearest.map_or_else(String::new, |known| format!(" Did you mean {known}?"));
        ExitError::WrongInput(anyhow!(
            "{} has no plan \"{name}\".{hint} It has: {}",
            scenario.name,
            names.join(", ")
        ))
    })
}

/// Names of all plans, in the order of the scenario.
pub(super) fn plan_names(scenario: &Scenario) -> Vec<String> {
    scenario.plans.iter().map(|plan| plan.name.clone()).collect()
}
