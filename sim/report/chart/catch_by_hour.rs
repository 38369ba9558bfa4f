//! Catch by hour and shoal, a panel for each plan.

use plotters::style::text_anchor::HPos;

use super::layout::{LABEL_GAP, LARGE};
use crate::report::draw::{
    Canvas, DrawResult, INK, PlotArea, TextStyle, fit, picture, shade, text_width, ticks,
};
use crate::report::format::{weight, weight_on_axis, weight_unit};
use crate::report::view::by_weight;
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// Height of a panel, and of the columns in it [points].
const PANEL: f64 = 190.0;
const COLUMNS: f64 = 118.0;
/// Height of a line of the legend [points].
const LEGEND_LINE: f64 = 30.0;
const MAX_PANELS: usize = 8;
/// Maximum number of hours with a number below them.
const MAX_NUMBERS: f64 = 12.0;

/// Mean catch of each hour by shoal for the heaviest plans, as SVG.
pub(crate) fn catch_by_hour_svg(comparison: &Comparison, units: Units) -> String {
    let plans: Vec<_> = by_weight(comparison).into_iter().take(MAX_PANELS).collect();
    let description: Vec<_> = plans
        .iter()
        .map(|plan| {
            let hours: Vec<_> = weights_kg(plan).iter().map(|kg| weight(*kg, units)).collect();
            format!("{}, hour by hour: {}", plan.name, hours.join(", "))
        })
        .collect();
    let legend = legend(plans.first().copied());
    let head = 14.0 + LEGEND_LINE * legend.last().map_or(0.0, |entry| entry.line as f64 + 1.0);
    let size = LARGE.size(head + PANEL * plans.len() as f64 + 20.0);
    picture(size, "Catch by hour and shoal", &description.join("; "), |canvas| {
        draw_legend(canvas, &legend)?;
        let top_kg = plans.iter().flat_map(|plan| weights_kg(plan)).fold(0.0, f64::max);
        let ticks = ticks(weight_on_axis(top_kg, units));
        for (number, plan) in (0_u32..).zip(&plans) {
            let top = head + PANEL * f64::from(number);
            draw_panel(canvas, plan, top, &ticks, units)?;
        }
        let caption = LARGE.note_style().anchored(HPos::Right);
        canvas.text("hour", (LARGE.right(), f64::from(size.1) - 14.0), caption)
    })
}

/// Weight of each hour [kg].
fn weights_kg(plan: &PlanResult) -> Vec<f64> {
    let hours = plan.by_hour.iter();
    hours.map(|hour| hour.by_shoal.iter().map(|shoal| shoal.weight_kg_mean).sum()).collect()
}

/// An entry of the legend: its line, its left edge and the shoal.
struct LegendEntry {
    line: usize,
    left: f64,
    shoal: String,
}

/// The legend: a shade for each shoal.
fn legend(plan: Option<&PlanResult>) -> Vec<LegendEntry> {
    let (mut line, mut left) = (0, LARGE.margin);
    let mut entries = Vec::new();
    for shoal in plan.map_or(&[][..], |plan| &plan.by_shoal) {
        let shoal = fit(&shoal.shoal, LARGE.note, false, LARGE.room() - 30.0);
        let width = 56.0 + text_width(&shoal, LARGE.note, false);
        if left > LARGE.margin && left + width - 30.0 > LARGE.right() {
            (line, left) = (line + 1, LARGE.margin);
        }
        entries.push(LegendEntry { line, left, shoal });
        left += width;
    }
    entries
}

fn draw_legend(canvas: &Canvas<'_>, entries: &[LegendEntry]) -> DrawResult {
    for (index, entry) in entries.iter().enumerate() {
        let (x, y) = (entry.left, 22.0 + LEGEND_LINE * entry.line as f64);
        draw_block(canvas, (x, x + 18.0), (y - 9.0, y + 9.0), index)?;
        canvas.text(&entry.shoal, (x + 26.0, y), TextStyle::plain(LARGE.note, INK))?;
    }
    Ok(())
}

/// Draws a block in the shade of shoal `index`, with a rim that makes a pale one visible.
fn draw_block(
    canvas: &Canvas<'_>,
    (left, right): (f64, f64),
    (top, bottom): (f64, f64),
    index: usize,
) -> DrawResult {
    let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
    canvas.polygon(&corners, shade(index), 1.0)?;
    let rim: Vec<_> = corners.into_iter().chain([corners[0]]).collect();
    canvas.line(&rim, INK, 1.0)
}

fn draw_panel(
    canvas: &Canvas<'_>,
    plan: &PlanResult,
    top: f64,
    ticks: &[f64],
    units: Units,
) -> DrawResult {
    let right = LARGE.right();
    let left = LARGE.margin + LARGE.widest_tick(ticks) + LABEL_GAP;
    let (ceiling, floor) = (top + 42.0, top + 42.0 + COLUMNS);
    let hours = plan.by_hour.len().max(1) as f64;
    let highest = ticks.last().copied().unwrap_or(1.0);
    let area = PlotArea::new((left, right), (ceiling, floor), 0.0..hours, 0.0..highest);
    let name = fit(&plan.name, LARGE.tick, true, LARGE.room() - 60.0);
    canvas.text(&name, (LARGE.margin, top + 16.0), LARGE.tick_style().bold())?;
    let unit = LARGE.note_style().anchored(HPos::Right);
    canvas.text(weight_unit(units), (right, top + 16.0), unit)?;
    LARGE.horizontal_grid(canvas, &area, &[0.0, highest], (left, right))?;
    let step = (hours / MAX_NUMBERS).ceil().max(1.0) as usize;
    for (index, hour) in plan.by_hour.iter().enumerate() {
        let mut below = 0.0;
        for (shoal, catch) in hour.by_shoal.iter().enumerate() {
            let size = weight_on_axis(catch.weight_kg_mean, units);
            let (from, bottom) = area.position(index as f64 + 0.12, below);
            let (to, ceiling) = area.position(index as f64 + 0.88, below + size);
            if size > 0.0 {
                draw_block(canvas, (from, to), (ceiling, bottom), shoal)?;
            }
            below += size;
        }
        if index % step == 0 {
            let (x, y) = area.position(index as f64 + 0.5, 0.0);
            let style = TextStyle::plain(LARGE.note, INK).anchored(HPos::Center);
            canvas.text(&format!("{}", index + 1), (x, y + 16.0), style)?;
        }
    }
    Ok(())
}
