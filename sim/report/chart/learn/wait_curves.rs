//! Waits to a bite: the share still waiting, and the bites to expect, against the time since the cast.

use super::step_plot::{AxisTexts, HEIGHT, MAX_GROUPS, PlotCurve, StepPoint, draw_curves};
use crate::numerics::exp;
use crate::report::chart::layout::LARGE;
use crate::report::draw::picture;
use crate::report::format::{counted, one_line};
use crate::study::{LearnResult, WaitGroup, WaitPoint};

const MINUTE_S: f64 = 60.0;

/// The groups with most casts, or all casts if there is only one group.
fn shown_groups(result: &LearnResult) -> Vec<&WaitGroup> {
    if result.groups.is_empty() {
        return vec![&result.all];
    }
    result.groups.iter().take(MAX_GROUPS).collect()
}

/// What the picture leaves out, for its note.
fn left_out(groups: usize) -> String {
    match groups.saturating_sub(MAX_GROUPS) {
        0 => String::new(),
        count => format!(" Not shown: {} with fewer casts.", counted(count as u64, "group")),
    }
}

/// A group as a curve that ends where too few casts are still waiting.
fn curve(
    (hue, group): (usize, &WaitGroup),
    start: f64,
    height: impl Fn(&WaitPoint) -> (f64, Option<(f64, f64)>),
) -> PlotCurve {
    // The number stays with its noun where the name needs two lines.
    let bites = counted(group.bites, "bite").replace(' ', "\u{a0}");
    let first = StepPoint { x: 0.0, y: start, band: None };
    let point = |point: &WaitPoint| {
        let (y, band) = height(point);
        StepPoint { x: point.wait_s / MINUTE_S, y, band }
    };
    PlotCurve {
        hue,
        name: format!("{} ({bites})", one_line(&group.name)),
        points: std::iter::once(first).chain(group.curve.iter().map(point)).collect(),
        is_stepped: true,
        end_x: group.known_until_s / MINUTE_S,
        thick: None,
        marked_x: None,
    }
}

/// The share of casts still without a bite against the wait (Kaplan–Meier), with 95 % bands, as SVG.
///
/// Each curve ends where fewer than eight casts were still waiting.
pub fn waits_svg(result: &LearnResult) -> String {
    let title = "Still without a bite";
    let note = format!("Bands: 95 % sure.{}", left_out(result.groups.len()));
    let curves: Vec<PlotCurve> = shown_groups(result)
        .into_iter()
        .enumerate()
        .map(|group| {
            curve(group, 100.0, |point| {
                let band = point.low95.zip(point.high95);
                (100.0 * point.share, band.map(|(low, high)| (100.0 * low, 100.0 * high)))
            })
        })
        .collect();
    let texts = AxisTexts { x: "minutes since the cast", y: "% of casts" };
    picture(LARGE.size(HEIGHT), title, &description(result), |canvas| {
        LARGE.head(canvas, title, &[&note])?;
        draw_curves(canvas, &curves, 100.0, &texts)
    })
}

/// Bites to expect of a bait that stays in the water, against time (Nelson–Aalen), with 95 % bands, as SVG.
///
/// A straight line means that a bite is as likely in any minute; a curve that flattens, that bites come early.
pub fn expected_bites_svg(result: &LearnResult) -> String {
    let title = "Bites to expect of a bait";
    let note = format!(
        "Straight: as likely at any time. Bands: 95 % sure.{}",
        left_out(result.groups.len())
    );
    let curves: Vec<PlotCurve> = shown_groups(result)
        .into_iter()
        .enumerate()
        .map(|group| {
            curve(group, 0.0, |point| {
                // On the logarithm, which keeps the band above zero.
                let spread = exp(1.96 * point.expected_bites_se / point.expected_bites);
                (
                    point.expected_bites,
                    Some((point.expected_bites / spread, point.expected_bites * spread)),
                )
            })
        })
        .collect();
    let top = curves
        .iter()
        .flat_map(|curve| {
            let shown = curve.points.iter().filter(|point| point.x <= curve.end_x);
            // The first bites have wide bands; they need not set the scale.
            shown.map(|point| point.band.map_or(point.y, |band| band.1.min(2.0 * point.y)))
        })
        .fold(0.0, f64::max);
    let texts = AxisTexts { x: "minutes since the cast", y: "bites" };
    picture(LARGE.size(HEIGHT), title, &description(result), |canvas| {
        LARGE.head(canvas, title, &[&note])?;
        draw_curves(canvas, &curves, top, &texts)
    })
}

fn description(result: &LearnResult) -> String {
    let group = |group: &WaitGroup| {
        format!(
            "{}: {}, {}",
            one_line(&group.name),
            counted(group.casts, "cast"),
            counted(group.bites, "bite")
        )
    };
    shown_groups(result).into_iter().map(group).collect::<Vec<_>>().join("; ")
}
