//! The result of a search for the best setting, in a table and sentences.

use crate::report::format::{
    align_columns, counted, empty_table, interval_ends, key_shown, objective_value, percent_points,
    trimmed_lines, value_shown, weight,
};
use crate::scenario::Units;
use crate::stats::SearchMethod;
use crate::study::{Estimate, Finalist, FinalistVerdict, Objective, SearchResult, SettingResult};

/// The size of a difference, without its sign.
fn size(best: &SearchResult, difference: f64, units: Units) -> String {
    match best.objective {
        Objective::Weight => weight(difference.abs(), units),
        _ => percent_points(difference),
    }
}

fn signed(best: &SearchResult, difference: f64, units: Units) -> String {
    match size(best, difference, units) {
        size if size.starts_with("0\u{a0}") => "0".to_owned(),
        size if difference < 0.0 => format!("−{size}"),
        size => format!("+{size}"),
    }
}

fn interval(best: &SearchResult, difference: &Estimate, units: Units) -> String {
    interval_ends(difference.interval, |end| signed(best, end, units))
}

/// The estimate of the objective in words.
fn estimate(best: &SearchResult, estimate: &Estimate, units: Units) -> String {
    let value = |value: f64| objective_value(best, value, units);
    let mean = value(estimate.value);
    let words = match best.objective {
        Objective::Weight => format!("{mean} a session"),
        Objective::Target { target_kg } => {
            format!("{} or more on {mean} of days", weight(target_kg, units))
        }
        Objective::Win { rivals } => {
            format!("wins the section of {} on {mean} of days", rivals + 1)
        }
        Objective::Frame { rivals, places } => {
            format!("among the first {places} of {} on {mean} of days", rivals + 1)
        }
    };
    format!("{words} (95\u{a0}% sure: {})", interval_ends(estimate.interval, value))
}

/// A table of the settings: the best value, the values that may be as good, and the cost of the worst value tried.
pub fn search_table(best: &SearchResult, units: Units) -> String {
    let mut table = empty_table(&["setting", "best", "may be as good", "worst tried"]);
    for setting in &best.settings {
        let worst =
            setting.effects.iter().min_by(|a, b| a.difference.value.total_cmp(&b.difference.value));
        let worst = worst.map_or_else(
            || "–".to_owned(),
            |worst| {
                let value = value_shown(setting, &worst.value);
                let difference = signed(best, worst.difference.value, units);
                format!("{value}: {difference} ({})", interval(best, &worst.difference, units))
            },
        );
        let best_value = value_shown(setting, &setting.best_value);
        table.add_row([key_shown(best, &setting.key), best_value, as_good(setting), worst]);
    }
    align_columns(&mut table, &[0, 1, 2, 3]);
    let days = best.settings.first().map_or(0, |setting| setting.effect_days);
    let note = format!(
        "The last two columns change this setting alone, on {}; in brackets: 95\u{a0}% sure.",
        counted(days, "day")
    );
    format!("{}\n{note}", trimmed_lines(&table))
}

/// Values that, changed alone, are not clearly worse than the best one: a range if they have an order.
fn as_good(setting: &SettingResult) -> String {
    let is_good = |written: &String| {
        setting
            .effects
            .iter()
            .find(|effect| effect.value == *written)
            .map(|effect| effect.difference.high95().is_some_and(|high| high >= 0.0))
    };
    if !setting.is_ordered {
        let good: Vec<String> = setting
            .values
            .iter()
            .filter(|written| is_good(written) == Some(true))
            .map(|written| value_shown(setting, written))
            .collect();
        return if good.is_empty() { "no other".to_owned() } else { good.join(", ") };
    }
    let best_level =
        setting.values.iter().position(|value| *value == setting.best_value).unwrap_or_default();
    // Outwards from the best value, until one tried is clearly worse.
    let reach = |levels: &mut dyn Iterator<Item = usize>| {
        levels
            .filter_map(|level| Some((level, is_good(&setting.values[level])?)))
            .take_while(|&(_, good)| good)
            .map(|(level, _)| level)
            .last()
            .unwrap_or(best_level)
    };
    let low = reach(&mut (0..best_level).rev());
    let high = reach(&mut (best_level + 1..setting.values.len()));
    if low == high {
        return "no other tried".to_owned();
    }
    let value = |level: usize| value_shown(setting, &setting.values[level]);
    format!("{} to {}", value(low), value(high))
}

/// The best plan, how it compares with the original plan and the other finalists, and how it was searched for.
pub fn search_sentences(best: &SearchResult, units: Units) -> Vec<String> {
    let mut sentences = vec![format!(
        "The best plan: {}, on {} that the search had not used.",
        estimate(best, &best.best, units),
        counted(best.days, "day"),
    )];
    sentences.extend(at_end_of_range(best));
    sentences.extend(against_original(best, units));
    sentences.push(against_finalists(best, units));
    sentences.push(how_searched(best));
    sentences
}

/// Settings whose best value is the first or last of those searched; `None` if there are none.
fn at_end_of_range(best: &SearchResult) -> Option<String> {
    let is_at_end = |setting: &&SettingResult| {
        let ends = [setting.values.first(), setting.values.last()];
        setting.is_ordered && setting.values.len() > 2 && ends.contains(&Some(&setting.best_value))
    };
    let keys: Vec<String> = (best.settings.iter().filter(is_at_end))
        .map(|setting| key_shown(best, &setting.key))
        .collect();
    (!keys.is_empty()).then(|| {
        let keys = keys.join(", ");
        format!(
            "At the end of the range searched: {keys}. The best value may lie beyond it; search further there."
        )
    })
}

/// The best plan against the original one; `None` if that was not fished.
fn against_original(best: &SearchResult, units: Units) -> Option<String> {
    let original = best.baseline?;
    let difference = &original.shortfall;
    let value = objective_value(best, original.value.value, units);
    let interval =
        format!("95\u{a0}% sure: {} on the same days", interval(best, difference, units));
    if difference.low95().is_some_and(|low| low > 0.0) {
        let ahead = size(best, difference.value, units);
        let bank = original.real_sessions.map_or_else(String::new, |sessions| {
            format!(
                " On the bank, where no two plans get the same day, it takes about {} with each to show \
                 this.",
                counted(sessions, "session")
            )
        });
        return Some(format!(
            "It is {ahead} better than the original plan ({value}; {interval}).{bank}"
        ));
    }
    let is_worse = difference.high95().is_some_and(|high| high < 0.0);
    let is = if is_worse { "worse than" } else { "not clearly better than" };
    Some(format!("It is {is} the original plan, {value} ({interval}): keep what you have."))
}

/// The best plan against the other finalists.
fn against_finalists(best: &SearchResult, units: Units) -> String {
    let count = |stands: FinalistVerdict| {
        best.finalists.iter().filter(|finalist| finalist.verdict == stands).count() as u64
    };
    let (all, level, ahead) = (
        best.finalists.len() as u64,
        count(FinalistVerdict::Inconclusive),
        count(FinalistVerdict::Better),
    );
    let all_finalists = counted(all, "other finalist");
    match (all, level, ahead) {
        (0, ..) => "There was no other finalist.".to_owned(),
        (_, 0, 0) => format!("It is clearly ahead of {all_finalists}."),
        (_, _, 0) => {
            let margin = best
                .finalists
                .iter()
                .filter_map(|finalist| finalist.difference.high95())
                .fold(0.0, f64::max);
            format!(
                "Of {all_finalists}, {level} may be as good; 95\u{a0}% sure that none is better by more than {}.",
                size(best, margin, units)
            )
        }
        _ => format!(
            "On these days {} did better; take that one, or search with more sessions.",
            counted(ahead, "other finalist"),
        ),
    }
}

/// How the best plan was searched for.
fn how_searched(best: &SearchResult) -> String {
    let method = match best.method {
        SearchMethod::KimNelson => {
            "all tried until the best was clear (Kim and Nelson's procedure: 95\u{a0}% sure that the plan chosen is the \
             best, or behind it by no more than 2\u{a0}% of the weight or 2\u{a0}points of the chance)"
        }
        SearchMethod::Ocba => {
            "all tried, most often where the choice was close (optimal computing budget allocation)"
        }
        SearchMethod::SequentialHalving => {
            "all tried, the better half again and again with more sessions (sequential halving)"
        }
        SearchMethod::Race => {
            "a sample of all, then closer and closer to the best so far (sequential halving in each round)"
        }
    };
    format!(
        "{}: {method}. {} of seed {} in all.",
        counted(best.combinations, "combination"),
        counted(best.sessions, "session"),
        best.stamp.seed
    )
}

/// The other finalists, a line each: their values, their result and how they compare with the best plan.
pub fn finalist_lines(best: &SearchResult, units: Units) -> Vec<String> {
    let line = |finalist: &Finalist| {
        let values: Vec<String> = (best.settings.iter().zip(&finalist.values))
            .map(|(setting, written)| value_shown(setting, written))
            .collect();
        let stands = match finalist.verdict {
            FinalistVerdict::Inconclusive => "may be as good",
            FinalistVerdict::Worse => "clearly behind",
            FinalistVerdict::Better => "clearly ahead",
        };
        format!(
            "{}: {}, {} ({}); {stands}",
            values.join(", "),
            objective_value(best, finalist.value.value, units),
            signed(best, finalist.difference.value, units),
            interval(best, &finalist.difference, units),
        )
    };
    best.finalists.iter().map(line).collect()
}
