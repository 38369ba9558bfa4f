//! Reads the scenario that was asked for, and finds plans in it by name.

use anyhow::anyhow;

use super::args::Read;
use super::ended::Ended;
use crate::scenario::Scenario;
use crate::scenario::load;

/// The scenario, with what was set, and with values of `--vary` set after that.
pub(super) fn read(asked: &Read, varied: &[String]) -> Result<Scenario, Ended> {
    let sets: Vec<String> = asked.sets.iter().chain(varied).cloned().collect();
    let keys: Vec<&str> =
        varied.iter().filter_map(|set| Some(set.split_once('=')?.0.trim())).collect();
    let mut scenario = load(&asked.scenario, &sets).map_err(|faults| faults.of_vary(&keys))?;
    if asked.fixed_days {
        scenario.fix_days();
    }
    Ok(scenario)
}

/// Keeps only the plans named, in the order of the scenario; all where none is named.
pub(super) fn keep_plans(scenario: &mut Scenario, names: &[String]) -> Result<(), Ended> {
    for name in names {
        find_plan(scenario, name)?;
    }
    if !names.is_empty() {
        scenario.plans.retain(|plan| names.contains(&plan.name));
    }
    Ok(())
}

/// The place of a plan in the scenario.
pub(super) fn find_plan(scenario: &Scenario, name: &str) -> Result<usize, Ended> {
    let plans = &scenario.plans;
    plans.iter().position(|plan| plan.name == name).ok_or_else(|| {
        let names: Vec<&str> = plans.iter().map(|plan| plan.name.as_str()).collect();
        let near = names
            .iter()
            .map(|known| (strsim::damerau_levenshtein(known, name), known))
            .filter(|&(steps, known)| steps <= 1 + known.chars().count() / 3)
            .min();
        let meant = near.map_or_else(String::new, |(_, known)| format!(" Did you mean {known}?"));
        Ended::WrongInput(anyhow!(
            "{} has no plan \"{name}\".{meant} It has: {}",
            scenario.name,
            names.join(", ")
        ))
    })
}
