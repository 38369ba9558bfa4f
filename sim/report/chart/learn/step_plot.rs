//! Curves with steps and bands against the wait, labelled at their ends.

use plotters::style::text_anchor::HPos;

use crate::numerics::powf;
use crate::report::chart::layout::{LABEL_GAP, LARGE};
use crate::report::draw::{
    Canvas, DrawResult, INK, PlotArea, Position, TextStyle, colour, outline, spread_apart,
    text_width, ticks, ticks_between, wrap_name,
};

/// Height of the picture [points].
pub(super) const HEIGHT: f64 = 520.0;
/// Upper and lower edge of the plot area [points].
const PLOT_Y: (f64, f64) = (128.0, 442.0);
/// Font size of names [points].
const NAME: f64 = LARGE.note;
/// Maximum width of a label [points].
const MAX_LABEL_WIDTH: f64 = 170.0;
/// From the end of a curve to its label [points].
const LEADER: f64 = 40.0;
/// Maximum number of groups in a picture.
pub(super) const MAX_GROUPS: usize = 4;
/// Colour and mark of all casts together, next to those of the groups.
pub(super) const ALL_CASTS: usize = MAX_GROUPS;

/// A point of a curve.
#[derive(Clone, Copy)]
pub(super) struct StepPoint {
    /// Horizontal position, in the unit of the axis.
    pub(super) x: f64,
    /// Height from here on.
    pub(super) y: f64,
    /// Ends of the band from here on.
    pub(super) band: Option<(f64, f64)>,
}

pub(super) struct PlotCurve {
    pub(super) name: String,
    /// Index of its colour and mark.
    pub(super) hue: usize,
    /// Points in ascending order.
    pub(super) points: Vec<StepPoint>,
    /// Whether it keeps its height between points, or is joined by straight lines.
    pub(super) is_stepped: bool,
    /// Right end of the curve, on the horizontal axis.
    pub(super) end_x: f64,
    /// A stretch drawn thick, and a mark.
    pub(super) thick: Option<(f64, f64)>,
    /// The horizontal position of the mark.
    pub(super) marked_x: Option<f64>,
}

/// Texts along the axes.
pub(super) struct AxisTexts {
    pub(super) x: &'static str,
    pub(super) y: &'static str,
}

impl PlotCurve {
    /// Corners of the curve.
    fn path(&self, height: impl Fn(&StepPoint) -> f64) -> Vec<(f64, f64)> {
        let mut path: Vec<(f64, f64)> = Vec::new();
        for point in self.points.iter().filter(|point| point.x <= self.end_x) {
            if let Some(&(_, before)) = path.last().filter(|_| self.is_stepped) {
                path.push((point.x, before));
            }
            path.push((point.x, height(point)));
        }
        if let Some(&(_, before)) = path.last().filter(|_| self.is_stepped) {
            path.push((self.end_x, before));
        }
        path
    }

    /// Height at a horizontal position.
    fn height(&self, x: f64) -> f64 {
        let after = self.points.partition_point(|point| point.x <= x);
        let Some(before) = self.points[..after].last() else {
            return self.points.first().map_or(0.0, |point| point.y);
        };
        match self.points.get(after).filter(|_| !self.is_stepped) {
            Some(next) => before.y + (next.y - before.y) * (x - before.x) / (next.x - before.x),
            None => before.y,
        }
    }
}

/// Draws the axes, bands, curves, marks and labels.
pub(super) fn draw_curves(
    canvas: &Canvas<'_>,
    curves: &[PlotCurve],
    top: f64,
    texts: &AxisTexts,
) -> DrawResult {
    let last_x = curves.iter().map(|curve| curve.end_x).fold(0.0, f64::max);
    let last_x = if last_x > 0.0 { last_x } else { 1.0 };
    let labels: Vec<Vec<String>> =
        curves.iter().map(|curve| wrap_name(&curve.name, NAME, MAX_LABEL_WIDTH, 3)).collect();
    let label_width =
        labels.iter().flatten().map(|line| text_width(line, NAME, false)).fold(0.0, f64::max);
    let y_ticks = ticks(top);
    let top = y_ticks.last().copied().unwrap_or(1.0);
    let left = LARGE.margin + LARGE.widest_tick(&y_ticks) + LABEL_GAP;
    let right = LARGE.right() - label_width - LEADER - 14.0;
    let area = PlotArea::new((left, right), PLOT_Y, 0.0..last_x, 0.0..top);

    let unit = LARGE.note_style();
    canvas.text(texts.y, (LARGE.margin, PLOT_Y.0 - 32.0), unit)?;
    LARGE.horizontal_grid(canvas, &area, &y_ticks, (left, right))?;
    for tick in ticks_between(0.0, last_x) {
        LARGE.tick_below(canvas, area.position(tick, 0.0), tick)?;
    }
    let caption = LARGE.tick_style().anchored(HPos::Center);
    canvas.text(texts.x, (0.5 * (left + right), PLOT_Y.1 + 52.0), caption)?;
    draw_bands(canvas, curves, &area)?;
    canvas.line(&[area.position(0.0, 0.0), area.position(last_x, 0.0)], INK, 1.5)?;
    for curve in curves.iter().rev() {
        draw_curve(canvas, curve, &area)?;
    }
    draw_labels(canvas, curves, &labels, &area, right)
}

fn placed(area: &PlotArea, path: Vec<(f64, f64)>) -> Vec<Position> {
    path.into_iter().map(|(x, y)| area.position(x, y)).collect()
}

fn draw_bands(canvas: &Canvas<'_>, curves: &[PlotCurve], area: &PlotArea) -> DrawResult {
    let opacity = 0.26 / powf(curves.len().max(1) as f64, 0.65);
    for curve in curves.iter().rev() {
        let high = placed(area, curve.path(|point| point.band.map_or(point.y, |band| band.1)));
        let low = placed(area, curve.path(|point| point.band.map_or(point.y, |band| band.0)));
        if curve.points.iter().any(|point| point.band.is_some()) {
            let outline: Vec<_> = high.iter().chain(low.iter().rev()).copied().collect();
            canvas.polygon(&outline, colour(curve.hue), opacity)?;
        }
    }
    Ok(())
}

fn draw_curve(canvas: &Canvas<'_>, curve: &PlotCurve, area: &PlotArea) -> DrawResult {
    let index = curve.hue;
    let path = curve.path(|point| point.y);
    if let Some((from, to)) = curve.thick {
        let inside = path.iter().copied().filter(|&(x, _)| x > from && x < to);
        let stretch = std::iter::once((from, curve.height(from)))
            .chain(inside)
            .chain([(to.min(curve.end_x), curve.height(to.min(curve.end_x)))]);
        canvas.translucent_line(&placed(area, stretch.collect()), colour(index), 11.0, 0.3)?;
    }
    canvas.line(&placed(area, path), colour(index), 2.75)?;
    if let Some(x) = curve.marked_x {
        canvas.mark(area.position(x, curve.height(x)), 6.5, outline(index), colour(index))?;
    }
    Ok(())
}

/// Draws the labels, moved apart, each with a line to the end of its curve.
fn draw_labels(
    canvas: &Canvas<'_>,
    curves: &[PlotCurve],
    labels: &[Vec<String>],
    area: &PlotArea,
    right: f64,
) -> DrawResult {
    let height = |lines: &Vec<String>| 1.2 * NAME * lines.len() as f64 + 6.0;
    let heights: Vec<f64> = labels.iter().map(height).collect();
    let ends: Vec<Position> =
        curves.iter().map(|curve| area.position(curve.end_x, curve.height(curve.end_x))).collect();
    let wished: Vec<f64> = ends.iter().map(|end| end.1).collect();
    let centres = spread_apart(&wished, &heights, PLOT_Y.0 - 10.0, PLOT_Y.1 + 24.0);
    for (index, (lines, centre)) in labels.iter().zip(&centres).enumerate() {
        let to = (right + LEADER, *centre);
        let hue = curves[index].hue;
        canvas.translucent_line(&[ends[index], to], colour(hue), 1.25, 0.6)?;
        canvas.mark(ends[index], 4.5, outline(hue), colour(hue))?;
        canvas.mark(to, 5.0, outline(hue), colour(hue))?;
        let mut y = centre - 0.5 * (heights[index] - 6.0);
        for line in lines {
            let at = (right + LEADER + 14.0, y + 0.6 * NAME);
            canvas.text(line, at, TextStyle::plain(NAME, INK))?;
            y += 1.2 * NAME;
        }
    }
    Ok(())
}
