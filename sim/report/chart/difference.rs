//! Distribution over days of the difference between two plans.

use plotters::style::text_anchor::HPos;

use super::layout::LARGE;
use crate::report::draw::{
    Canvas, DrawResult, INK, PlotArea, TextStyle, colour, fit, picture, ticks_between,
};
use crate::report::format::{percent, weight, weight_on_axis, weight_unit};
use crate::report::view::{PairView, index_of};
use crate::scenario::Units;
use crate::study::Comparison;

/// Height of the picture [points].
const HEIGHT: f64 = 340.0;
/// Upper and lower edge of the plot area [points].
const PLOT_Y: (f64, f64) = (112.0, 262.0);
/// Number of dashes in the line at the mean.
const DASHES: u32 = 9;

/// Days by the difference of two plans' weights, in the colour of the heavier one, as SVG.
pub(crate) fn difference_chart_svg(
    comparison: &Comparison,
    pair: &PairView<'_>,
    units: Units,
) -> String {
    let (first, second) = (&pair.first.name, &pair.second.name);
    let title = format!("{first} minus {second}, day by day");
    let description = format!(
        "{first} is ahead on {} of days, {second} on {}, level on {}; the mean difference is {}.",
        percent(pair.result.a_ahead_share),
        percent(second_share(pair)),
        percent(pair.result.tie_share),
        weight(pair.mean_kg(), units)
    );
    picture(LARGE.size(HEIGHT), &title, &description, |canvas| {
        draw(canvas, comparison, pair, units)
    })
}

/// Share of days on which the second plan is heavier.
fn second_share(pair: &PairView<'_>) -> f64 {
    (1.0 - pair.result.a_ahead_share - pair.result.tie_share).max(0.0)
}

fn draw(
    canvas: &Canvas<'_>,
    comparison: &Comparison,
    pair: &PairView<'_>,
    units: Units,
) -> DrawResult {
    let (left, right) = (LARGE.margin, LARGE.right());
    let axis = |kg: f64| weight_on_axis(kg, units);
    let bins: Vec<_> = pair.result.histogram.steps_kg().collect();
    let ends = bins.first().zip(bins.last());
    let (low, high) = ends.map_or((-1.0, 1.0), |(((from, _), _), ((_, to), _))| (*from, *to));
    let (low, high) = (low.min(0.0), high.max(0.0));
    let highest = bins.iter().map(|(_, days)| *days).max().unwrap_or(0).max(1);
    let area = PlotArea::new((left, right), PLOT_Y, axis(low)..axis(high), 0.0..f64::from(highest));
    let hues = [pair.second, pair.first].map(|plan| colour(index_of(comparison, plan)));

    let half = 0.5 * LARGE.room() - 8.0;
    let heads = [
        (&pair.second.name, second_share(pair), left, HPos::Left),
        (&pair.first.name, pair.result.a_ahead_share, right, HPos::Right),
    ];
    for ((name, share, x, anchor), hue) in heads.into_iter().zip(hues) {
        let name_style = LARGE.tick_style().bold().anchored(anchor);
        canvas.text(&fit(name, LARGE.tick, true, half), (x, 26.0), name_style)?;
        let ahead = format!("ahead on {} of days", percent(share));
        canvas.text(&ahead, (x, 52.0), LARGE.note_style().anchored(anchor))?;
        let to = if x < half { x + 0.5 * half } else { x - 0.5 * half };
        canvas.line(&[(x, 70.0), (to, 70.0)], hue, 5.0)?;
    }
    for ((from, to), days) in &bins {
        let (from_x, top) = area.position(axis(*from), f64::from(*days));
        let (to_x, bottom) = area.position(axis(*to), 0.0);
        let (from_x, to_x) = (from_x + 0.75, to_x - 0.75);
        let hue = hues[usize::from(*from >= 0.0)];
        canvas.rectangle((from_x, to_x), (top, bottom), hue, 1.0)?;
    }
    let (zero_x, zero_y) = area.position(0.0, 0.0);
    canvas.line(&[(left, zero_y), (right, zero_y)], INK, 1.5)?;
    // It ends below the caption of the mean, which may stand above it.
    canvas.line(&[(zero_x, PLOT_Y.0 - 2.0), (zero_x, zero_y)], INK, 1.5)?;
    draw_mean(canvas, area.position(axis(pair.mean_kg()), 0.0), pair.mean_kg(), units)?;
    for tick in ticks_between(axis(low), axis(high)) {
        LARGE.tick_below(canvas, area.position(tick, 0.0), tick)?;
    }
    let caption = format!("difference in weight [{}]", weight_unit(units));
    let style = LARGE.tick_style().anchored(HPos::Center);
    canvas.text(&caption, (0.5 * (left + right), zero_y + 52.0), style)
}

/// Draws the mean as a dashed line, which differs from the line at zero also without colour.
fn draw_mean(canvas: &Canvas<'_>, (x, bottom): (f64, f64), kg: f64, units: Units) -> DrawResult {
    let top = PLOT_Y.0 - 12.0;
    for dash in 0..DASHES {
        let y = top + f64::from(dash) * (bottom - top) / f64::from(DASHES);
        canvas.line(&[(x, y), (x, y + 9.0)], INK, 2.25)?;
    }
    let caption = format!("mean {}", weight(kg, units));
    let (text_x, anchor) =
        if x > 0.6 * LARGE.right() { (x - 8.0, HPos::Right) } else { (x + 8.0, HPos::Left) };
    let style = TextStyle::plain(LARGE.note, INK).anchored(anchor);
    canvas.text(&caption, (text_x, PLOT_Y.0 - 14.0), style)
}
