//! How the difference between two plans spreads over days.

use plotters::style::text_anchor::HPos;

use super::marker::colour;
use super::measures::{percent, weight, weight_on_axis, weight_unit};
use super::ranking::{Facing, place_of};
use super::sheet::{Drawn, Frame, INK, MUTED, Sheet, Type, picture};
use super::ticks::{tick_label, ticks_between};
use super::typeface::fit;
use crate::scenario::Units;
use crate::study::Comparison;

/// Size of the picture [points].
const SIZE: (u32, u32) = (720, 340);
/// Blank margin [points].
const MARGIN: f64 = 22.0;
/// Upper and lower edge of the frame [points].
const FRAME: (f64, f64) = (112.0, 262.0);
/// Sizes of type [points].
const NOTE: f64 = 19.0;
const TICK: f64 = 21.0;

/// Days by the difference of two plans' weights, in the colour of whichever was ahead, as SVG.
pub(super) fn difference_chart_svg(
    comparison: &Comparison,
    facing: &Facing<'_>,
    units: Units,
) -> String {
    let (one, other) = (&facing.one.name, &facing.other.name);
    let title = format!("{one} less {other}, day by day");
    let behind = 1.0 - facing.ahead_share - facing.tie_share;
    let says = format!(
        "{one} is ahead on {} of days, {other} on {}, level on {}; the mean difference is {}.",
        percent(facing.ahead_share),
        percent(behind.max(0.0)),
        percent(facing.tie_share),
        weight(facing.mean_kg, units)
    );
    picture(SIZE, &title, &says, |sheet| draw(sheet, comparison, facing, units))
}

fn draw(sheet: &Sheet<'_>, comparison: &Comparison, facing: &Facing<'_>, units: Units) -> Drawn {
    let right = f64::from(SIZE.0) - MARGIN;
    let axis = |kg: f64| weight_on_axis(kg, units);
    let steps = facing.histogram_kg();
    let ends = steps.first().zip(steps.last());
    let (low, high) = ends.map_or((-1.0, 1.0), |(((from, _), _), ((_, to), _))| (*from, *to));
    let (low, high) = (low.min(0.0), high.max(0.0));
    let most = steps.iter().map(|(_, days)| *days).max().unwrap_or(0).max(1);
    let frame = Frame::new((MARGIN, right), FRAME, axis(low)..axis(high), 0.0..f64::from(most));

    let half = 0.5 * (right - MARGIN) - 8.0;
    let hues = [facing.other, facing.one].map(|plan| colour(place_of(comparison, plan)));
    let behind = (1.0 - facing.ahead_share - facing.tie_share).max(0.0);
    let heads = [
        (&facing.other.name, behind, MARGIN, HPos::Left),
        (&facing.one.name, facing.ahead_share, right, HPos::Right),
    ];
    for ((name, share, x, anchor), hue) in heads.into_iter().zip(hues) {
        let ahead = format!("ahead on {} of days", percent(share));
        let named = Type::plain(TICK, INK).bold().anchored(anchor);
        sheet.text(&fit(name, TICK, true, half), (x, 26.0), named)?;
        sheet.text(&ahead, (x, 52.0), Type::plain(NOTE, MUTED).anchored(anchor))?;
        let to = if x < half { x + 0.5 * half } else { x - 0.5 * half };
        sheet.line(&[(x, 70.0), (to, 70.0)], hue, 5.0)?;
    }
    for ((from, to), days) in &steps {
        let ((left, top), (end, bottom)) =
            (frame.at(axis(*from), f64::from(*days)), frame.at(axis(*to), 0.0));
        let hue = hues[usize::from(*from >= 0.0)];
        let corners =
            [(left + 0.75, top), (end - 0.75, top), (end - 0.75, bottom), (left + 0.75, bottom)];
        sheet.area(&corners, hue, 1.0)?;
    }
    let (zero_x, zero_y) = frame.at(0.0, 0.0);
    sheet.line(&[(MARGIN, zero_y), (right, zero_y)], INK, 1.5)?;
    sheet.line(&[(zero_x, FRAME.0 - 24.0), (zero_x, zero_y)], INK, 1.5)?;
    let (mean_x, _) = frame.at(axis(facing.mean_kg), 0.0);
    for at in 0..9 {
        // A broken line, so that the mean is told from nought without colour.
        let y = FRAME.0 - 12.0 + f64::from(at) * (zero_y - FRAME.0 + 12.0) / 9.0;
        sheet.line(&[(mean_x, y), (mean_x, y + 9.0)], INK, 2.25)?;
    }
    let says = format!("mean {}", weight(facing.mean_kg, units));
    let anchor = if mean_x > 0.6 * right { HPos::Right } else { HPos::Left };
    let beside = if mean_x > 0.6 * right { mean_x - 8.0 } else { mean_x + 8.0 };
    sheet.text(&says, (beside, FRAME.0 - 14.0), Type::plain(NOTE, INK).anchored(anchor))?;
    for tick in ticks_between(axis(low), axis(high)) {
        let (x, y) = frame.at(tick, 0.0);
        sheet.line(&[(x, y), (x, y + 6.0)], INK, 1.25)?;
        let anchor = match x {
            x if x < MARGIN + 20.0 => HPos::Left,
            x if x > right - 20.0 => HPos::Right,
            _ => HPos::Center,
        };
        sheet.text(&tick_label(tick), (x, y + 22.0), Type::plain(TICK, INK).anchored(anchor))?;
    }
    let words = format!("difference in weight [{}]", weight_unit(units));
    let below = Type::plain(TICK, INK).anchored(HPos::Center);
    sheet.text(&words, (0.5 * (MARGIN + right), zero_y + 52.0), below)
}
