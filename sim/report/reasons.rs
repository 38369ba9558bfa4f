//! Why one plan outweighs another, from measured numbers alone.
//!
//! The study splits the difference of two weights into parts that add up to it: time with a bait in the water,
//! bites an hour of that, bites landed, weight of a fish. Here each part is said aloud with the figures of
//! both plans, and beside the largest of them what was seen in the swim, on the clock or in the net that goes
//! with it; no more is claimed.

use super::measures::{duration, fine_percent, number, percent, weight};
use super::ranking::{Facing, by_weight};
use super::table::shown_name;
use crate::scenario::Units;
use crate::study::{ByShoal, Comparison, Part, PartOf, PlanResult};

/// Figures seen beside a part must differ by this much to be named.
const BESIDE_LN: f64 = 0.1;
/// Shares of the session or of the catch must differ by this much to be named.
const SHARE: f64 = 0.02;
/// The least logarithm of a ratio worth naming, whatever the number of days: two per cent.
const LEAST_LN: f64 = 0.02;

/// Why the best plan outweighs the nearest plan that is clearly behind it, with what was seen that goes with
/// the largest part; and why it outweighs that other one which differs from it most in one part.
///
/// At most three strings.
#[must_use]
pub fn reasons(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let behind: Vec<_> = others
        .iter()
        .filter_map(|other| Facing::of(comparison, best, other))
        .filter(Facing::clearly_ahead)
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
    let unlike = |facing: &Facing<'_>| {
        telling(facing, days).iter().map(|part| ln_ratio(part).abs()).fold(0.0, f64::max)
    };
    let most_unlike = further
        .iter()
        .map(|facing| (facing, unlike(facing)))
        .reduce(|most, next| if next.1 > most.1 { next } else { most });
    let mut says = reason(nearest, days, units);
    says.extend(most_unlike.map(|(facing, _)| in_parts(facing, days, units)));
    says
}

/// Why the one outweighs the other: the difference in its parts, and what was seen beside the largest.
pub(super) fn reason(facing: &Facing<'_>, days: u32, units: Units) -> Vec<String> {
    let mut says = vec![in_parts(facing, days, units)];
    let largest = telling(facing, days).into_iter().next();
    says.extend(largest.and_then(|part| beside(facing, &part, units)));
    says
}

/// The parts that are no chance, the largest first.
fn telling(facing: &Facing<'_>, days: u32) -> Vec<Part> {
    let mut parts = facing.parts();
    parts.retain(|part| ln_ratio(part).abs() > noise_ln(facing, part, days));
    parts.sort_by(|a, b| b.kg.abs().total_cmp(&a.kg.abs()));
    parts
}

/// Logarithm of the ratio of a part's two values; nought where they cannot be compared.
fn ln_ratio(part: &Part) -> f64 {
    match part.a.zip(part.b) {
        Some((x, y)) if x > 0.0 || y > 0.0 => (x / y).ln(),
        _ => 0.0,
    }
}

/// A smaller logarithm may be chance.
fn noise_ln(facing: &Facing<'_>, part: &Part, days: u32) -> f64 {
    // Means over days of counts vary at least about as counts do: with n in all, a logarithm by 1/√n. Twice
    // that for the difference of the two is taken as what chance can do. The mass of a fish varies by less
    // than its mean, so the same bound serves; a share landed, p, by √((1 − p)/(p n)).
    let total = |plan: &PlanResult| (plan.bites.mean * f64::from(days)).max(1.0);
    let counts = 2.0 * (1.0 / total(facing.one) + 1.0 / total(facing.other)).sqrt();
    let noise = match (part.of, part.a.zip(part.b)) {
        (PartOf::HoursInWater, _) => 0.0,
        (PartOf::LandedShare, Some((p, q))) => {
            let p = p.min(q).max(0.01);
            counts * ((1.0 - p) / p).max(0.0).sqrt()
        }
        _ => counts,
    };
    noise.max(LEAST_LN)
}

/// The difference in its parts, in one sentence; what is said adds up to the whole.
fn in_parts(facing: &Facing<'_>, days: u32, units: Units) -> String {
    let (one, other) = (shown_name(&facing.one.name), shown_name(&facing.other.name));
    let telling = telling(facing, days);
    if telling.is_empty() {
        return format!(
            "{one} and {other} differ in weight, but no one part of the difference stands out from chance."
        );
    }
    let whole = weight(facing.mean_kg, units);
    let mut said: Vec<_> = telling.iter().map(|part| stated(part, units)).collect();
    let rest_kg = facing.mean_kg - telling.iter().map(|part| part.kg).sum::<f64>();
    match weight(rest_kg, units) {
        none if none.starts_with("0 ") => {}
        rest => {
            let way = if rest_kg < 0.0 { " the other way" } else { "" };
            let rest = rest.trim_start_matches('−');
            said.push(format!("the rest, {rest}{way}, is no more than chance could make"));
        }
    }
    format!("Of the {whole} by which {one} outweighs {other}, {}.", said.join("; "))
}

/// What one part made or cost, with the figures of both plans.
fn stated(part: &Part, units: Units) -> String {
    let is_more = part.kg >= 0.0;
    let (more, less, figure): (_, _, &dyn Fn(f64) -> String) = match part.of {
        PartOf::HoursInWater => {
            ("more time with a bait in the water", "less time with a bait in the water", &|hours| {
                duration(3600.0 * hours)
            })
        }
        PartOf::BitesPerHour => ("more bites", "fewer bites", &number),
        PartOf::LandedShare => ("fewer bites lost", "more bites lost", &fine_percent),
        PartOf::FishKg => ("bigger fish", "smaller fish", &|kg| weight(kg, units)),
    };
    let of = match part.of {
        PartOf::BitesPerHour => " for each hour its bait was in the water",
        PartOf::LandedShare => " landed",
        PartOf::HoursInWater | PartOf::FishKg => "",
    };
    let figure = |value: Option<f64>| value.map_or_else(|| "none".to_owned(), figure);
    let did = if is_more { "made" } else { "cost" };
    format!(
        "{} {did} {} ({}{of} against {})",
        if is_more { more } else { less },
        weight(part.kg.abs(), units),
        figure(part.a),
        figure(part.b)
    )
}

/// What was seen that goes with a part.
fn beside(facing: &Facing<'_>, part: &Part, units: Units) -> Option<String> {
    let (one, other) = (facing.one, facing.other);
    let way = part.kg.signum();
    match part.of {
        PartOf::BitesPerHour => swim_beside(one, other, way),
        PartOf::HoursInWater => time_beside(one, other, way),
        PartOf::LandedShare => lost_beside(one, other, way),
        PartOf::FishKg => shoals_beside(one, other, way, units),
    }
}

/// A figure of both plans: a clause with that of the one, that of the other, and how far it speaks for the one.
struct Seen {
    clause: String,
    other: String,
    speaks: f64,
}

/// What was seen in the swim: up to two figures that point the way of the part, and one that points the other
/// way if it differs about as much.
fn swim_beside(one: &PlanResult, other: &PlanResult, way: f64) -> Option<String> {
    let (s, t) = (&one.swim, &other.swim);
    let seen = |x: f64, y: f64, shown: fn(f64) -> String, clause: &dyn Fn(String) -> String| Seen {
        clause: clause(shown(x)),
        other: shown(y),
        speaks: if x > 0.0 || y > 0.0 { way * (x / y).ln() } else { 0.0 },
    };
    let scared = seen(s.scared, t.scared, number, &|x| format!("{x} fish a session took fright"));
    let mut all = [
        seen(s.fish_on_line, t.fish_on_line, number, &|x| {
            format!("{x} fish at a time fed on its line")
        }),
        seen(s.hookbait_share_of_mouthfuls, t.hookbait_share_of_mouthfuls, fine_percent, &|x| {
            format!("the hookbait was {x} of the mouthfuls round it")
        }),
        seen(s.taken_share, t.taken_share, fine_percent, &|x| {
            format!("fish that met the hookbait took it {x} of the time")
        }),
        seen(s.hookbait_there_share, t.hookbait_there_share, fine_percent, &|x| {
            format!("a hookbait was there to be taken {x} of that time")
        }),
        // Fright speaks against bites; a tenth of a fish more or less is none.
        Seen { speaks: -way * (s.scared.max(0.1) / t.scared.max(0.1)).ln(), ..scared },
    ];
    all.sort_by(|a, b| b.speaks.total_cmp(&a.speaks));
    let with: Vec<_> = all.iter().filter(|seen| seen.speaks >= BESIDE_LN).take(2).collect();
    let strongest = with.first().map_or(BESIDE_LN, |seen| seen.speaks);
    let against = all.last().filter(|seen| {
        !with.is_empty() && seen.speaks <= -BESIDE_LN && -seen.speaks >= 0.5 * strongest
    });
    let start = format!("While the bait of {} was in the water, ", shown_name(&one.name));
    spoken(&start, &with, against, other)
}

/// Where the time went that the other plan did not spend so.
fn time_beside(one: &PlanResult, other: &PlanResult, way: f64) -> Option<String> {
    let (s, t) = (&one.time_share, &other.time_share);
    let seen = |what: &str, x: f64, y: f64| Seen {
        clause: format!("{what} took {}", percent(x)),
        other: percent(y),
        speaks: way * (y - x),
    };
    let mut all = [
        seen("casting", s.casting, t.casting),
        seen("playing fish", s.playing, t.playing),
        seen("rebaiting", s.rebaiting, t.rebaiting),
        seen("loose feeding", s.feeding, t.feeding),
        seen("snags and idle time", s.other, t.other),
    ];
    all.sort_by(|a, b| b.speaks.total_cmp(&a.speaks));
    let with: Vec<_> = all.iter().filter(|seen| seen.speaks >= SHARE).take(2).collect();
    let start = format!("Of the session of {}, ", shown_name(&one.name));
    spoken(&start, &with, None, other)
}

/// Fish hooked and lost.
fn lost_beside(one: &PlanResult, other: &PlanResult, way: f64) -> Option<String> {
    let (x, y) = (one.lost.mean / one.bites.mean, other.lost.mean / other.bites.mean);
    let seen = Seen {
        clause: format!(
            "{} lost a hooked fish at {} of its bites",
            shown_name(&one.name),
            percent(x)
        ),
        other: percent(y),
        speaks: way * (y - x),
    };
    spoken(
        "",
        &[&seen].into_iter().filter(|seen| seen.speaks > 0.0).collect::<Vec<_>>(),
        None,
        other,
    )
}

/// From which shoal more of its fish came: one of larger fish for a plan whose fish are bigger, of smaller fish
/// for one whose are smaller.
fn shoals_beside(one: &PlanResult, other: &PlanResult, way: f64, units: Units) -> Option<String> {
    let share = |plan: &PlanResult, shoal: &ByShoal| {
        let of = plan.by_shoal.iter().find(|other| other.shoal == shoal.shoal);
        of.map_or(0.0, |of| of.fish_mean / plan.fish.mean)
    };
    let fish_kg = |shoal: &ByShoal| shoal.weight_kg_mean / shoal.fish_mean;
    let all: Vec<_> = one
        .by_shoal
        .iter()
        .filter(|shoal| way * (fish_kg(shoal) - other.swim.fish_kg) > 0.0)
        .map(|shoal| {
            let (x, y) = (share(one, shoal), share(other, shoal));
            let (name, each) = (shown_name(&shoal.shoal), weight(fish_kg(shoal), units));
            Seen {
                clause: format!("{} of its fish, {each} each, came from {name}", percent(x)),
                other: percent(y),
                speaks: x - y,
            }
        })
        .filter(|seen| seen.speaks >= SHARE)
        .collect();
    let most = all.iter().max_by(|a, b| a.speaks.total_cmp(&b.speaks));
    let start = format!("With {}, ", shown_name(&one.name));
    spoken(&start, &Vec::from_iter(most), None, other)
}

/// Clauses with the other plan's figures in brackets, as a sentence; none without clauses.
fn spoken(
    start: &str,
    with: &[&Seen],
    against: Option<&Seen>,
    other: &PlanResult,
) -> Option<String> {
    let mut says = start.to_owned();
    for (at, seen) in with.iter().enumerate() {
        let joint = if at > 0 { ", and " } else { "" };
        let whose =
            if at > 0 { String::new() } else { format!(" with {}", shown_name(&other.name)) };
        says += &format!("{joint}{} ({}{whose})", seen.clause, seen.other);
    }
    if let Some(seen) = against {
        says += &format!("; but {} ({})", seen.clause, seen.other);
    }
    (!with.is_empty()).then(|| format!("{says}."))
}
