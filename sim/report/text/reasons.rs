//! Why one plan outweighs another, from measured numbers alone.
//!
//! The study splits the difference of two weights into factors that add up to it: time with a bait in the water, bites
//! an hour of that time, share of bites landed, weight of a fish. Here each factor is put into words with the figures of
//! both plans. For the largest one, observations from the swim, the clock or the net that go with it are added; nothing
//! more is claimed.

use crate::numerics::ln;
use crate::report::format::{
    duration, fine_percent, is_shown_as_zero, number, one_line, percent, weight,
};
use crate::report::view::{PairView, by_weight};
use crate::scenario::Units;
use crate::session::Activity;
use crate::study::{ByShoal, Comparison, Factor, FactorContribution, PlanResult, SwimSummary};

/// An observation is mentioned only if the logarithm of the ratio of its figures is at least this.
const MIN_OBSERVATION_LN: f64 = 0.1;
/// Shares of the session or of the catch are mentioned only if they differ by at least this.
const MIN_SHARE_DIFFERENCE: f64 = 0.02;
/// A factor is mentioned only if the logarithm of its ratio is at least this, however many days: two per cent.
const MIN_FACTOR_LN: f64 = 0.02;

/// Why the best plan outweighs the nearest plan that is clearly behind it, with an observation that goes with the largest
/// factor; and why it outweighs the plan that differs from it most in one factor.
///
/// At most three strings.
pub fn reasons(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let behind: Vec<_> = others
        .iter()
        .filter_map(|other| PairView::new(comparison, best, other))
        .filter(PairView::is_clearly_ahead)
        .collect();
    let Some((nearest, further)) = behind.split_first() else {
        return match others {
            [] => Vec::new(),
            _ => vec![
                "No plan is clearly behind the best, so there is no difference to give reasons for."
                    .to_owned(),
            ],
        };
    };
    let days = comparison.days;
    let largest_ln = |pair: &PairView<'_>| {
        let factors = significant_factors(pair, days);
        factors.iter().map(|factor| ln_ratio(factor).abs()).fold(0.0, f64::max)
    };
    let most_different = further
        .iter()
        .map(|pair| (pair, largest_ln(pair)))
        .reduce(|most, next| if next.1 > most.1 { next } else { most });
    let mut sentences = reason(nearest, days, units);
    sentences.extend(most_different.map(|(pair, _)| factor_sentence(pair, days, units)));
    sentences
}

/// Why the first plan of a pair outweighs the second: the factors, and an observation that goes with the largest.
pub(crate) fn reason(pair: &PairView<'_>, days: u32, units: Units) -> Vec<String> {
    let mut sentences = vec![factor_sentence(pair, days, units)];
    let largest = significant_factors(pair, days).into_iter().next();
    sentences.extend(largest.and_then(|factor| observation(pair, &factor, units)));
    sentences
}

/// The factors that chance does not explain, the largest first.
fn significant_factors(pair: &PairView<'_>, days: u32) -> Vec<FactorContribution> {
    let mut factors = pair.result.factors.clone();
    factors.retain(|factor| ln_ratio(factor).abs() > noise_ln(pair, factor, days));
    factors.sort_by(|a, b| b.contribution_kg.abs().total_cmp(&a.contribution_kg.abs()));
    factors
}

/// Logarithm of the ratio of a factor's two values; zero if they cannot be compared.
fn ln_ratio(factor: &FactorContribution) -> f64 {
    match factor.a.zip(factor.b) {
        Some((x, y)) if x > 0.0 || y > 0.0 => ln(x / y),
        _ => 0.0,
    }
}

/// The logarithm that chance alone may make.
fn noise_ln(pair: &PairView<'_>, factor: &FactorContribution, days: u32) -> f64 {
    // Means over days of counts vary at least about as counts do: with n in all, the logarithm by 1/√n. Twice that for
    // the difference of the two is taken as what chance can do. The mass of a fish varies by less than its mean, so the
    // same bound serves; a share landed, p, varies by √((1 − p)/(p n)).
    let total = |plan: &PlanResult| (plan.bites.mean * f64::from(days)).max(1.0);
    let counts = 2.0 * (1.0 / total(pair.first) + 1.0 / total(pair.second)).sqrt();
    let noise = match (factor.factor, factor.a.zip(factor.b)) {
        (Factor::HoursInWater, _) => 0.0,
        (Factor::LandedShare, Some((p, q))) => {
            let p = p.min(q).max(0.01);
            counts * ((1.0 - p) / p).max(0.0).sqrt()
        }
        _ => counts,
    };
    noise.max(MIN_FACTOR_LN)
}

/// The difference and its factors in one sentence; the weights in it add up to the whole.
fn factor_sentence(pair: &PairView<'_>, days: u32, units: Units) -> String {
    let (first, second) = (one_line(&pair.first.name), one_line(&pair.second.name));
    let factors = significant_factors(pair, days);
    if factors.is_empty() {
        return format!(
            "{first} and {second} differ in weight, but no one part of the difference stands out from chance."
        );
    }
    let whole = weight(pair.mean_kg(), units);
    let mut clauses: Vec<_> = factors.iter().map(|factor| factor_clause(factor, units)).collect();
    let rest_kg = pair.mean_kg() - factors.iter().map(|factor| factor.contribution_kg).sum::<f64>();
    if !is_shown_as_zero(rest_kg, units) {
        let favour = if rest_kg < 0.0 { ", in the other plan's favour," } else { "" };
        let rest = weight(rest_kg.abs(), units);
        clauses.push(format!("the remaining {rest}{favour} is within chance"));
    }
    format!("Of the {whole} by which {first} outweighs {second}, {}.", clauses.join("; "))
}

/// What one factor added or cost, with the figures of both plans.
fn factor_clause(factor: &FactorContribution, units: Units) -> String {
    let is_more = factor.contribution_kg >= 0.0;
    let (more, less, figure): (_, _, &dyn Fn(f64) -> String) = match factor.factor {
        Factor::HoursInWater => {
            ("more time with a bait in the water", "less time with a bait in the water", &|hours| {
                duration(3600.0 * hours)
            })
        }
        Factor::BitesPerHour => ("more bites", "fewer bites", &number),
        Factor::LandedShare => ("fewer bites lost", "more bites lost", &fine_percent),
        Factor::FishKg => ("bigger fish", "smaller fish", &|kg| weight(kg, units)),
    };
    let unit = match factor.factor {
        Factor::BitesPerHour => " for each hour its bait was in the water",
        Factor::LandedShare => " landed",
        Factor::HoursInWater | Factor::FishKg => "",
    };
    let figure = |value: Option<f64>| value.map_or_else(|| "none".to_owned(), figure);
    let did = if is_more { "added" } else { "cost" };
    format!(
        "{} {did} {} ({}{unit} against {})",
        if is_more { more } else { less },
        weight(factor.contribution_kg.abs(), units),
        figure(factor.a),
        figure(factor.b)
    )
}

/// What was observed that goes with a factor; `None` if nothing stands out.
fn observation(pair: &PairView<'_>, factor: &FactorContribution, units: Units) -> Option<String> {
    let (first, second) = (pair.first, pair.second);
    let sign = factor.contribution_kg.signum();
    match factor.factor {
        Factor::BitesPerHour => swim_observation(first, second, sign),
        Factor::HoursInWater => time_observation(first, second, sign),
        Factor::LandedShare => lost_observation(first, second, sign),
        Factor::FishKg => shoal_observation(first, second, sign, units),
    }
}

/// An observation: a clause with the first plan's figure, the second plan's figure, and how strongly it explains the
/// factor (negative if it points the other way).
struct Observation {
    clause: String,
    second: String,
    strength: f64,
}

/// Observations in the swim: up to two that explain the factor, and one against it if it is about as strong.
fn swim_observation(first: &PlanResult, second: &PlanResult, sign: f64) -> Option<String> {
    let mut all = swim_observations(&first.swim, &second.swim, sign);
    all.sort_by(|a, b| b.strength.total_cmp(&a.strength));
    let supporting: Vec<_> =
        all.iter().filter(|seen| seen.strength >= MIN_OBSERVATION_LN).take(2).collect();
    let strongest = supporting.first().map_or(MIN_OBSERVATION_LN, |seen| seen.strength);
    let against = all.last().filter(|seen| {
        !supporting.is_empty()
            && seen.strength <= -MIN_OBSERVATION_LN
            && -seen.strength >= 0.5 * strongest
    });
    let start = format!("While the bait of {} was in the water, ", one_line(&first.name));
    observation_sentence(&start, &supporting, against, second)
}

/// The five figures of the swim that may explain a difference in bites.
fn swim_observations(first: &SwimSummary, second: &SwimSummary, sign: f64) -> [Observation; 5] {
    let observation =
        |x: f64, y: f64, shown: fn(f64) -> String, clause: &dyn Fn(String) -> String| Observation {
            clause: clause(shown(x)),
            second: shown(y),
            strength: if x > 0.0 || y > 0.0 { sign * ln(x / y) } else { 0.0 },
        };
    let scared = observation(first.scared, second.scared, number, &|x| {
        format!("{x} fish a session took fright")
    });
    let share_of_mouthfuls = observation(
        first.hookbait_share_of_mouthfuls,
        second.hookbait_share_of_mouthfuls,
        fine_percent,
        &|x| format!("the hookbait was {x} of the mouthfuls around it"),
    );
    [
        observation(first.fish_on_line, second.fish_on_line, number, &|x| {
            format!("{x} fish at a time fed on its line")
        }),
        // Where nothing lies around the hookbait, loose feed elsewhere on the line draws fish all the same.
        Observation {
            strength: if first.hookbait_share_of_mouthfuls.max(second.hookbait_share_of_mouthfuls)
                < 1.0
            {
                share_of_mouthfuls.strength
            } else {
                0.0
            },
            ..share_of_mouthfuls
        },
        observation(first.taken_share, second.taken_share, fine_percent, &|x| {
            format!("fish that met the hookbait took it {x} of the time")
        }),
        observation(
            first.hookbait_available_share,
            second.hookbait_available_share,
            fine_percent,
            &|x| format!("the hookbait could be taken {x} of that time"),
        ),
        // Fright costs bites; a tenth of a fish more or less counts as none.
        Observation {
            strength: -sign * ln(first.scared.max(0.1) / second.scared.max(0.1)),
            ..scared
        },
    ]
}

/// What the first plan spent less of its time on.
fn time_observation(first: &PlanResult, second: &PlanResult, sign: f64) -> Option<String> {
    let observation = |words: &str, activity: Activity| {
        let (x, y) = (first.time_share[activity], second.time_share[activity]);
        Observation {
            clause: format!("{words} took {}", percent(x)),
            second: percent(y),
            strength: sign * (y - x),
        }
    };
    let mut all = [
        observation("casting", Activity::Casting),
        observation("playing fish", Activity::Playing),
        observation("rebaiting", Activity::Rebaiting),
        observation("loose feeding", Activity::Feeding),
        observation("snags and idle time", Activity::Other),
    ];
    all.sort_by(|a, b| b.strength.total_cmp(&a.strength));
    let supporting: Vec<_> =
        all.iter().filter(|seen| seen.strength >= MIN_SHARE_DIFFERENCE).take(2).collect();
    let start = format!("Of the session of {}, ", one_line(&first.name));
    observation_sentence(&start, &supporting, None, second)
}

/// A sentence on hooked fish that were lost, as shares of bites; `None` if it does not support the difference.
fn lost_observation(first: &PlanResult, second: &PlanResult, sign: f64) -> Option<String> {
    let lost_share = |plan: &PlanResult| plan.lost.mean / plan.bites.mean;
    let (x, y) = (lost_share(first), lost_share(second));
    let name = one_line(&first.name);
    let observation = Observation {
        clause: format!("{name} lost a hooked fish at {} of its bites", percent(x)),
        second: percent(y),
        strength: sign * (y - x),
    };
    let supporting: Vec<_> =
        Some(&observation).filter(|seen| seen.strength > 0.0).into_iter().collect();
    observation_sentence("", &supporting, None, second)
}

/// The shoal of larger fish (or, if the first plan's fish are smaller, of smaller fish) that it caught more from.
fn shoal_observation(
    first: &PlanResult,
    second: &PlanResult,
    sign: f64,
    units: Units,
) -> Option<String> {
    let share = |plan: &PlanResult, shoal: &ByShoal| {
        let caught = plan.by_shoal.iter().find(|caught| caught.shoal == shoal.shoal);
        caught.map_or(0.0, |caught| caught.fish_mean / plan.fish.mean)
    };
    let fish_kg = |shoal: &ByShoal| shoal.weight_kg_mean / shoal.fish_mean;
    let all: Vec<_> = first
        .by_shoal
        .iter()
        .filter(|shoal| sign * (fish_kg(shoal) - second.swim.fish_kg) > 0.0)
        .map(|shoal| {
            let (x, y) = (share(first, shoal), share(second, shoal));
            let (name, fish) = (one_line(&shoal.shoal), weight(fish_kg(shoal), units));
            Observation {
                clause: format!("{} of its fish, {fish} each, came from {name}", percent(x)),
                second: percent(y),
                strength: x - y,
            }
        })
        .filter(|seen| seen.strength >= MIN_SHARE_DIFFERENCE)
        .collect();
    let strongest = all.iter().max_by(|a, b| a.strength.total_cmp(&b.strength));
    let start = format!("With {}, ", one_line(&first.name));
    observation_sentence(&start, &Vec::from_iter(strongest), None, second)
}

/// Observations as a sentence, with the second plan's figures in brackets; `None` without any.
fn observation_sentence(
    start: &str,
    supporting: &[&Observation],
    against: Option<&Observation>,
    second: &PlanResult,
) -> Option<String> {
    let (strongest, others) = supporting.split_first()?;
    let name = one_line(&second.name);
    let mut sentence = format!("{start}{} ({} with {name})", strongest.clause, strongest.second);
    for seen in others {
        sentence += &format!(", and {} ({})", seen.clause, seen.second);
    }
    if let Some(seen) = against {
        sentence += &format!("; but {} ({})", seen.clause, seen.second);
    }
    Some(sentence + ".")
}
