//! Bites per hour of fishing against the recast interval.

use super::step_plot::{
    ALL_CASTS, AxisTexts, HEIGHT, MAX_GROUPS, PlotCurve, StepPoint, draw_curves,
};
use crate::report::chart::layout::LARGE;
use crate::report::draw::picture;
use crate::report::format::{duration, one_line};
use crate::study::{LearnResult, RecastAdvice, RecastOutcome};

const MINUTE_S: f64 = 60.0;

/// Bites per hour of fishing against the recast interval, with the best interval and those nearly as good, as SVG.
///
/// `None` if the log does not say when to recast.
pub fn recast_rate_svg(result: &LearnResult) -> Option<String> {
    // All casts come first, then the groups in the order of the other pictures.
    let drawn = || {
        let shown = result.recast.iter().enumerate().take(1 + MAX_GROUPS);
        shown.filter(|(_, advice)| !advice.curve.is_empty())
    };
    let has_groups = !result.groups.is_empty();
    let hue = |place: usize| place.checked_sub(1).unwrap_or(if has_groups { ALL_CASTS } else { 0 });
    let curves: Vec<PlotCurve> = drawn().map(|(place, advice)| curve(hue(place), advice)).collect();
    if curves.is_empty() {
        return None;
    }
    let title = "Bites an hour by recast interval";
    let notes = ["Mark: most bites. Thick: within 2 % of it."];
    let points = curves.iter().flat_map(|curve| &curve.points);
    let top = points.map(|point| point.y).fold(0.0, f64::max);
    let description: Vec<String> = drawn().map(|(_, advice)| best(advice)).collect();
    let texts =
        AxisTexts { x: "minutes until a recast without a bite", y: "bites an hour of fishing" };
    Some(picture(LARGE.size(HEIGHT), title, &description.join("; "), |canvas| {
        LARGE.head(canvas, title, &notes)?;
        draw_curves(canvas, &curves, top, &texts)
    }))
}

fn curve(hue: usize, advice: &RecastAdvice) -> PlotCurve {
    let first = StepPoint { x: 0.0, y: 0.0, band: None };
    let points = advice.curve.iter().map(|point| StepPoint {
        x: point.recast_s / MINUTE_S,
        y: point.bites_per_hour,
        band: None,
    });
    let near = advice.near_best_from_s.zip(advice.near_best_to_s);
    PlotCurve {
        hue,
        name: one_line(&advice.name),
        points: std::iter::once(first).chain(points).collect(),
        is_stepped: false,
        end_x: advice.known_until_s / MINUTE_S,
        thick: near.map(|(from_s, to_s)| (from_s / MINUTE_S, to_s / MINUTE_S)),
        marked_x: advice.best_s.map(|best_s| best_s / MINUTE_S),
    }
}

fn best(advice: &RecastAdvice) -> String {
    let name = one_line(&advice.name);
    match (advice.outcome, advice.best_s) {
        (RecastOutcome::WaitOut, _) => {
            format!("{name}: no gain in recasting before {}", duration(advice.known_until_s))
        }
        (_, Some(best_s)) => format!("{name}: most bites at {}", duration(best_s)),
        (_, None) => name,
    }
}
