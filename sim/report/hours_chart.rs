//! Catch by hour and shoal, a panel a plan.

use plotters::style::text_anchor::HPos;

use super::marker::shade;
use super::measures::{weight, weight_on_axis, weight_unit};
use super::ranking::by_weight;
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Sheet, Type, picture};
use super::ticks::{tick_label, ticks};
use super::typeface::{fit, width};
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// Width of the picture [points].
const WIDTH: u32 = 720;
/// Blank margin [points].
const MARGIN: f64 = 22.0;
/// Height of the head, of each panel and of the columns in it [points].
const PANEL: f64 = 190.0;
const COLUMNS: f64 = 118.0;
/// Sizes of type [points].
const NAME: f64 = 21.0;
const TICK: f64 = 19.0;
/// Most panels.
const MOST: usize = 8;

/// Mean catch of each hour by shoal for the heaviest plans, as SVG.
pub(super) fn hours_chart_svg(comparison: &Comparison, units: Units) -> String {
    let plans: Vec<_> = by_weight(comparison).into_iter().take(MOST).collect();
    let says: Vec<_> = plans
        .iter()
        .map(|plan| {
            let hours: Vec<_> = weights_kg(plan).iter().map(|kg| weight(*kg, units)).collect();
            format!("{}, hour by hour: {}", plan.name, hours.join(", "))
        })
        .collect();
    let shoals = plans.first().map_or(0, |plan| plan.by_shoal.len());
    let head =
        14.0 + 30.0 * legend_lines(plans.first().copied()).max(usize::from(shoals > 0)) as f64;
    let height = head + PANEL * plans.len() as f64 + 20.0;
    picture((WIDTH, height as u32), "Catch by hour and shoal", &says.join("; "), |sheet| {
        draw_legend(sheet, plans.first().copied())?;
        let top_kg = plans.iter().flat_map(|plan| weights_kg(plan)).fold(0.0, f64::max);
        let marks = ticks(weight_on_axis(top_kg, units));
        for (at, plan) in (0_u32..).zip(&plans) {
            let top = head + PANEL * f64::from(at);
            draw_panel(sheet, plan, top, &marks, units)?;
        }
        let below = Type::plain(TICK, MUTED).anchored(HPos::Right);
        sheet.text("hour", (f64::from(WIDTH) - MARGIN, height - 14.0), below)
    })
}

/// Weight of each hour [kg].
fn weights_kg(plan: &PlanResult) -> Vec<f64> {
    let hour = |shoals: &[crate::study::ByShoal]| shoals.iter().map(|of| of.weight_kg_mean).sum();
    plan.by_hour.iter().map(|hour_of| hour(&hour_of.by_shoal)).collect()
}

/// Where the legend's entries stand: line and left edge, with the words.
fn legend(plan: Option<&PlanResult>) -> Vec<(usize, f64, String)> {
    let (mut line, mut x) = (0, MARGIN);
    let room = f64::from(WIDTH) - 2.0 * MARGIN;
    let mut entries = Vec::new();
    for shoal in plan.map_or(&[][..], |plan| &plan.by_shoal) {
        let words = fit(&shoal.shoal, TICK, false, room - 30.0);
        let wide = 56.0 + width(&words, TICK, false);
        if x > MARGIN && x + wide - 30.0 > MARGIN + room {
            (line, x) = (line + 1, MARGIN);
        }
        entries.push((line, x, words));
        x += wide;
    }
    entries
}

fn legend_lines(plan: Option<&PlanResult>) -> usize {
    legend(plan).last().map_or(0, |(line, ..)| line + 1)
}

fn draw_legend(sheet: &Sheet<'_>, plan: Option<&PlanResult>) -> Drawn {
    for (at, (line, x, words)) in legend(plan).into_iter().enumerate() {
        let y = 22.0 + 30.0 * line as f64;
        block(sheet, (x, x + 18.0), (y - 9.0, y + 9.0), at)?;
        sheet.text(&words, (x + 26.0, y), Type::plain(TICK, INK))?;
    }
    Ok(())
}

/// A block of a shoal's shade, with a rim so that a pale one is seen.
fn block(
    sheet: &Sheet<'_>,
    (left, right): (f64, f64),
    (top, bottom): (f64, f64),
    of: usize,
) -> Drawn {
    let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
    sheet.area(&corners, shade(of), 1.0)?;
    let round: Vec<_> = corners.into_iter().chain([corners[0]]).collect();
    sheet.line(&round, INK, 1.0)
}

fn draw_panel(
    sheet: &Sheet<'_>,
    plan: &PlanResult,
    top: f64,
    marks: &[f64],
    units: Units,
) -> Drawn {
    let right = f64::from(WIDTH) - MARGIN;
    let label = marks.iter().map(|mark| width(&tick_label(*mark), TICK, false)).fold(0.0, f64::max);
    let left = MARGIN + label + 10.0;
    let (ceiling, floor) = (top + 42.0, top + 42.0 + COLUMNS);
    let hours = plan.by_hour.len().max(1) as f64;
    let highest = marks.last().copied().unwrap_or(1.0);
    let frame = Frame::new((left, right), (ceiling, floor), 0.0..hours, 0.0..highest);
    let name = Type::plain(NAME, INK).bold();
    sheet.text(&fit(&plan.name, NAME, true, right - MARGIN - 60.0), (MARGIN, top + 16.0), name)?;
    let unit = Type::plain(TICK, MUTED).anchored(HPos::Right);
    sheet.text(weight_unit(units), (right, top + 16.0), unit)?;
    for mark in [0.0, highest] {
        let (_, y) = frame.at(0.0, mark);
        sheet.line(&[(left, y), (right, y)], GRID, 1.25)?;
        let at = (left - 10.0, y);
        sheet.text(&tick_label(mark), at, Type::plain(TICK, INK).anchored(HPos::Right))?;
    }
    let step = (hours / 12.0).ceil().max(1.0) as usize;
    for (at, hour) in plan.by_hour.iter().enumerate() {
        let mut below = 0.0;
        for (of, shoal) in hour.by_shoal.iter().enumerate() {
            let size = weight_on_axis(shoal.weight_kg_mean, units);
            let (from, bottom) = frame.at(at as f64 + 0.12, below);
            let (to, ceiling) = frame.at(at as f64 + 0.88, below + size);
            if size > 0.0 {
                block(sheet, (from, to), (ceiling, bottom), of)?;
            }
            below += size;
        }
        if at % step == 0 {
            let (x, y) = frame.at(at as f64 + 0.5, 0.0);
            let number = Type::plain(TICK, INK).anchored(HPos::Center);
            sheet.text(&format!("{}", at + 1), (x, y + 16.0), number)?;
        }
    }
    Ok(())
}
