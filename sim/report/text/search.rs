//! The result of a search for the best setting, in a table and sentences.

use crate::report::format::{
    align_columns, counted, empty_table, key_shown, objective_value, percent_points, trimmed_lines,
    value_shown, weight,
};
use crate::scenario::Units;
use crate::stats::SearchMethod;
use crate::study::{Best, Estimate, Finalist, Gap, SettingFound, Stands, Wanted};

/// The size of a difference, without its sign.
fn size(best: &Best, gap: f64, units: Units) -> String {
    match best.wanted {
        Wanted::Weight => weight(gap.abs(), units),
        _ => percent_points(gap),
    }
}

/// A difference with its sign.
fn signed(best: &Best, gap: f64, units: Units) -> String {
    match size(best, gap, units) {
        size if size.starts_with("0\u{a0}") => "0".to_owned(),
        size if gap < 0.0 => format!("−{size}"),
        size => format!("+{size}"),
    }
}

/// The 95 % interval of a difference.
fn interval(best: &Best, gap: &Gap, units: Units) -> String {
    format!("{} to {}", signed(best, gap.low95, units), signed(best, gap.high95, units))
}

/// The estimate of the objective in words.
fn estimate(best: &Best, estimate: &Estimate, units: Units) -> String {
    let value = |value: f64| objective_value(best, value, units);
    let mean = value(estimate.mean);
    let words = match best.wanted {
        Wanted::Weight => format!("{mean} a session"),
        Wanted::Target { target_kg } => {
            format!("{} or more on {mean} of days", weight(target_kg, units))
        }
        Wanted::Win { rivals } => format!("wins the section of {} on {mean} of days", rivals + 1),
        Wanted::Frame { rivals, places } => {
            format!("among the first {places} of {} on {mean} of days", rivals + 1)
        }
    };
    format!("{words} (95\u{a0}% sure: {} to {})", value(estimate.low95), value(estimate.high95))
}

/// A table of the settings: the best value, the values that may be as good, and the cost of the worst value tried.
#[must_use]
pub fn best_table(best: &Best, units: Units) -> String {
    let mut table = empty_table(&["setting", "best", "may be as good", "worst tried"]);
    for setting in &best.settings {
        let worst = setting.worth.iter().min_by(|a, b| a.ahead.mean.total_cmp(&b.ahead.mean));
        let worst = worst.map_or_else(
            || "–".to_owned(),
            |worst| {
                let value = value_shown(setting, &worst.value);
                let gap = signed(best, worst.ahead.mean, units);
                format!("{value}: {gap} ({})", interval(best, &worst.ahead, units))
            },
        );
        let found = value_shown(setting, &setting.found);
        table.add_row([key_shown(best, &setting.key), found, as_good(setting), worst]);
    }
    align_columns(&mut table, &[0, 1, 2, 3]);
    let days = best.settings.first().map_or(0, |setting| setting.worth_days);
    let note = format!(
        "The last two columns change this setting alone, on {}; in brackets: 95\u{a0}% sure.",
        counted(days, "day")
    );
    format!("{}\n{note}", trimmed_lines(&table))
}

/// Values that, changed alone, are not clearly worse than the best one: a range if they have an order.
fn as_good(setting: &SettingFound) -> String {
    let is_good = |written: &String| {
        setting
            .worth
            .iter()
            .find(|worth| worth.value == *written)
            .map(|worth| worth.ahead.high95 >= 0.0)
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
    let found = setting.values.iter().position(|value| *value == setting.found).unwrap_or_default();
    // Outwards from the best value, until one tried is clearly worse.
    let reach = |levels: &mut dyn Iterator<Item = usize>| {
        levels
            .filter_map(|level| Some((level, is_good(&setting.values[level])?)))
            .take_while(|&(_, good)| good)
            .map(|(level, _)| level)
            .last()
            .unwrap_or(found)
    };
    let low = reach(&mut (0..found).rev());
    let high = reach(&mut (found + 1..setting.values.len()));
    if low == high {
        return "no other tried".to_owned();
    }
    let value = |level: usize| value_shown(setting, &setting.values[level]);
    format!("{} to {}", value(low), value(high))
}

/// The best plan, how it compares with the original plan and the other finalists, and how it was searched for.
#[must_use]
pub fn best_sentences(best: &Best, units: Units) -> Vec<String> {
    let mut sentences = vec![format!(
        "The best plan: {}, on {} that the search had not used.",
        estimate(best, &best.found, units),
        counted(best.days, "day"),
    )];
    sentences.extend(at_end_of_range(best));
    sentences.extend(against_original(best, units));
    sentences.push(against_finalists(best, units));
    sentences.push(how_searched(best));
    sentences
}

/// Settings whose best value is the first or last of those searched; `None` if there are none.
fn at_end_of_range(best: &Best) -> Option<String> {
    let is_at_end = |setting: &&SettingFound| {
        let ends = [setting.values.first(), setting.values.last()];
        setting.is_ordered && setting.values.len() > 2 && ends.contains(&Some(&setting.found))
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
fn against_original(best: &Best, units: Units) -> Option<String> {
    let original = best.as_written?;
    let gap = &original.behind;
    let value = objective_value(best, original.value.mean, units);
    let interval = format!("95\u{a0}% sure: {} on the same days", interval(best, gap, units));
    if gap.low95 > 0.0 {
        let ahead = size(best, gap.mean, units);
        let bank = original.bank_sessions.map_or_else(String::new, |sessions| {
            format!(
                " On the bank, where no two plans get the same day, it takes about {sessions} sessions with each to \
                 show this."
            )
        });
        return Some(format!(
            "It is {ahead} better than the original plan ({value}; {interval}).{bank}"
        ));
    }
    let is = if gap.high95 < 0.0 { "worse than" } else { "not clearly better than" };
    Some(format!("It is {is} the original plan, {value} ({interval}): keep what you have."))
}

/// The best plan against the other finalists.
fn against_finalists(best: &Best, units: Units) -> String {
    let count = |stands: Stands| {
        best.finalists.iter().filter(|finalist| finalist.stands == stands).count() as u64
    };
    let (all, level, ahead) =
        (best.finalists.len() as u64, count(Stands::Level), count(Stands::Ahead));
    let all_finalists = counted(all, "other finalist");
    match (all, level, ahead) {
        (0, ..) => "There was no other finalist.".to_owned(),
        (_, 0, 0) => format!("It is clearly ahead of {all_finalists}."),
        (_, _, 0) => {
            let margin =
                best.finalists.iter().map(|finalist| finalist.ahead.high95).fold(0.0, f64::max);
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
fn how_searched(best: &Best) -> String {
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
        "{}: {method}. {} sessions of seed {} in all.",
        counted(best.combinations, "combination"),
        best.sessions,
        best.stamp.seed
    )
}

/// The other finalists, a line each: their values, their result and how they compare with the best plan.
#[must_use]
pub fn best_finalists(best: &Best, units: Units) -> Vec<String> {
    let line = |finalist: &Finalist| {
        let values: Vec<String> = (best.settings.iter().zip(&finalist.values))
            .map(|(setting, written)| value_shown(setting, written))
            .collect();
        let stands = match finalist.stands {
            Stands::Level => "may be as good",
            Stands::Behind => "clearly behind",
            Stands::Ahead => "clearly ahead",
        };
        format!(
            "{}: {}, {} ({}); {stands}",
            values.join(", "),
            objective_value(best, finalist.value.mean, units),
            signed(best, finalist.ahead.mean, units),
            interval(best, &finalist.ahead, units),
        )
    };
    best.finalists.iter().map(line).collect()
}
