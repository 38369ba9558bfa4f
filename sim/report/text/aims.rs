//! The best plan for each aim.

use unicode_width::UnicodeWidthStr;

use super::superiority::chance_with_interval;
use crate::report::format::{
    align_columns, empty_table, one_line, percent, weight, weight_interval, weight_limit,
    wrap_column,
};
use crate::scenario::Units;
use crate::study::{Aim, AimPlan, AimResult, Comparison};

/// Narrowest column of aims [columns].
const MIN_AIM_WIDTH: usize = 16;

/// A table of the aims, each with its best plan and those that may be as good; `None` for a single plan.
///
/// `columns` is the width of the terminal.
pub fn aims_table(comparison: &Comparison, units: Units, columns: usize) -> Option<String> {
    if comparison.plans.len() < 2 || comparison.aims.is_empty() {
        return None;
    }
    let mut table = empty_table(&["aim", "best plan", "its result (95\u{a0}%)", "may be as good"]);
    table.set_width(columns.clamp(40, 100) as u16);
    for aim in &comparison.aims {
        let best = aim.plans.iter().find(|plan| plan.name == aim.best);
        let level: Vec<String> = aim.not_clearly_worse.iter().map(|name| one_line(name)).collect();
        let level = match level.len() {
            0 => "–".to_owned(),
            count if count + 1 == comparison.plans.len() => "all others".to_owned(),
            _ => level.join(", "),
        };
        table.add_row([
            aim_name(aim, units),
            one_line(&aim.best),
            best.map_or_else(String::new, |best| result(aim, best, units)),
            level,
        ]);
    }
    align_columns(&mut table, &[0, 1, 3]);
    let names = comparison.plans.iter().map(|plan| one_line(&plan.name).width());
    // A name in a list is followed by a comma.
    let longest_name = names.max().unwrap_or(0) + 1;
    wrap_column(&mut table, 0, MIN_AIM_WIDTH);
    wrap_column(&mut table, 3, longest_name);
    Some(table.trim_fmt())
}

/// An aim in a few words.
fn aim_name(aim: &AimResult, units: Units) -> String {
    let anglers = aim.rivals.map_or(0, |rivals| rivals + 1);
    match (aim.aim, aim.threshold) {
        (Aim::MeanWeight, _) => "mean weight".to_owned(),
        (Aim::Target, Some(kg)) => format!("over {}", weight_limit(kg, units)),
        (Aim::Target, None) => "the target".to_owned(),
        (Aim::Win, _) => format!("wins the section of {anglers}"),
        (Aim::Frame, Some(places)) => format!("frames (first {places:.0} of {anglers})"),
        (Aim::Frame, None) => "frames".to_owned(),
        (Aim::Blank, _) => "no blank".to_owned(),
        (Aim::WorstDays, Some(share)) => format!("worst {} of days", percent(share)),
        (Aim::WorstDays, None) => "worst days".to_owned(),
    }
}

/// A plan's result for an aim, with its 95 % interval.
fn result(aim: &AimResult, plan: &AimPlan, units: Units) -> String {
    let result = plan.result;
    match aim.aim {
        Aim::MeanWeight | Aim::WorstDays => {
            let interval = weight_interval(result.interval, units);
            format!("{} ({interval})", weight(result.value, units))
        }
        // Shown as the chance of a day with fish, so that more is better in every row.
        Aim::Blank => chance_with_interval(Some(result.complement())),
        _ => chance_with_interval(Some(result)),
    }
}
