//! Advice during a session, at a glance.

use serde::Serialize;

use crate::report::format::{
    align_columns, clock, counted, duration, empty_table, one_line, percent, trimmed_lines, weight,
    weight_range, wrapped,
};
use crate::scenario::Units;
use crate::study::{ForecastMethod, NowResult, WayForecast, WayKind};

/// The advice in words, part by part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NowWords {
    /// What happened so far.
    pub so_far: String,
    /// What to do.
    pub advice: String,
    /// Every way to go on, the plan first.
    pub ways: Vec<WayWords>,
    /// How it was found out, and how far to trust it.
    pub method: String,
}

/// One way to go on in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WayWords {
    /// What is done differently.
    pub way: String,
    /// Expected weight at the end.
    pub final_weight: String,
    /// Weights between which it ends 8 times in 10.
    pub range: String,
    /// Difference to the plan, with its error; empty for the plan itself.
    pub against_plan: String,
    /// Chance of the target; empty without one.
    pub target: String,
    /// Chance of one of the first places of the section; empty without one.
    pub frame: String,
}

/// The advice in words.
#[must_use]
pub fn now_words(result: &NowResult, units: Units) -> NowWords {
    NowWords {
        so_far: so_far(result, units),
        advice: advice(result, units),
        ways: result.ways.iter().map(|way| way_words(way, result.rules > 0, units)).collect(),
        method: method(result),
    }
}

/// The advice on lines of `width` characters at most.
pub fn now_text(result: &NowResult, units: Units, width: usize) -> String {
    let fill = |text: &str| wrapped(text, width);
    let words = now_words(result, units);
    let paragraphs =
        [fill(&words.so_far), fill(&words.advice), table(&words.ways, width), fill(&words.method)];
    paragraphs.join("\n\n") + "\n"
}

/// Why there is no advice when a session is over.
#[must_use]
pub fn session_over(scenario: &str, length_s: f64, at_s: f64) -> String {
    format!(
        "the session of {scenario} is {} long, and {} have passed: nothing is left to advise on",
        clock(length_s),
        clock(at_s)
    )
}

fn so_far(result: &NowResult, units: Units) -> String {
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
    if result.method == ForecastMethod::OwnRate {
        return format!(
            "Stay with {}: too little is known to say what else would be better.",
            one_line(&result.plan)
        );
    }
    if let Some(better) = &result.better {
        let lead = result.ways.iter().find(|way| way.way == *better);
        let lead = lead.map_or(0.0, |way| way.ahead_of_plan_kg);
        return format!(
            "Better than {}: {}. It adds {} on average.",
            one_line(&result.plan),
            kind_words(better),
            weight(lead, units)
        );
    }
    let stay = format!("Stay with {}: nothing else is clearly better.", one_line(&result.plan));
    match &result.turn {
        Some(turn) => format!(
            "{stay} That would change after {} from now without a fish: then {}, by {}.",
            duration(turn.without_fish_s),
            kind_words(&turn.way),
            weight(turn.ahead_kg, units)
        ),
        None => stay,
    }
}

fn table(ways: &[WayWords], width: usize) -> String {
    let has_target = ways.iter().any(|way| !way.target.is_empty());
    let mut header = vec!["from now on", "at the end", "8 times in 10", "against the plan"];
    if has_target {
        header.push("target");
    }
    let has_frame = ways.iter().any(|way| !way.frame.is_empty());
    if has_frame {
        header.push("frames");
    }
    let mut table = empty_table(&header);
    table.set_width(width as u16);
    for words in ways {
        let WayWords { way, final_weight, range, against_plan, target, frame } = words;
        let mut row = vec![way, final_weight, range, against_plan];
        if has_target {
            row.push(target);
        }
        if has_frame {
            row.push(frame);
        }
        table.add_row(row);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

fn way_words(way: &WayForecast, has_rules: bool, units: Units) -> WayWords {
    let is_by_rules = has_rules && way.way == WayKind::AsPlanned;
    let against_plan = if way.way == WayKind::AsPlanned {
        String::new()
    } else {
        let sign = if way.ahead_of_plan_kg < 0.0 { "−" } else { "+" };
        let error = weight(1.96 * way.ahead_se_kg, units);
        format!("{sign}{} ± {error}", weight(way.ahead_of_plan_kg.abs(), units))
    };
    WayWords {
        way: kind_words(&way.way) + if is_by_rules { ", by its rules" } else { "" },
        final_weight: weight(way.final_kg, units),
        range: weight_range(way.low80_kg, way.high80_kg, units),
        against_plan,
        target: way.target_chance.map_or_else(String::new, percent),
        frame: way.frame_chance.map_or_else(String::new, percent),
    }
}

fn method(result: &NowResult) -> String {
    let simulated = counted(result.simulated, "session");
    match result.method {
        ForecastMethod::SimulatedSessions => format!(
            "From {simulated} simulated up to now; those that went most as yours amount to {:.0}. In the first of them every \
             way was fished to the end from the same state, in the others those that may be best. After ±: 95\u{a0}% sure.",
            result.effective
        ),
        ForecastMethod::OwnRate => format!(
            "No session of {simulated} simulated went as yours. What is left is foretold from your own bites so far, and \
             ways to go on cannot be compared: trust the plan, or correct the scenario."
        ),
    }
}

/// A way to go on, in words.
fn kind_words(way: &WayKind) -> String {
    match way {
        WayKind::AsPlanned => "as planned".to_owned(),
        WayKind::RecastNow => "recast now".to_owned(),
        WayKind::Line(line) => format!("to {}", one_line(line)),
        WayKind::Plan(plan) => format!("plan {}", one_line(plan)),
        WayKind::RecastSooner => "recast twice as often".to_owned(),
        WayKind::RecastLater => "recast half as often".to_owned(),
        WayKind::FeedMore => "twice the feed".to_owned(),
        WayKind::FeedLess => "half the feed".to_owned(),
        WayKind::Hookbait(bait) => format!("{} on the hook", one_line(bait)),
        WayKind::Mix(mix) => format!("{} on the feeder", one_line(mix)),
        WayKind::FeederOf(plan) => format!("feeder as in {}", one_line(plan)),
        WayKind::BareLead => "bare lead, no feeder".to_owned(),
    }
}
