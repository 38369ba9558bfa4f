//! Which uncertain inputs could flip a verdict, in plain sentences.

use crate::report::format::{
    input_value, interval_ends, one_line, percent, short_input_name, weight, wrapped, wrapped_item,
};
use crate::scenario::Units;
use crate::study::{
    InfluentialInput, ReversalInterval, ScreenedInput, SensitivityReport, StructureDoubt,
    VarianceComponentsKg2, WithoutMechanism, ZeroCrossing,
};

/// A sensitivity analysis in words, on lines of `width` characters at most.
pub fn sensitivity_text(report: &SensitivityReport, units: Units, width: usize) -> String {
    let mut paragraphs = vec![wrapped(&verdict(report, units), width)];
    let reversals = flip_sentences(report, units);
    let reversals: Vec<String> =
        reversals.iter().map(|sentence| wrapped(sentence, width)).collect();
    paragraphs.push(reversals.join("\n"));
    let mut influential: Vec<String> = Vec::new();
    if !report.influential.is_empty() {
        influential.push(wrapped(
            "The unknowns that move the difference most, each with the mean difference at both ends of its likely range \
             (19 values in 20) and its share of the uncertainty they cause:",
            width,
        ));
    }
    influential.extend(report.influential.iter().map(|input| {
        let text = format!("{}: {}", short_input_name(&input.key), influence(report, input, units));
        wrapped_item(&text, width)
    }));
    if !influential.is_empty() {
        paragraphs.push(influential.join("\n"));
    }
    paragraphs.push(wrapped(&noise(report, units), width));
    let structure = structure(report, units);
    let structure = structure.iter().map(|sentence| wrapped(sentence, width));
    paragraphs.push(structure.collect::<Vec<_>>().join("\n"));
    paragraphs.push(variance(report, units, width));
    paragraphs.join("\n\n") + "\n"
}

/// The verdict with all uncertain inputs drawn at random.
fn verdict(report: &SensitivityReport, units: Units) -> String {
    let (a, b) = (one_line(&report.a), one_line(&report.b));
    let difference = report.difference_kg;
    let interval = interval_ends(difference.interval, |kg| weight(kg, units));
    let interval = format!("95\u{a0}% sure: {interval}");
    let by = weight(difference.value, units);
    let inputs = format!("with the unknowns drawn at random on each of {} days", report.days);
    if difference.low95().is_some_and(|low| low > 0.0) {
        return format!("{a} beats {b} by {by} a session ({interval}), {inputs}.");
    }
    format!(
        "Too close to call: on average {a} is {by} a session ahead of {b} ({interval}), {inputs}."
    )
}

/// Which unknowns flip the verdict, which cannot be ruled out, and that no other does.
fn flip_sentences(report: &SensitivityReport, units: Units) -> Vec<String> {
    let reversals = report
        .influential
        .iter()
        .flat_map(|input| input.reversals.iter().map(move |reversal| (input, reversal)));
    let mut sentences: Vec<String> =
        reversals.map(|(input, reversal)| flip_sentence(report, input, reversal, units)).collect();
    let open: Vec<&str> = report
        .influential
        .iter()
        .filter(|input| is_not_ruled_out(report, input))
        .map(|input| short_input_name(&input.key))
        .collect();
    if !open.is_empty() {
        sentences.push(format!(
            "They did not flip it, but {} days are too few to rule them out: {}.",
            report.profile_days,
            open.join(", ")
        ));
    }
    let rest = if sentences.is_empty() {
        format!(
            "None of the {} unknowns examined closely flips the verdict alone within its likely range",
            report.influential.len()
        )
    } else {
        "No other unknown examined closely flips it alone within its likely range".to_owned()
    };
    sentences.push(format!("{rest}{}", screened_clause(report, units)));
    sentences
}

/// When the other plan would win.
fn flip_sentence(
    report: &SensitivityReport,
    input: &InfluentialInput,
    reversal: &ReversalInterval,
    units: Units,
) -> String {
    let (a, b) = (one_line(&report.a), one_line(&report.b));
    let (would, chance) =
        if reversal.is_clear { ("would", "") } else { ("might", "; this is within chance") };
    format!(
        "If {} ({}) were {}, {b} {would} beat {a}{chance}.",
        input.description,
        short_input_name(&input.key),
        flip_range(input, reversal, units),
    )
}

/// What is known of the unknowns that were not examined closely.
fn screened_clause(report: &SensitivityReport, units: Units) -> String {
    let others = report.screened.len().saturating_sub(report.influential.len());
    let difference_kg = report.difference_kg.value.abs();
    match largest_screened(report) {
        Some((kg, input)) if others > 0 && kg < difference_kg => format!(
            ". The other {others} do not reach the difference of {}: the largest, {}, moves it by {} at most, chance \
             included.",
            weight(difference_kg, units),
            short_input_name(&input.key),
            weight(kg, units),
        ),
        Some((kg, input)) if others > 0 => format!(
            ". Of the other {others}, {} may move the difference by up to {}, chance included, which is too much to \
             rule it out: use more --days.",
            short_input_name(&input.key),
            weight(kg, units),
        ),
        _ => ".".to_owned(),
    }
}

/// The input not examined closely that moved the difference most, with its effect plus two standard errors [kg].
fn largest_screened(report: &SensitivityReport) -> Option<(f64, &ScreenedInput)> {
    let is_influential = |input: &ScreenedInput| {
        report.influential.iter().any(|influential_input| influential_input.key == input.key)
    };
    let effect_kg = |input: &ScreenedInput| input.mean_kg.abs() + 2.0 * input.mean_se_kg;
    let others = report.screened.iter().filter(|input| !is_influential(input));
    others.map(|input| (effect_kg(input), input)).max_by(|a, b| a.0.total_cmp(&b.0))
}

/// Whether the mean difference keeps its sign along an input, but its interval does not.
fn is_not_ruled_out(report: &SensitivityReport, input: &InfluentialInput) -> bool {
    let sign = report.difference_kg.value.signum();
    let worst = |low: f64, high: f64| (sign * low).min(sign * high);
    input.reversals.is_empty()
        && input
            .profile
            .iter()
            .any(|point| worst(point.held.joint_low_kg, point.held.joint_high_kg) < 0.0)
}

/// The range of an input in which the other plan wins.
fn flip_range(input: &InfluentialInput, reversal: &ReversalInterval, units: Units) -> String {
    let crossing = |crossing: &ZeroCrossing| {
        let value = |value: f64| input_value(value, &input.unit, units);
        let (low, high) = (value(crossing.low), value(crossing.high));
        if low == high {
            value(crossing.value)
        } else {
            format!("{} (somewhere from {low} to {high})", value(crossing.value))
        }
    };
    match (&reversal.from, &reversal.to) {
        (None, None) => "any likely value".to_owned(),
        (None, Some(below)) => format!("below {}", crossing(below)),
        (Some(above), None) => format!("above {}", crossing(above)),
        (Some(above), Some(below)) => {
            format!("between {} and {}", crossing(above), crossing(below))
        }
    }
}

/// The difference at both ends of an input's likely range, and the input's share of the uncertainty.
fn influence(report: &SensitivityReport, input: &InfluentialInput, units: Units) -> String {
    let ends = input.profile.first().zip(input.profile.last()).map(|(low, high)| {
        let end = |value: f64, kg: f64| {
            let ahead = if kg < 0.0 { &report.b } else { &report.a };
            format!(
                "at {} {} ahead by {}",
                input_value(value, &input.unit, units),
                one_line(ahead),
                weight(kg.abs(), units)
            )
        };
        format!("{}, {}", end(low.value, low.held.mean_kg), end(high.value, high.held.mean_kg))
    });
    let interval = input.total_low95.zip(input.total_high95);
    let share = input.total.zip(interval).map(|(total, (low, high))| {
        let share = |share: f64| percent(share.clamp(0.0, 1.0));
        if low <= 0.0 && high >= 1.0 {
            return "; its share of the uncertainty cannot be separated from chance".to_owned();
        }
        format!(
            "; share of the uncertainty {} (95\u{a0}% sure: {} to {})",
            share(total),
            share(low),
            share(high)
        )
    });
    format!("{}{}", ends.unwrap_or_default(), share.unwrap_or_default())
}

/// Mechanisms without which the verdict turns, alternatives with which it does, and how sure it is if one part of the model
/// may be wrong.
fn structure(report: &SensitivityReport, units: Units) -> Vec<String> {
    let (a, b) = (one_line(&report.a), one_line(&report.b));
    let StructureDoubt { chance_better, chance_better_if_unsure, without, otherwise } =
        &report.structure;
    let by = |without: &WithoutMechanism| weight(without.held.mean_kg.abs(), units);
    let turned = without.iter().filter(|without| without.held.mean_kg < 0.0);
    let mut sentences: Vec<String> = turned
        .map(|without| {
            let would = if without.held.joint_high_kg < 0.0 { "would" } else { "might" };
            let mechanism = &without.mechanism;
            format!("Were it not true that {mechanism}, {b} {would} beat {a}, by {}.", by(without))
        })
        .collect();
    if let (true, Some(closest)) = (sentences.is_empty(), without.first()) {
        sentences.push(format!(
            "{a} stays ahead without any one of the {} mechanisms of the model. Were it not true that {}, its lead would be \
             smallest: {}.",
            without.len(),
            closest.mechanism,
            by(closest),
        ));
    }
    sentences.extend(otherwise.iter().filter(|otherwise| otherwise.held.mean_kg < 0.0).map(
        |otherwise| {
            let would = if otherwise.held.joint_high_kg < 0.0 { "would" } else { "might" };
            let by = weight(otherwise.held.mean_kg.abs(), units);
            format!("If {}, {b} {would} beat {a}, by {by}.", otherwise.alternative)
        },
    ));
    if let Some(closest) = otherwise.first().filter(|closest| closest.held.mean_kg >= 0.0) {
        sentences.push(format!(
            "{a} stays ahead in each of {} models that answer an open question in another way; its lead would be smallest if {}: {}.",
            otherwise.len(),
            closest.alternative,
            weight(closest.held.mean_kg, units),
        ));
    }
    sentences.extend(chance_better.zip(*chance_better_if_unsure).map(|(right, unsure)| {
        format!(
            "If the model is right, you can be {} sure that {a} is better on average; if it is as likely to have one \
             mechanism too many or one of these parts wrong, {}.",
            percent(right),
            percent(unsure),
        )
    }));
    sentences
}

/// How much chance remains in these figures.
fn noise(report: &SensitivityReport, units: Units) -> String {
    let days = format!("Each end is a mean over the same {} days.", report.profile_days);
    match report.input_sd_kg.zip(report.noise_sd_kg) {
        Some((spread, noise)) => format!(
            "{days} Together these {} unknowns move the mean difference by {} (standard deviation, chance removed); \
             chance moves each point of that design by {}, which the ranges include.",
            report.influential.len(),
            weight(spread, units),
            weight(noise, units),
        ),
        None => format!(
            "{days} Chance hides how the uncertainty is shared among them: use more --days."
        ),
    }
}

/// Where the spread from session to session comes from.
fn variance(report: &SensitivityReport, units: Units, width: usize) -> String {
    let (a, b) = (one_line(&report.a), one_line(&report.b));
    let items = [
        (format!("weight of {a}"), &report.variance.a),
        (format!("weight of {b}"), &report.variance.b),
        ("difference on the same day".to_owned(), &report.variance.difference),
    ];
    let items = items.map(|(name, components)| {
        wrapped_item(&format!("{name}: {}", variance_shares(components, units)), width)
    });
    format!("Where the spread from session to session comes from:\n{}", items.join("\n"))
}

/// The shares of a variance in one sentence.
fn variance_shares(components: &VarianceComponentsKg2, units: Units) -> String {
    let part = |share: f64| if share <= 0.0 { "none seen".to_owned() } else { percent(share) };
    format!(
        "chance within a day {}, differences between days {}, unknowns {}, days and unknowns together {} (standard \
         deviation of all {})",
        part(components.noise.share),
        part(components.days.share),
        part(components.uncertain_inputs.share),
        part(components.interaction.share),
        weight(components.variance_kg2.max(0.0).sqrt(), units),
    )
}
