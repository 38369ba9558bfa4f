//! The best setting found, in words.

use super::measures::{percent, weight};
use super::table::{align, days, empty_table, shown_name};
use super::value::shown_values;
use crate::scenario::Units;
use crate::stats::Method;
use crate::study::{Best, Estimate, Finalist, Gap, SettingFound, Stands, Wanted};

/// A weight or a chance, as is wanted.
pub(super) fn value(best: &Best, value: f64, units: Units) -> String {
    match best.wanted {
        Wanted::Weight => weight(value, units),
        _ => percent(value.clamp(0.0, 1.0)),
    }
}

/// The size of a difference.
fn size(best: &Best, gap: f64, units: Units) -> String {
    match best.wanted {
        Wanted::Weight => weight(gap.abs(), units),
        _ => format!("{:.0} points", 100.0 * gap.abs()),
    }
}

/// A difference with its sign.
fn signed(best: &Best, gap: f64, units: Units) -> String {
    match size(best, gap, units) {
        size if size.starts_with("0 ") => "0".to_owned(),
        size if gap < 0.0 => format!("−{size}"),
        size => format!("+{size}"),
    }
}

/// The ends of an interval.
fn ends(best: &Best, of: &Gap, units: Units) -> String {
    format!("{} to {}", signed(best, of.low95, units), signed(best, of.high95, units))
}

fn estimate(best: &Best, of: &Estimate, units: Units) -> String {
    let at = |end: f64| value(best, end, units);
    let what = match best.wanted {
        Wanted::Weight => format!("{} a session", at(of.mean)),
        Wanted::Target { target_kg } => {
            format!("{} or more on {} of days", weight(target_kg, units), at(of.mean))
        }
        Wanted::Win { rivals } => format!("first of {} on {} of days", rivals + 1, at(of.mean)),
        Wanted::Frame { rivals, places } => {
            format!("among the first {places} of {} on {} of days", rivals + 1, at(of.mean))
        }
    };
    format!("{what} (95 % interval {} to {})", at(of.low95), at(of.high95))
}

/// A key as it is shown: `recast` where settings of one plan only were searched, else `two-minutes.recast`.
pub(super) fn key_shown(best: &Best, key: &str) -> String {
    let plan_of = |key: &str| -> Option<String> {
        Some(key.strip_prefix("plan.")?.split_once('.')?.0.to_owned())
    };
    let mut plans = best.settings.iter().filter_map(|setting| plan_of(&setting.key));
    let first = plans.next();
    let of_plan = key.strip_prefix("plan.").unwrap_or(key);
    let alone = first.filter(|first| plans.all(|plan| plan == *first));
    let short = alone.and_then(|plan| of_plan.strip_prefix(&plan)?.strip_prefix('.'));
    shown_name(short.unwrap_or(of_plan))
}

/// How a value of a setting is shown beside the others of it.
pub(super) fn value_shown(setting: &SettingFound, written: &str) -> String {
    let all: Vec<&str> = setting.values.iter().map(String::as_str).collect();
    let at = setting.values.iter().position(|other| other == written);
    at.and_then(|at| shown_values(&all).into_iter().nth(at)).unwrap_or_else(|| written.to_owned())
}

/// A table of the settings: what was found, which other values do as well, and what the worst of them costs.
#[must_use]
pub fn best_table(best: &Best, units: Units) -> String {
    let mut table = empty_table(&["setting", "found", "as good, alone", "worst tried, alone"]);
    for setting in &best.settings {
        let worst = setting.worth.iter().min_by(|a, b| a.ahead.mean.total_cmp(&b.ahead.mean));
        let worst = worst.map_or_else(
            || "–".to_owned(),
            |worst| {
                let at = value_shown(setting, &worst.value);
                let gap = signed(best, worst.ahead.mean, units);
                format!("{at}: {gap} ({})", ends(best, &worst.ahead, units))
            },
        );
        let found = value_shown(setting, &setting.found);
        table.add_row([key_shown(best, &setting.key), found, as_good(setting), worst]);
    }
    align(&mut table, &[0, 1, 2, 3]);
    let lines: Vec<_> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    let on = best.settings.first().map_or_else(String::new, |setting| days(setting.worth_days));
    let note = format!(
        "Alone: this setting changed and the others left as found, on {on}; 95 % intervals in brackets."
    );
    format!("{}\n{note}", lines.join("\n"))
}

/// Values tried alone that are not clearly worse than the one found: from which to which, where they have an order.
fn as_good(setting: &SettingFound) -> String {
    let is_good = |written: &String| {
        setting
            .worth
            .iter()
            .find(|worth| worth.value == *written)
            .map(|worth| worth.ahead.high95 >= 0.0)
    };
    let found = setting.values.iter().position(|value| *value == setting.found).unwrap_or_default();
    if !setting.is_ordered {
        let good: Vec<String> = setting
            .values
            .iter()
            .filter(|written| is_good(written) == Some(true))
            .map(|written| value_shown(setting, written))
            .collect();
        return if good.is_empty() { "no other".to_owned() } else { good.join(", ") };
    }
    // Outwards from the value found, as far as nothing tried is clearly worse.
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
    let at = |level: usize| value_shown(setting, &setting.values[level]);
    format!("{} to {}", at(low), at(high))
}

/// What was found, how it stands beside the plan as written and the other finalists, and how it was searched.
#[must_use]
pub fn best_sentences(best: &Best, units: Units) -> Vec<String> {
    let mut said = vec![format!(
        "The plan found: {}, on {} that the search had not seen.",
        estimate(best, &best.found, units),
        days(best.days),
    )];
    said.extend(at_an_end(best));
    said.extend(beside_written(best, units));
    said.push(beside_finalists(best, units));
    said.push(searched(best));
    said
}

/// Settings whose best value is the first or last of those searched.
fn at_an_end(best: &Best) -> Option<String> {
    let is_end = |setting: &&SettingFound| {
        let ends = [setting.values.first(), setting.values.last()];
        setting.is_ordered && setting.values.len() > 2 && ends.contains(&Some(&setting.found))
    };
    let keys: Vec<String> = (best.settings.iter().filter(is_end))
        .map(|setting| key_shown(best, &setting.key))
        .collect();
    (!keys.is_empty()).then(|| {
        let keys = keys.join(", ");
        format!("At an end of what was searched: {keys}. What is best may lie beyond; search further there.")
    })
}

fn beside_written(best: &Best, units: Units) -> Option<String> {
    let written = best.as_written?;
    let (gap, at) = (&written.behind, value(best, written.value.mean, units));
    let interval = format!("95 % interval {}", ends(best, gap, units));
    if gap.low95 > 0.0 {
        let ahead = size(best, gap.mean, units);
        let bank = written.bank_sessions.map_or_else(String::new, |sessions| {
            format!(
                " On the bank, where no two plans get the same day, about {sessions} sessions with each would \
                 show as much."
            )
        });
        return Some(format!(
            "It is {ahead} better than the plan as written ({at}; {interval} on the same days).{bank}"
        ));
    }
    let stands = if gap.high95 < 0.0 { "behind" } else { "not clearly better than" };
    Some(format!(
        "It is {stands} the plan as written, {at} ({interval} on the same days): keep what you have."
    ))
}

fn beside_finalists(best: &Best, units: Units) -> String {
    let of = |stands: Stands| best.finalists.iter().filter(move |one| one.stands == stands);
    let (level, ahead) = (of(Stands::Level).count(), of(Stands::Ahead).count());
    let all = best.finalists.len();
    let most = best.finalists.iter().map(|one| one.ahead.high95).fold(0.0, f64::max);
    let but = format!("with 95 % none of them is better by more than {}", size(best, most, units));
    match (all, level, ahead) {
        (0, ..) => "There was no other finalist.".to_owned(),
        (_, 0, 0) => format!("It is clearly ahead of {}.", counted(all, "other finalist")),
        (_, _, 0) => {
            let it = counted(all, "other finalist");
            format!("Of {it}, {level} cannot be told apart from it; {but}.")
        }
        _ => format!(
            "On these days {} did better; take that, or search with more sessions.",
            counted(ahead, "other finalist"),
        ),
    }
}

fn counted(n: usize, thing: &str) -> String {
    format!("{n} {thing}{}", if n == 1 { "" } else { "s" })
}

fn searched(best: &Best) -> String {
    let how = match best.method {
        Method::Screened => {
            "all tried until they could be told apart (Kim and Nelson's procedure; with 95 % the one chosen is the \
             best, or behind it by 2 % of the weight or 2 points of the chance at most)"
        }
        Method::Shared => {
            "all tried, most often where the choice was close (optimal budget allocation)"
        }
        Method::Halved => "all tried, the better half of them more and more (sequential halving)",
        Method::Raced => {
            "some all over, then closer and closer to the best so far (sequential halving in each round)"
        }
    };
    let combinations = match best.combinations {
        1 => "1 combination".to_owned(),
        many => format!("{many} combinations"),
    };
    format!("{combinations}: {how}. {} sessions of seed {} in all.", best.sessions, best.stamp.seed)
}

/// The other finalists, a line each: their values, how good they are and how they stand.
#[must_use]
pub fn best_finalists(best: &Best, units: Units) -> Vec<String> {
    let line = |one: &Finalist| {
        let values: Vec<String> = (best.settings.iter().zip(&one.values))
            .map(|(setting, written)| value_shown(setting, written))
            .collect();
        let stands = match one.stands {
            Stands::Level => "cannot be told apart",
            Stands::Behind => "clearly behind",
            Stands::Ahead => "clearly ahead",
        };
        format!(
            "{}: {}, {} ({}); {stands}",
            values.join(", "),
            value(best, one.value.mean, units),
            signed(best, one.ahead.mean, units),
            ends(best, &one.ahead, units),
        )
    };
    best.finalists.iter().map(line).collect()
}
