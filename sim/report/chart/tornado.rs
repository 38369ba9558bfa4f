//! Tornado chart: how far each of a few uncertain inputs moves the difference of two plans, the longest bar on top.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;

use super::layout::DENSE;
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, MUTED, PlotArea, TextStyle, colour, fit, picture, text_width,
    ticks_between, wrap,
};
use crate::report::format::{
    input_value, short_input_name, trimmed_number, weight, weight_on_axis, weight_unit,
};
use crate::scenario::Units;
use crate::study::{InfluentialInput, ProfilePoint, SensitivityReport};

/// Height without rows, and of each row [points].
const HEIGHT: f64 = 238.0;
const ROW: f64 = 66.0;
/// Upper edge of the rows [points].
const TOP: f64 = 132.0;
/// Half the thickness of a bar [points].
const HALF_BAR: f64 = 9.0;
/// Colours of the lower and the upper end.
const LOW: usize = 0;
const HIGH: usize = 1;

/// Each influential input as a bar from the difference at the lower end of its likely range to that at the upper end, as
/// SVG.
///
/// With 95 % whiskers, a line at the verdict and one at zero.
pub fn tornado_svg(report: &SensitivityReport, units: Units) -> String {
    let title = format!("What moves the difference between {} and {}", report.a, report.b);
    let description = format!(
        "on average {} is {} ahead; bars show the difference with one unknown at either end of its likely range",
        report.a,
        weight(report.difference_kg.value, units)
    );
    let rows = report.influential.len().max(1);
    picture(DENSE.size(HEIGHT + ROW * rows as f64), &title, &description, |canvas| {
        let notes = [
            "One unknown at the low (blue) or high (orange) end of its likely range,",
            "all others drawn at random.",
        ];
        DENSE.head(canvas, "What could flip the verdict", &notes)?;
        draw(canvas, report, units)
    })
}

/// The rows and the axis of the chart.
struct TornadoPlot {
    area: PlotArea,
    rows: usize,
    left: f64,
    right: f64,
    /// Where the verdict stands.
    verdict: f64,
    units: Units,
}

impl TornadoPlot {
    fn new(report: &SensitivityReport, rows: &[&InfluentialInput], units: Units) -> Self {
        let (low, high) = axis_range(report, rows, units);
        let (left, right) = (DENSE.margin, DENSE.right());
        let bottom = TOP + ROW * rows.len() as f64;
        let area = PlotArea::new((left, right), (TOP, bottom), low..high, 0.0..1.0);
        let verdict = area.position(weight_on_axis(report.difference_kg.value, units), 0.0).0;
        Self { area, rows: rows.len(), left, right, verdict, units }
    }

    /// Where a difference stands.
    fn x(&self, kg: f64) -> f64 {
        self.area.position(weight_on_axis(kg, self.units), 0.0).0
    }

    fn bottom(&self) -> f64 {
        TOP + ROW * self.rows as f64
    }

    /// Draws a vertical line that leaves out the names of the rows.
    fn draw_vertical(&self, canvas: &Canvas<'_>, x: f64, ink: RGBColor, width: f64) -> DrawResult {
        (0..self.rows).try_for_each(|row| {
            let top = TOP + ROW * row as f64;
            canvas.line(&[(x, top + 25.0), (x, top + ROW)], ink, width)
        })
    }
}

/// The range of the axis: all whiskers, zero and the verdict, with room for the values next to the bars.
fn axis_range(report: &SensitivityReport, rows: &[&InfluentialInput], units: Units) -> (f64, f64) {
    let ends =
        rows.iter().flat_map(|input| input.profile.first().into_iter().chain(input.profile.last()));
    let (low, high) = ends
        .flat_map(|point| [point.held.low95_kg, point.held.high95_kg])
        .chain([report.difference_kg.value])
        .map(|kg| weight_on_axis(kg, units))
        .fold((0.0_f64, 0.0_f64), |(low, high), x| (low.min(x), high.max(x)));
    let end_words = rows.iter().flat_map(|input| {
        let ends = input.profile.first().into_iter().chain(input.profile.last());
        ends.map(|point| input_value(point.value, &input.unit, units))
    });
    let widest = end_words.map(|words| text_width(&words, DENSE.note, false)).fold(0.0, f64::max);
    let share = ((widest + 16.0) / DENSE.room()).clamp(0.1, 0.25);
    let pad = share / (1.0 - 2.0 * share) * (high - low).max(1e-9);
    (low - pad, high + pad)
}

fn draw(canvas: &Canvas<'_>, report: &SensitivityReport, units: Units) -> DrawResult {
    let mut rows: Vec<&InfluentialInput> =
        report.influential.iter().filter(|input| !input.profile.is_empty()).collect();
    if rows.is_empty() {
        let nothing = "Nothing differs from day to day.";
        return canvas.text(nothing, (DENSE.margin, TOP + 30.0), DENSE.note_style());
    }
    let length_kg = |input: &InfluentialInput| {
        let ends = input.profile.first().zip(input.profile.last());
        ends.map_or(0.0, |(low, high)| (high.held.mean_kg - low.held.mean_kg).abs())
    };
    rows.sort_by(|a, b| length_kg(b).total_cmp(&length_kg(a)));
    let plot = TornadoPlot::new(report, &rows, units);
    let (low, high) = axis_range(report, &rows, units);
    let bottom = plot.bottom();
    let centred = DENSE.tick_style().anchored(HPos::Center);
    for tick in ticks_between(low, high) {
        let (x, _) = plot.area.position(tick, 0.0);
        plot.draw_vertical(canvas, x, GRID, 1.0)?;
        canvas.text(&trimmed_number(tick), (x, bottom + 18.0), centred)?;
    }
    plot.draw_vertical(canvas, plot.x(0.0), INK, 2.0)?;
    plot.draw_vertical(canvas, plot.verdict, MUTED, 1.5)?;
    for (row, input) in rows.iter().enumerate() {
        draw_row(canvas, input, TOP + ROW * row as f64, &plot)?;
    }
    draw_sides(canvas, report, &plot)?;
    let axis = format!("{} minus {} [{}]", report.a, report.b, weight_unit(units));
    let axis = fit(&axis, DENSE.tick, false, DENSE.room());
    canvas.text(&axis, (0.5 * DENSE.width, bottom + 42.0), centred)?;
    let lines = format!(
        "Grey line: {}, all unknowns drawn at random. Whiskers: 95 % sure, over {} days.",
        weight(report.difference_kg.value, units),
        report.profile_days
    );
    let lines = wrap(&lines, DENSE.note, DENSE.room(), 2);
    lines.iter().zip([66.0, 88.0]).try_for_each(|(line, below)| {
        canvas.text(line, (DENSE.margin, bottom + below), DENSE.note_style())
    })
}

/// Writes which plan is ahead on which side of zero.
fn draw_sides(canvas: &Canvas<'_>, report: &SensitivityReport, plot: &TornadoPlot) -> DrawResult {
    let style = TextStyle::plain(DENSE.note, INK).bold();
    let (zero, y) = (plot.x(0.0), TOP - 16.0);
    let a = format!("{} ahead", report.a);
    let a = fit(&a, DENSE.note, true, (plot.right - zero - 8.0).max(0.0));
    canvas.text(&a, (zero + 8.0, y), style)?;
    let b = format!("{} ahead", report.b);
    // Left out rather than cut, which would hide the name; the axis says which plan is subtracted.
    if text_width(&b, DENSE.note, true) <= zero - plot.left - 8.0 {
        canvas.text(&b, (zero - 8.0, y), style.anchored(HPos::Right))?;
    }
    Ok(())
}

/// Draws one input: its name, its bar from the verdict to either end, and the values at the ends.
fn draw_row(
    canvas: &Canvas<'_>,
    input: &InfluentialInput,
    top: f64,
    plot: &TornadoPlot,
) -> DrawResult {
    let Some((low, high)) = input.profile.first().zip(input.profile.last()) else { return Ok(()) };
    // The key stays whole, since readers look it up.
    let key = format!(" ({})", short_input_name(&input.key));
    let room = plot.right - plot.left - text_width(&key, DENSE.note, false);
    let name = format!("{}{key}", fit(&input.description, DENSE.note, false, room));
    canvas.text(&name, (plot.left, top + 14.0), TextStyle::plain(DENSE.note, INK))?;
    let y = top + 42.0;
    // The longer bar first, so that both show if they lie on the same side.
    let length = |point: &ProfilePoint| (plot.x(point.held.mean_kg) - plot.verdict).abs();
    let mut bars = [(low, LOW), (high, HIGH)];
    bars.sort_by(|a, b| length(b.0).total_cmp(&length(a.0)));
    for (point, hue) in bars {
        let (from, to) = (plot.verdict, plot.x(point.held.mean_kg));
        canvas.rectangle((from, to), (y - HALF_BAR, y + HALF_BAR), colour(hue), 0.85)?;
    }
    let (left_end, right_end) =
        if low.held.mean_kg <= high.held.mean_kg { (low, high) } else { (high, low) };
    // The values stand outside the whiskers, the verdict and the bars.
    let whiskers = [low.held.low95_kg, low.held.high95_kg, high.held.low95_kg, high.held.high95_kg]
        .map(|kg| plot.x(kg));
    let outer_left = whiskers.into_iter().fold(plot.verdict, f64::min) - 7.0;
    let outer_right = whiskers.into_iter().fold(plot.verdict, f64::max) + 7.0;
    for point in [low, high] {
        draw_whisker(canvas, (plot.x(point.held.low95_kg), plot.x(point.held.high95_kg)), y)?;
    }
    let value = |point: &ProfilePoint| {
        let text = input_value(point.value, &input.unit, plot.units);
        let width = text_width(&text, DENSE.note, false);
        (text, width)
    };
    let style = TextStyle::plain(DENSE.note, INK);
    let (text, width) = value(left_end);
    canvas.text(&text, (outer_left.max(plot.left + width), y), style.anchored(HPos::Right))?;
    let (text, width) = value(right_end);
    canvas.text(&text, (outer_right.min(plot.right - width), y), style)
}

/// Draws a horizontal whisker.
fn draw_whisker(canvas: &Canvas<'_>, (from, to): (f64, f64), y: f64) -> DrawResult {
    canvas.line(&[(from, y), (to, y)], INK, 1.5)?;
    [from, to]
        .into_iter()
        .try_for_each(|end| canvas.line(&[(end, y - 5.0), (end, y + 5.0)], INK, 1.5))
}
