//! How far each of a few unknowns moves a paired difference: bars about the verdict, the longest on top.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;

use super::doubt::{name_of, value_words};
use super::marker::colour;
use super::measures::{weight, weight_on_axis, weight_unit};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Sheet, Type, picture};
use super::ticks::{tick_label, ticks_between};
use super::typeface::{fit, width};
use crate::scenario::Units;
use crate::study::{Doubt, Few, LinePoint};

/// Width of the picture, and height without rows and of each row [points].
const WIDTH: u32 = 720;
const HEIGHT: u32 = 196;
const ROW: f64 = 66.0;
/// Blank margin [points].
const MARGIN: f64 = 18.0;
/// Upper edge of the frame [points].
const TOP: f64 = 112.0;
/// Half the thickness of a bar [points].
const HALF: f64 = 9.0;
/// Sizes of type [points].
const TITLE: f64 = 22.0;
const NOTE: f64 = 15.5;
const TICK: f64 = 17.0;
/// Colours of the lower and the upper end.
const LOW: usize = 0;
const HIGH: usize = 1;

/// Each of the few unknowns as a bar from the difference at the lower end of what is held likely to that at the upper
/// end, with 95 % whiskers, a line at the verdict and one at nought, as SVG.
#[must_use]
pub fn tornado_svg(doubt: &Doubt, units: Units) -> String {
    let title = format!("What moves the difference between {} and {}", doubt.a, doubt.b);
    let says = format!(
        "{} {} ahead in the mean; bars show the difference with one unknown at either end of what is held likely",
        doubt.a,
        weight(doubt.difference_kg.mean, units)
    );
    let rows = doubt.few.len().max(1);
    let size = (WIDTH, HEIGHT + (ROW * rows as f64) as u32);
    picture(size, &title, &says, |sheet| draw(sheet, doubt, units))
}

fn draw(sheet: &Sheet<'_>, doubt: &Doubt, units: Units) -> Drawn {
    let room = f64::from(WIDTH) - 2.0 * MARGIN;
    let title = "What could flip the verdict";
    sheet.text(&fit(title, TITLE, true, room), (MARGIN, 26.0), Type::plain(TITLE, INK).bold())?;
    let note = Type::plain(NOTE, MUTED);
    let first = "One unknown at its likely low (blue) or high (orange) end, all others as drawn.";
    sheet.text(&fit(first, NOTE, false, room), (MARGIN, 52.0), note)?;
    let mut rows: Vec<&Few> = doubt.few.iter().filter(|few| !few.line.is_empty()).collect();
    if rows.is_empty() {
        return sheet.text("Nothing differs from day to day.", (MARGIN, TOP + 30.0), note);
    }
    let swing = |few: &Few| {
        let ends = few.line.first().zip(few.line.last());
        ends.map_or(0.0, |(low, high)| (high.mean_kg - low.mean_kg).abs())
    };
    rows.sort_by(|one, other| swing(other).total_cmp(&swing(one)));
    let ends = rows.iter().flat_map(|few| few.line.first().into_iter().chain(few.line.last()));
    let reach = ends
        .flat_map(|point| [point.low95_kg, point.high95_kg])
        .chain([0.0, doubt.difference_kg.mean])
        .map(|kg| weight_on_axis(kg, units));
    let (least, most) = reach.fold((0.0_f64, 0.0_f64), |(a, b), x| (a.min(x), b.max(x)));
    // Room beyond the whiskers for the values that stand beside the bars.
    let pad = 0.17 * (most - least).max(1e-9);
    let bottom = TOP + ROW * rows.len() as f64;
    let (left, right) = (MARGIN, f64::from(WIDTH) - MARGIN);
    let frame = Frame::new((left, right), (TOP, bottom), least - pad..most + pad, 0.0..1.0);
    let x = |kg: f64| frame.at(weight_on_axis(kg, units), 0.0).0;
    for tick in ticks_between(least - pad, most + pad) {
        let (at, _) = frame.at(tick, 0.0);
        upright(sheet, at, rows.len(), GRID, 1.0)?;
        let how = Type::plain(TICK, INK).anchored(HPos::Center);
        sheet.text(&tick_label(tick), (at, bottom + 18.0), how)?;
    }
    upright(sheet, x(0.0), rows.len(), INK, 2.0)?;
    let verdict = x(doubt.difference_kg.mean);
    upright(sheet, verdict, rows.len(), MUTED, 1.5)?;
    for (row, few) in rows.iter().enumerate() {
        draw_row(sheet, few, units, (TOP + ROW * row as f64, left, right), (verdict, &x))?;
    }
    sides(sheet, doubt, (x(0.0), left, right))?;
    let axis = format!("{} less {} [{}]", doubt.a, doubt.b, weight_unit(units));
    let how = Type::plain(TICK, INK).anchored(HPos::Center);
    let below = (0.5 * f64::from(WIDTH), bottom + 42.0);
    sheet.text(&fit(&axis, TICK, false, room), below, how)?;
    let grey = format!(
        "Grey line: {}, as everything is drawn. Whiskers: 95 % interval over {} days.",
        weight(doubt.difference_kg.mean, units),
        doubt.line_days
    );
    sheet.text(&fit(&grey, NOTE, false, room), (MARGIN, bottom + 66.0), note)
}

/// A line from top to bottom that leaves out the names of the rows.
fn upright(sheet: &Sheet<'_>, at: f64, rows: usize, ink: RGBColor, width: f64) -> Drawn {
    (0..rows).try_for_each(|row| {
        let top = TOP + ROW * row as f64;
        sheet.line(&[(at, top + 25.0), (at, top + ROW)], ink, width)
    })
}

/// Which plan wins on which side of nought.
fn sides(sheet: &Sheet<'_>, doubt: &Doubt, (zero, left, right): (f64, f64, f64)) -> Drawn {
    let how = Type::plain(NOTE, INK).bold();
    let (a, b) = (format!("{} ahead", doubt.a), format!("{} ahead", doubt.b));
    let y = TOP - 20.0;
    let a = fit(&a, NOTE, true, (right - zero - 8.0).max(0.0));
    sheet.text(&a, (zero + 8.0, y), how)?;
    let free = zero - left - 8.0;
    // Cut short it would name nobody; the axis says which is taken from which.
    if width(&b, NOTE, true) <= free {
        sheet.text(&b, (zero - 8.0, y), how.anchored(HPos::Right))?;
    }
    Ok(())
}

/// One unknown: its name, its bar from the verdict to either end, the values at the ends.
fn draw_row(
    sheet: &Sheet<'_>,
    few: &Few,
    units: Units,
    (top, left, right): (f64, f64, f64),
    (verdict, x): (f64, &impl Fn(f64) -> f64),
) -> Drawn {
    let Some((low, high)) = few.line.first().zip(few.line.last()) else { return Ok(()) };
    // The name of the number stays whole, for it is what one looks up.
    let key = format!(" ({})", name_of(&few.key));
    let room = right - left - width(&key, NOTE, false);
    let name = format!("{}{key}", fit(&few.says, NOTE, false, room));
    sheet.text(&name, (left, top + 14.0), Type::plain(NOTE, INK))?;
    let y = top + 42.0;
    let bar = |point: &LinePoint, hue: usize| {
        let (from, to) = (verdict, x(point.mean_kg));
        let corners = [(from, y - HALF), (to, y - HALF), (to, y + HALF), (from, y + HALF)];
        sheet.area(&corners, colour(hue), 0.85)
    };
    // The longer first, so that both show where they lie on one side.
    let far = |point: &LinePoint| (x(point.mean_kg) - verdict).abs();
    if far(low) >= far(high) {
        bar(low, LOW)?;
        bar(high, HIGH)?;
    } else {
        bar(high, HIGH)?;
        bar(low, LOW)?;
    }
    let leftmost = if low.mean_kg <= high.mean_kg { low } else { high };
    // The values stand beyond both whiskers, the verdict and the bars.
    let ends = [low.low95_kg, low.high95_kg, high.low95_kg, high.high95_kg].map(x);
    let outer = ends.iter().fold((verdict, verdict), |(a, b), &end| (a.min(end), b.max(end)));
    for point in [low, high] {
        let (from, to) = (x(point.low95_kg), x(point.high95_kg));
        sheet.line(&[(from, y), (to, y)], INK, 1.5)?;
        for end in [from, to] {
            sheet.line(&[(end, y - 5.0), (end, y + 5.0)], INK, 1.5)?;
        }
        let says = value_words(point.value, &few.unit, units);
        let (at, anchor) = if std::ptr::eq(point, leftmost) {
            let reach = outer.0 - 7.0;
            (reach.max(left + width(&says, NOTE, false)), HPos::Right)
        } else {
            let reach = outer.1 + 7.0;
            (reach.min(right - width(&says, NOTE, false)), HPos::Left)
        };
        sheet.text(&says, (at, y), Type::plain(NOTE, INK).anchored(anchor))?;
    }
    Ok(())
}
