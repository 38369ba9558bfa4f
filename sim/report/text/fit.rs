//! What the simulator learnt from a log, in tables and sentences.

use crate::report::format::{
    align_columns, counted, empty_table, learned_range, number, one_line, percent, trimmed_lines,
    weight, wrap_column, wrapped,
};
use crate::scenario::Units;
use crate::study::{FitOutcome, FitResult, LearnedUnknown, SummaryOutside};

/// An unknown is taught if its spread falls at least to this share of what it was.
pub(crate) const TAUGHT: f64 = 0.8;

/// What the simulator learnt, on lines of `width` characters at most.
pub fn fit_text(result: &FitResult, units: Units, width: usize) -> String {
    let fill = |text: &str| wrapped(text, width);
    let mut paragraphs = vec![fill(&heading(result))];
    let (taught, hardly): (Vec<_>, Vec<_>) =
        result.learned.iter().partition(|unknown| unknown.spread_ratio < TAUGHT);
    if !taught.is_empty() {
        let table = unknowns_table(&taught, units, width);
        paragraphs.push(format!("What the log taught:\n{table}"));
        paragraphs.push(fill(
            "Doubt left is the spread after the log over that before. In brackets: 90\u{a0}% sure that it lies in this \
             range.",
        ));
    }
    paragraphs.push(fill(&untaught(result, &taught, &hardly)));
    paragraphs.push(format!("Figures that were not fitted:\n{}", checks_table(result, width)));
    paragraphs.push(fill(&checks_sentence(result)));
    if !result.plans.is_empty() {
        paragraphs.push(format!(
            "Your plans before and after the log:\n{}",
            plans_table(result, units, width)
        ));
        paragraphs.push(fill(&verdict_sentence(result)));
    }
    paragraphs.push(fill(
        "learned-book.toml holds what was learnt: give it to compare, sweep, best, card, replay or now with --book.",
    ));
    paragraphs.join("\n\n") + "\n"
}

fn heading(result: &FitResult) -> String {
    format!(
        "{} of {} were simulated as you fished {}, on {} with different unknowns; the {} nearest to yours were used. Of \
         the simulated logs {} are at least as unusual as yours.",
        counted(u64::from(result.simulated_logs), "log"),
        counted(u64::from(result.sessions), "session"),
        if result.sessions == 1 { "it" } else { "them" },
        counted(u64::from(result.simulated_logs), "water"),
        result.accepted_logs,
        percent(result.unusual_share),
    )
}

fn unknowns_table(unknowns: &[&LearnedUnknown], units: Units, width: usize) -> String {
    let mut table = empty_table(&["unknown", "before", "after", "doubt left"]);
    table.set_width(width as u16);
    for unknown in unknowns {
        table.add_row([
            one_line(&unknown.meaning),
            learned_range(unknown.before, &unknown.unit, units),
            learned_range(unknown.after, &unknown.unit, units),
            percent(unknown.spread_ratio),
        ]);
    }
    align_columns(&mut table, &[0]);
    wrap_column(&mut table, 0, 20);
    trimmed_lines(&table)
}

fn untaught(result: &FitResult, taught: &[&LearnedUnknown], hardly: &[&LearnedUnknown]) -> String {
    let others = u64::from(result.unknowns) - taught.len() as u64;
    let named: Vec<String> = hardly
        .iter()
        .map(|unknown| {
            format!("{} ({} left)", one_line(&unknown.meaning), percent(unknown.spread_ratio))
        })
        .collect();
    let hardly = if named.is_empty() {
        String::new()
    } else {
        format!(" It says a little of: {}.", named.join("; "))
    };
    format!(
        "Of the other {} it teaches little or nothing: they keep what was believed of them.{hardly}",
        counted(others, "unknown")
    )
}

fn checks_table(result: &FitResult, width: usize) -> String {
    let mut table = empty_table(&["figure", "your log", "simulated, after the fit"]);
    table.set_width(width as u16);
    for check in &result.checks {
        let range = format!("{}–{}", figure(check.low), figure(check.high));
        table.add_row([check.name.clone(), figure(check.observed), range]);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

/// A number, without decimals if it is a whole one, as a count of casts.
fn figure(value: f64) -> String {
    let is_whole = (value - value.round()).abs() < 1e-9;
    if is_whole { format!("{value:.0}") } else { number(value) }
}

fn checks_sentence(result: &FitResult) -> String {
    let outside: Vec<&str> = result
        .checks
        .iter()
        .filter(|check| !check.is_inside)
        .map(|check| check.name.as_str())
        .collect();
    if outside.is_empty() {
        return "The ranges hold nine of ten simulated logs. Yours is within all of them."
            .to_owned();
    }
    format!(
        "The ranges hold nine of ten simulated logs. Yours is outside in: {}. The scenario lacks something there: trust \
         its verdict less.",
        outside.join("; ")
    )
}

fn plans_table(result: &FitResult, units: Units, width: usize) -> String {
    let mut table = empty_table(&["plan", "before", "heaviest on", "after", "heaviest on"]);
    table.set_width(width as u16);
    let error = |se: Option<f64>| {
        se.map_or_else(String::new, |se| format!(" ± {}", weight(1.96 * se, units)))
    };
    for plan in &result.plans {
        table.add_row([
            one_line(&plan.plan),
            format!("{}{}", weight(plan.before_kg, units), error(plan.before_se_kg)),
            percent(plan.before_best_share),
            format!("{}{}", weight(plan.after_kg, units), error(plan.after_se_kg)),
            percent(plan.after_best_share),
        ]);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

fn verdict_sentence(result: &FitResult) -> String {
    let best = |kg: fn(&crate::study::PlanBeforeAfter) -> f64| {
        let best = result.plans.iter().max_by(|a, b| kg(a).total_cmp(&kg(b)));
        best.map_or_else(String::new, |plan| one_line(&plan.plan))
    };
    let (before, after) = (best(|plan| plan.before_kg), best(|plan| plan.after_kg));
    let days = counted(u64::from(result.days), "day");
    if before == after {
        format!("Over {days} {before} is the heaviest on average, before and after.")
    } else {
        format!("Over {days} the heaviest on average was {before} before, and is {after} after.")
    }
}

/// Why nothing was fitted; `scenario` is its name.
pub fn misfit_text(outcome: &FitOutcome, scenario: &str) -> String {
    match outcome {
        FitOutcome::Impossible { outside, .. } if !outside.is_empty() => {
            let items: Vec<String> = outside.iter().map(outside_sentence).collect();
            format!(
                "{scenario} cannot make such a log, whatever its unknowns are: {}. Nothing was fitted; change the scenario \
                 (fish, depths, baits, times), then fit again",
                items.join("; ")
            )
        }
        FitOutcome::Impossible { unusual_share, .. } => format!(
            "{scenario} hardly ever makes such a log: {} of the simulated logs are as unusual as a whole, although each \
             figure by itself is usual. Nothing was fitted; change the scenario (fish, depths, baits, times), then fit \
             again",
            percent(unusual_share.unwrap_or(0.0))
        ),
        _ => "the log says nothing of any unknown: log more casts, or simulate more with --logs"
            .to_owned(),
    }
}

fn outside_sentence(summary: &SummaryOutside) -> String {
    format!(
        "{}: {} in the log, {} to {} in all simulated logs",
        summary.name,
        number(summary.observed),
        number(summary.low),
        number(summary.high)
    )
}
