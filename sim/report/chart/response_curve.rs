//! Weight along the values of one key.

use plotters::style::text_anchor::HPos;

use super::layout::{FreeSpans, LABEL_GAP, NARROW};
use crate::numerics::ln;
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, PlotArea, Position, colour, fit, log_ticks, outline, picture,
    text_width, ticks, ticks_between,
};
use crate::report::format::{trimmed_number, weight, weight_on_axis, weight_unit};
use crate::report::view::{NEAR_BEST, ResponseCurve, ResponsePoint};
use crate::scenario::Units;

/// Height of the picture [points].
const HEIGHT: f64 = 420.0;
/// Upper and lower edge of the plot area [points].
const PLOT_Y: (f64, f64) = (128.0, 354.0);
/// Values up to this length are written along the axis as they are [characters].
const MAX_VALUE_LENGTH: usize = 4;
/// Colour and mark of the points, and of the best of them.
const HUE: usize = 0;
const BEST: usize = 1;
/// Times from here on are shown in minutes [s].
const LONG_S: f64 = 120.0;

/// A curve on its axes.
struct ResponsePlot<'a> {
    /// Points, in order of value.
    points: Vec<&'a ResponsePoint>,
    /// Whether the axis is logarithmic.
    is_logarithmic: bool,
    area: PlotArea,
    /// Left and right edge of the plot area.
    edges: (f64, f64),
    weight_ticks: Vec<f64>,
    units: Units,
}

impl<'a> ResponsePlot<'a> {
    fn new(curve: &'a ResponseCurve, units: Units) -> Self {
        let points = curve.sorted();
        let top_kg =
            points.iter().map(|point| point.p90_kg.max(point.top_of_mean_kg())).fold(0.0, f64::max);
        let weight_ticks = ticks(weight_on_axis(top_kg, units));
        let top = weight_ticks.last().copied().unwrap_or(1.0);
        let edges =
            (NARROW.margin + NARROW.widest_tick(&weight_ticks) + LABEL_GAP, NARROW.right() - 12.0);
        let is_logarithmic = curve.is_logarithmic && points.iter().all(|point| point.value > 0.0);
        let ends = points.first().zip(points.last());
        let (first, last) = ends.map_or((0.0, 1.0), |(first, last)| {
            (along(is_logarithmic, first.value), along(is_logarithmic, last.value))
        });
        let pad = if last > first { 0.05 * (last - first) } else { 0.5 };
        let area = PlotArea::new(edges, PLOT_Y, first - pad..last + pad, 0.0..top);
        Self { points, is_logarithmic, area, edges, weight_ticks, units }
    }

    /// The position of a weight at a value.
    fn position(&self, value: f64, kg: f64) -> Position {
        self.area.position(along(self.is_logarithmic, value), weight_on_axis(kg, self.units))
    }
}

/// A value on the axis, or its logarithm.
fn along(is_logarithmic: bool, value: f64) -> f64 {
    if is_logarithmic { ln(value) } else { value }
}

/// Mean weight along the values of one key, as SVG.
///
/// With 95 % whiskers of the means and the band in which eight days in ten lie. The best mean is named, and the values
/// within two per cent of it are shaded.
pub fn response_curve_svg(curve: &ResponseCurve, units: Units) -> String {
    let title = format!("{}: expected weight by {}", curve.plan, curve.axis);
    let best = curve.best().map(|best| (best, label_of(curve, best)));
    let description = best.as_ref().map_or_else(
        || curve.without_best().to_owned(),
        |(best, label)| format!("best mean {} at {label}", weight(best.mean_kg, units)),
    );
    picture(NARROW.size(HEIGHT), &title, &description, |canvas| draw(canvas, curve, units))
}

/// The value of a point as shown.
fn label_of(curve: &ResponseCurve, point: &ResponsePoint) -> String {
    let index = curve.sorted().iter().position(|other| std::ptr::eq(*other, point));
    index.and_then(|index| curve.labels().into_iter().nth(index)).unwrap_or_default()
}

/// The caption of the axis, and the factor from the curve's unit to that of the axis: long times are in minutes.
fn axis_of(curve: &ResponseCurve) -> (String, f64) {
    let caption = curve.without_plan(&curve.axis);
    let last = curve.sorted().last().map_or(0.0, |point| point.value);
    match caption.strip_suffix("[s]") {
        Some(key) if last >= LONG_S => (format!("{key}[min]"), 1.0 / 60.0),
        _ => (caption, 1.0),
    }
}

fn draw(canvas: &Canvas<'_>, curve: &ResponseCurve, units: Units) -> DrawResult {
    let plot = ResponsePlot::new(curve, units);
    let best = curve.best();
    let shading = match best {
        Some(_) if plot.points.iter().filter(|point| point.is_near_best).count() > 1 => {
            "Shaded: means within 2 % of the best. Orange: may be within 2 %."
        }
        Some(_) if plot.points.len() > 1 => "Shaded: means within 2 % of the best.",
        Some(_) => "",
        None => curve.without_best(),
    };
    let notes = ["Whisker: 95 % sure. Band: eight days in ten, unknowns included.", shading];
    NARROW.head(canvas, &format!("Expected weight, {}", curve.plan), &notes)?;
    let (left, right) = plot.edges;
    let unit = NARROW.tick_style().anchored(HPos::Right);
    canvas.text(weight_unit(units), (left - LABEL_GAP, PLOT_Y.0 - 23.0), unit)?;
    if let Some(best) = best {
        draw_near_best(canvas, &plot, best)?;
    }
    NARROW.horizontal_grid(canvas, &plot.area, &plot.weight_ticks, plot.edges)?;
    draw_points(canvas, &plot, best)?;
    canvas.line(&[(left, PLOT_Y.1), (right, PLOT_Y.1)], INK, 1.25)?;
    let (caption, scale) = axis_of(curve);
    draw_values(canvas, &plot, best, scale)?;
    let caption = fit(&caption, NARROW.tick, false, NARROW.room());
    let style = NARROW.tick_style().anchored(HPos::Center);
    canvas.text(&caption, (0.5 * NARROW.width, PLOT_Y.1 + 46.0), style)?;
    best.map_or(Ok(()), |best| draw_best(canvas, &plot, best, &label_of(curve, best)))
}

/// Shades where the mean, joined by straight lines, is within two per cent of the best.
fn draw_near_best(
    canvas: &Canvas<'_>,
    plot: &ResponsePlot<'_>,
    best: &ResponsePoint,
) -> DrawResult {
    let level_kg = NEAR_BEST * best.mean_kg;
    let x = |point: &ResponsePoint| plot.position(point.value, 0.0).0;
    // Neighbouring stretches are joined: a seam between two areas would show.
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for pair in plot.points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        // Where the straight line between the two means crosses the level.
        let share = (level_kg - a.mean_kg) / (b.mean_kg - a.mean_kg);
        let crossing = x(a) + share * (x(b) - x(a));
        let (from, to) = match (a.mean_kg >= level_kg, b.mean_kg >= level_kg) {
            (true, true) => (x(a), x(b)),
            (true, false) => (x(a), crossing),
            (false, true) => (crossing, x(b)),
            (false, false) => continue,
        };
        match stretches.last_mut() {
            Some((_, end)) if *end >= from => *end = to,
            _ => stretches.push((from, to)),
        }
    }
    for (from, to) in stretches {
        canvas.rectangle((from, to), PLOT_Y, GRID, 0.6)?;
    }
    Ok(())
}

/// Draws the band, the line of means, the marks and the whiskers.
fn draw_points(
    canvas: &Canvas<'_>,
    plot: &ResponsePlot<'_>,
    best: Option<&ResponsePoint>,
) -> DrawResult {
    let hue = colour(HUE);
    let line = |kg: fn(&ResponsePoint) -> f64| -> Vec<Position> {
        plot.points.iter().map(|point| plot.position(point.value, kg(point))).collect()
    };
    let mut band = line(|point| point.p90_kg);
    band.extend(line(|point| point.p10_kg).into_iter().rev());
    canvas.polygon(&band, hue, 0.12)?;
    canvas.line(&line(|point| point.mean_kg), hue, 2.25)?;
    for point in &plot.points {
        let centre = plot.position(point.value, point.mean_kg);
        if best.is_some_and(|best| std::ptr::eq(best, *point)) {
            canvas.mark(centre, 5.5, outline(BEST), colour(BEST))?;
        } else {
            let hue = if point.is_near_best && best.is_some() { colour(BEST) } else { hue };
            canvas.mark(centre, 3.5, outline(HUE), hue)?;
        }
    }
    // Over the marks, which would hide a short whisker.
    for point in &plot.points {
        let Some(interval_kg) = point.interval_kg else { continue };
        let (x, low) = plot.position(point.value, interval_kg.low.max(0.0));
        let (_, high) = plot.position(point.value, interval_kg.high);
        canvas.line(&[(x, low), (x, high)], INK, 1.5)?;
        canvas.line(&[(x - 6.0, low), (x + 6.0, low)], INK, 1.5)?;
        canvas.line(&[(x - 6.0, high), (x + 6.0, high)], INK, 1.5)?;
    }
    Ok(())
}

/// Draws the numbers along the axis, which are `scale` times the values.
///
/// The points' own values if these are short, else round numbers. The best and the ends come first, then those that do
/// not overlap them.
fn draw_values(
    canvas: &Canvas<'_>,
    plot: &ResponsePlot<'_>,
    best: Option<&ResponsePoint>,
    scale: f64,
) -> DrawResult {
    let Some((first, last)) = plot.points.first().zip(plot.points.last()) else {
        return Ok(());
    };
    let is_short = |point: &&ResponsePoint| {
        trimmed_number(point.value * scale).chars().count() <= MAX_VALUE_LENGTH
    };
    let values: Vec<f64> = if plot.points.iter().all(is_short) {
        let firsts = best.into_iter().chain([*first, *last]);
        firsts.chain(plot.points.iter().copied()).map(|point| point.value).collect()
    } else {
        let (low, high) = (first.value * scale, last.value * scale);
        let ticks =
            if plot.is_logarithmic { log_ticks(low, high) } else { ticks_between(low, high) };
        ticks.into_iter().map(|value| value / scale).collect()
    };
    let mut free = FreeSpans::default();
    for value in values {
        let (x, y) = plot.position(value, 0.0);
        canvas.line(&[(x, y), (x, y + 5.0)], INK, 1.25)?;
        let text = fit(&trimmed_number(value * scale), NARROW.tick, false, 90.0);
        let half = 0.5 * text_width(&text, NARROW.tick, false) + 4.0;
        if free.take(x - half, x + half) {
            canvas.text(&text, (x, y + 20.0), NARROW.tick_style().anchored(HPos::Center))?;
        }
    }
    Ok(())
}

/// Points at the best mean and names it above the plot area.
fn draw_best(
    canvas: &Canvas<'_>,
    plot: &ResponsePlot<'_>,
    best: &ResponsePoint,
    label: &str,
) -> DrawResult {
    let (left, right) = plot.edges;
    let (best_x, best_y) = plot.position(best.value, best.top_of_mean_kg());
    let text = format!("best mean: {label}, {}", weight(best.mean_kg, plot.units));
    let text = fit(&text, NARROW.tick, false, right - left - 20.0);
    let half = 0.5 * text_width(&text, NARROW.tick, false);
    let x = best_x.clamp(left + half, (right - half).max(left + half));
    canvas.line(&[(best_x, PLOT_Y.0 - 9.0), (best_x, best_y - 8.0)], colour(BEST), 1.5)?;
    canvas.text(&text, (x, PLOT_Y.0 - 23.0), NARROW.tick_style().anchored(HPos::Center))
}
