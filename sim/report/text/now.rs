//! Advice during a session, at a glance.

use crate::report::format::{
    align_columns, clock, counted, duration, empty_table, one_line, percent, trimmed_lines, weight,
    weight_range,
};
use crate::scenario::Units;
use crate::study::{ForecastMethod, NowResult, WayKind};

/// The advice on lines of `width` characters at most.
pub fn now_text(result: &NowResult, units: Units, width: usize) -> String {
    let fill = |text: &str| textwrap::fill(text, width);
    let paragraphs = [
        fill(&heading(result, units)),
        fill(&advice(result, units)),
        table(result, units, width),
        fill(&method(result)),
    ];
    paragraphs.join("\n\n") + "\n"
}

fn heading(result: &NowResult, units: Units) -> String {
    let net = match result.landed {
        Some(landed) => format!("{landed} landed, {} in the net", weight(result.weight_kg, units)),
        None => {
            "which were landed is not written, so weights are of what is still to come".to_owned()
        }
    };
    format!(
        "{} gone, {} left: {}, {}, {net}.",
        clock(result.at_s),
        clock(result.left_s),
        counted(result.casts, "cast"),
        counted(result.bites, "bite"),
    )
}

fn advice(result: &NowResult, units: Units) -> String {
    if let Some(better) = &result.better {
        let lead = result.ways.iter().find(|way| way.way == *better);
        let lead = lead.map_or(0.0, |way| way.ahead_of_plan_kg);
        return format!(
            "Better than {}: {}. It adds {} on average.",
            one_line(&result.plan),
            way_words(better),
            weight(lead, units)
        );
    }
    let stay = format!("Stay with {}: nothing else is clearly better.", one_line(&result.plan));
    match &result.turn {
        Some(turn) => format!(
            "{stay} That would change after {} from now without a fish: then {}, by {}.",
            duration(turn.without_fish_s),
            way_words(&turn.way),
            weight(turn.ahead_kg, units)
        ),
        None => stay,
    }
}

fn table(result: &NowResult, units: Units, width: usize) -> String {
    let has_target = result.ways.iter().any(|way| way.target_chance.is_some());
    let mut header = vec!["from now on", "at the end", "8 times in 10", "against the plan"];
    if has_target {
        header.push("target");
    }
    let mut table = empty_table(&header);
    table.set_width(width as u16);
    for way in &result.ways {
        let against = if way.way == WayKind::AsPlanned {
            String::new()
        } else {
            let sign = if way.ahead_of_plan_kg < 0.0 { "−" } else { "+" };
            let error = weight(1.96 * way.ahead_se_kg, units);
            format!("{sign}{} ± {error}", weight(way.ahead_of_plan_kg.abs(), units))
        };
        let mut row = vec![
            way_words(&way.way),
            weight(way.final_kg, units),
            weight_range(way.low80_kg, way.high80_kg, units),
            against,
        ];
        if has_target {
            row.push(way.target_chance.map_or_else(String::new, percent));
        }
        table.add_row(row);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

fn method(result: &NowResult) -> String {
    let simulated = counted(result.simulated, "session");
    match result.method {
        ForecastMethod::SimulatedSessions => format!(
            "From {simulated} simulated up to now; those that went most as yours amount to {:.0}. Each way was fished \
             to the end from the same state.",
            result.effective
        ),
        ForecastMethod::OwnRate => format!(
            "No session of {simulated} simulated went as yours. What is left is foretold from your own bites so far, and \
             ways to go on cannot be compared: trust the plan, or correct the scenario."
        ),
    }
}

/// A way to go on, in words.
fn way_words(way: &WayKind) -> String {
    match way {
        WayKind::AsPlanned => "as planned".to_owned(),
        WayKind::RecastNow => "recast now".to_owned(),
        WayKind::Line(line) => format!("to {}", one_line(line)),
        WayKind::Plan(plan) => format!("plan {}", one_line(plan)),
        WayKind::RecastSooner => "recast twice as often".to_owned(),
        WayKind::RecastLater => "recast half as often".to_owned(),
        WayKind::FeedMore => "twice the feed".to_owned(),
        WayKind::FeedLess => "half the feed".to_owned(),
    }
}
