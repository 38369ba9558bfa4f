//! Which plan serves which aim best.

use super::beats::with_ends;
use super::measures::{percent, weight, weight_range};
use super::table::{align, empty_table, shown_name};
use crate::scenario::Units;
use crate::study::{Aim, AimPlan, AimResult, Chance, Comparison};

/// A table of aims, each with the plan that serves it best and those not told apart from it; nothing for a single
/// plan.
///
/// `columns` is the room on the terminal.
#[must_use]
pub fn aims_table(comparison: &Comparison, units: Units, columns: usize) -> Option<String> {
    if comparison.plans.len() < 2 || comparison.aims.is_empty() {
        return None;
    }
    let mut table = empty_table(&["what for", "best plan", "with it (95 %)", "not told apart"]);
    table.set_width(columns.clamp(40, 100) as u16);
    for aim in &comparison.aims {
        let best = aim.plans.iter().find(|plan| plan.name == aim.best);
        let alike = aim.not_told_apart.len() + 1 == comparison.plans.len();
        let others = match aim.not_told_apart.len() {
            0 => "–".to_owned(),
            _ if alike => "all of them".to_owned(),
            _ => aim
                .not_told_apart
                .iter()
                .map(|name| shown_name(name))
                .collect::<Vec<_>>()
                .join(", "),
        };
        table.add_row([
            words(aim, units),
            shown_name(&aim.best),
            best.map_or_else(String::new, |best| value(aim, best, units)),
            others,
        ]);
    }
    align(&mut table, &[0, 1, 3]);
    Some(table.trim_fmt())
}

/// What an aim is, in a few words.
fn words(aim: &AimResult, units: Units) -> String {
    let anglers = aim.rivals.map_or(0, |rivals| rivals + 1);
    match (aim.aim, aim.at) {
        (Aim::MeanWeight, _) => "mean weight".to_owned(),
        (Aim::Target, Some(kg)) => {
            let words = weight(kg, units);
            format!("over {}", words.strip_suffix(" 0 oz").unwrap_or(&words))
        }
        (Aim::Target, None) => "the target".to_owned(),
        (Aim::Win, _) => format!("first of {anglers}"),
        (Aim::Frame, Some(places)) => format!("first {places:.0} of {anglers}"),
        (Aim::Frame, None) => "framing".to_owned(),
        (Aim::Blank, _) => "no blank".to_owned(),
        (Aim::WorstDays, Some(share)) => format!("worst {} of days", percent(share)),
        (Aim::WorstDays, None) => "worst days".to_owned(),
    }
}

fn value(aim: &AimResult, plan: &AimPlan, units: Units) -> String {
    let (low95, high95) = (plan.low95, plan.high95);
    match aim.aim {
        Aim::MeanWeight | Aim::WorstDays => {
            format!("{} ({})", weight(plan.value, units), weight_range(low95, high95, units))
        }
        // Told as the chance of a day with fish, so that more is better in every line.
        Aim::Blank => with_ends(Some(Chance {
            share: 1.0 - plan.value,
            low95: 1.0 - high95,
            high95: 1.0 - low95,
        })),
        _ => with_ends(Some(Chance { share: plan.value, low95, high95 })),
    }
}
