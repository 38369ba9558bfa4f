//! What could flip a verdict, in plain sentences.

use std::fmt::Write as _;

use super::measures::{percent, weight};
use super::table::shown_name;
use super::ticks::tick_label;
use crate::scenario::Units;
use crate::study::{Crossing, Doubt, Few, Flip, Screened, Split};

/// Doubt in words, on lines of `width` characters at most.
#[must_use]
pub fn doubt_words(doubt: &Doubt, units: Units, width: usize) -> String {
    let mut text = String::new();
    let mut say = |sentence: &str| {
        let _ = writeln!(text, "{}", textwrap::fill(sentence, width));
    };
    say(&verdict(doubt, units));
    say("");
    for sentence in flip_sentences(doubt, units) {
        say(&sentence);
    }
    say("");
    if !doubt.few.is_empty() {
        say(
            "Unknowns that move the difference most, with the mean difference at either end of what is held likely \
             (19 values in 20) and the share of their doubt that each has a part in:",
        );
    }
    for few in &doubt.few {
        let item = format!("{}: {}", name_of(&few.key), row(doubt, few, units));
        let options =
            textwrap::Options::new(width).initial_indent("  - ").subsequent_indent("    ");
        let _ = writeln!(text, "{}", textwrap::fill(&item, options));
    }
    let _ = writeln!(text, "\n{}", textwrap::fill(&noise(doubt, units), width));
    let (a, b) = (shown_name(&doubt.a), shown_name(&doubt.b));
    let _ = writeln!(text, "\nWhere the spread from session to session comes from:");
    for (what, split) in [
        (format!("weight of {a}"), &doubt.variance.a),
        (format!("weight of {b}"), &doubt.variance.b),
        ("difference on the same day".to_owned(), &doubt.variance.difference),
    ] {
        let item = format!("{what}: {}", split_words(split, units));
        let options =
            textwrap::Options::new(width).initial_indent("  - ").subsequent_indent("    ");
        let _ = writeln!(text, "{}", textwrap::fill(&item, options));
    }
    text
}

fn verdict(doubt: &Doubt, units: Units) -> String {
    let (a, b) = (shown_name(&doubt.a), shown_name(&doubt.b));
    let difference = doubt.difference_kg;
    let interval = format!(
        "95 % interval {} to {}",
        weight(difference.low95, units),
        weight(difference.high95, units)
    );
    let with = format!("with all that is not known drawn afresh on each of {} days", doubt.days);
    if difference.low95 > 0.0 {
        let by = weight(difference.mean, units);
        return format!("{a} beats {b} by {by} a session ({interval}), {with}.");
    }
    format!(
        "{a} is {} a session ahead of {b} in the mean ({interval}), too close to call, {with}.",
        weight(difference.mean, units)
    )
}

/// Which unknowns flip the verdict, and that nothing else does, as far as noise allows.
fn flip_sentences(doubt: &Doubt, units: Units) -> Vec<String> {
    let (a, b) = (shown_name(&doubt.a), shown_name(&doubt.b));
    let mut sentences = Vec::new();
    for few in &doubt.few {
        for flip in &few.flips {
            let would = if flip.is_sure { "would" } else { "might" };
            let hedge = if flip.is_sure { "" } else { "; that is within noise" };
            sentences.push(format!(
                "If {} ({}) were {}, {b} {would} beat {a}{hedge}.",
                few.says,
                name_of(&few.key),
                stretch(few, flip, units),
            ));
        }
    }
    let others = doubt.screened.len().saturating_sub(doubt.few.len());
    let open: Vec<&Few> = doubt.few.iter().filter(|few| is_open(doubt, few)).collect();
    if !open.is_empty() {
        let names: Vec<&str> = open.iter().map(|few| name_of(&few.key)).collect();
        sentences.push(format!(
            "Not seen to flip it, yet not ruled out by the noise of {} days: {}.",
            doubt.line_days,
            names.join(", ")
        ));
    }
    let rest = if sentences.is_empty() {
        format!(
            "Nothing that is not known, taken alone over what is held likely, flips it: not the {} looked at \
                 closely",
            doubt.few.len()
        )
    } else {
        "Nothing else looked at closely flips it, taken alone over what is held likely".to_owned()
    };
    let largest = reach(doubt);
    sentences.push(match largest {
        Some((most_kg, who)) if others > 0 && most_kg < doubt.difference_kg.mean.abs() => format!(
            "{rest}, and none of the other {others} moved the difference by as much as it is: at most {} of {} from \
             one end to the other, luck included ({}).",
            weight(most_kg, units),
            weight(doubt.difference_kg.mean.abs(), units),
            name_of(&who.key),
        ),
        Some((most_kg, who)) if others > 0 => format!(
            "{rest}; of the other {others}, {} might move the difference by up to {}, luck included, which is too much \
             to rule them out: ask for more --days.",
            name_of(&who.key),
            weight(most_kg, units),
        ),
        _ => format!("{rest}."),
    });
    sentences
}

/// How much an unknown outside the few moved the difference from one end to the other at most, with two standard
/// errors on top.
fn reach(doubt: &Doubt) -> Option<(f64, &Screened)> {
    let few = |one: &Screened| doubt.few.iter().any(|few| few.key == one.key);
    let size = |one: &Screened| one.mean_kg.abs() + 2.0 * one.mean_se_kg;
    let rest = doubt.screened.iter().filter(|one| !few(one));
    rest.map(|one| (size(one), one)).max_by(|one, other| one.0.total_cmp(&other.0))
}

/// Whether the line along an unknown keeps its sign, but its interval does not.
fn is_open(doubt: &Doubt, few: &Few) -> bool {
    let sign = doubt.difference_kg.mean.signum();
    let worst = |low: f64, high: f64| (sign * low).min(sign * high);
    few.flips.is_empty()
        && few.line.iter().any(|point| worst(point.sure_low_kg, point.sure_high_kg) < 0.0)
}

/// Where the other plan wins, in words.
fn stretch(few: &Few, flip: &Flip, units: Units) -> String {
    let at = |crossing: &Crossing| {
        let value = |value: f64| value_words(value, &few.unit, units);
        let (low, high) = (value(crossing.low), value(crossing.high));
        if low == high {
            value(crossing.value)
        } else {
            format!("{} (somewhere from {low} to {high})", value(crossing.value))
        }
    };
    match (&flip.above, &flip.below) {
        (None, None) => "anything that is held likely".to_owned(),
        (None, Some(below)) => format!("below {}", at(below)),
        (Some(above), None) => format!("above {}", at(above)),
        (Some(above), Some(below)) => format!("between {} and {}", at(above), at(below)),
    }
}

/// One of the few in a line.
fn row(doubt: &Doubt, few: &Few, units: Units) -> String {
    let ends = few.line.first().zip(few.line.last()).map(|(low, high)| {
        let at = |value: f64, kg: f64| {
            let ahead = if kg < 0.0 { &doubt.b } else { &doubt.a };
            format!(
                "at {} {} ahead by {}",
                value_words(value, &few.unit, units),
                shown_name(ahead),
                weight(kg.abs(), units)
            )
        };
        format!("{}, {}", at(low.value, low.mean_kg), at(high.value, high.mean_kg))
    });
    let share = few.total.zip(few.total_low95.zip(few.total_high95)).map(|(total, (low, high))| {
        let within = |share: f64| percent(share.clamp(0.0, 1.0));
        if low <= 0.0 && high >= 1.0 {
            return "; its part in the doubt is lost in luck".to_owned();
        }
        format!("; part in {} of the doubt ({} to {})", within(total), within(low), within(high))
    });
    format!("{}{}", ends.unwrap_or_default(), share.unwrap_or_default())
}

/// What noise remains.
fn noise(doubt: &Doubt, units: Units) -> String {
    let lines = format!("Each end is a mean of the same {} days.", doubt.line_days);
    match doubt.spread_over_few_kg.zip(doubt.luck_of_a_point_kg) {
        Some((spread, luck)) => format!(
            "{lines} Over these {} the mean difference spreads by {} (standard deviation, luck taken off); luck left {} \
             in each point of that design, and is in the intervals.",
            doubt.few.len(),
            weight(spread, units),
            weight(luck, units),
        ),
        None => format!("{lines} Luck hid how doubt is shared among them: ask for more --days."),
    }
}

/// A variance in one sentence.
fn split_words(split: &Split, units: Units) -> String {
    let part = |share: f64| if share <= 0.0 { "none seen".to_owned() } else { percent(share) };
    format!(
        "luck within a day {}, differences between days {}, what is not known {}, the last two together {} (standard \
         deviation of all {})",
        part(split.luck.share),
        part(split.days.share),
        part(split.unknowns.share),
        part(split.days_with_unknowns.share),
        weight(split.variance_kg2.max(0.0).sqrt(), units),
    )
}

/// A value of an unknown with its unit.
pub(super) fn value_words(value: f64, unit: &str, units: Units) -> String {
    if unit == "kg" && value >= 0.02 {
        return weight(value, units);
    }
    let digits = if value == 0.0 { 0.0 } else { 1.0 - value.abs().log10().floor() };
    let scale = 10_f64.powf(digits.clamp(0.0, 12.0));
    let rounded = (value * scale).round() / scale;
    let number = if rounded != 0.0 && rounded.abs() < 1e-3 {
        format!("{rounded:.1e}")
    } else {
        tick_label(rounded)
    };
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// A key without what all keys share.
pub(super) fn name_of(key: &str) -> &str {
    key.strip_prefix("book.").unwrap_or(key)
}
