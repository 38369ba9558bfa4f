//! The value of `--aim`: what `best` maximises.

use crate::scenario::{Scenario, read_mass_kg};
use crate::study::Objective;

/// How to write an aim, as the end of an error message.
const SYNTAX: &str = "write weight, target, target=80 lb, win or frame";

/// Smallest target weight, as for `aim.target` in a scenario [kg].
const MIN_TARGET_KG: f64 = 0.01;
/// Largest target weight, as for `aim.target` in a scenario [kg].
const MAX_TARGET_KG: f64 = 1000.0;

/// What to maximise, as written on the command line; the scenario supplies the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::cli) enum ObjectiveArg {
    Weight,
    /// The chance of a target weight [kg]; `None` is the scenario's own target.
    Target(Option<f64>),
    Win,
    Frame,
}

impl ObjectiveArg {
    /// The objective in this scenario.
    ///
    /// # Errors
    ///
    /// What the scenario lacks for it, and how to add it.
    pub(in crate::cli) fn in_scenario(
        self,
        scenario: &Scenario,
    ) -> Result<Objective, &'static str> {
        const NO_TARGET: &str = "--aim target: the scenario has no target; give one, as in --aim \"target=80 lb\", or \
                                 write aim.target in the scenario";
        const NO_SECTION: &str = "--aim win and --aim frame need a section, and the scenario has none; write \
                                  section.rivals and section.weight in it, or choose another aim";
        let section = scenario.aims.section.as_ref().ok_or(NO_SECTION);
        Ok(match self {
            Self::Weight => Objective::Weight,
            Self::Target(kg) => {
                Objective::Target { target_kg: kg.or(scenario.aims.target_kg).ok_or(NO_TARGET)? }
            }
            Self::Win => Objective::Win { rivals: section?.rivals },
            Self::Frame => {
                let section = section?;
                Objective::Frame { rivals: section.rivals, places: section.places }
            }
        })
    }
}

/// Parses an aim.
pub(super) fn aim(text: &str) -> Result<ObjectiveArg, String> {
    match text.split_once('=') {
        None => match text.trim() {
            "weight" => Ok(ObjectiveArg::Weight),
            "target" => Ok(ObjectiveArg::Target(None)),
            "win" => Ok(ObjectiveArg::Win),
            "frame" => Ok(ObjectiveArg::Frame),
            _ => Err(SYNTAX.to_owned()),
        },
        Some((name, weight)) if name.trim() == "target" => {
            let target_kg = read_mass_kg(weight.trim())?;
            if !(MIN_TARGET_KG..=MAX_TARGET_KG).contains(&target_kg) {
                return Err("a target is 10 g to 1000 kg, as aim.target in a scenario".to_owned());
            }
            Ok(ObjectiveArg::Target(Some(target_kg)))
        }
        _ => Err(SYNTAX.to_owned()),
    }
}
