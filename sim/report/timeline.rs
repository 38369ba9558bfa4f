//! A plan along the session: which line the rod fishes when, and what is fed meanwhile.

use plotters::style::text_anchor::HPos;

use super::marker::{colour, shade};
use super::schedule::{Words, feeding, rod};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Sheet, Type, picture};
use super::ticks::{hour_ticks, tick_label};
use super::typeface::{fit, width};
use crate::angler::Plan;

/// Width of the picture [points].
const WIDTH: u32 = 720;
/// Blank margin [points].
const MARGIN: f64 = 22.0;
/// Height of a row: words with a bar below them [points].
const ROW: f64 = 58.0;
/// Sizes of type [points].
const WORD: f64 = 20.0;
const TICK: f64 = 19.0;

/// One row.
struct Row {
    from_h: f64,
    until_h: f64,
    says: String,
    feeds: bool,
}

/// What the plan in the colour of `place` does from when to when, as SVG.
pub(super) fn timeline_svg(plan: &Plan, place: usize, words: &Words<'_>) -> String {
    let row = |from_s: f64, until_s: f64, says: String, feeds| Row {
        from_h: from_s / 3600.0,
        until_h: until_s / 3600.0,
        says,
        feeds,
    };
    let fishes = rod(plan).into_iter().map(|stint| {
        let says =
            format!("fish {}, recast {}", words.line(stint.does.line), words.recast(stint.does));
        row(stint.from_s, stint.until_s, says, false)
    });
    let feeds = feeding(plan).into_iter().map(|stint| {
        let says = format!("feed {}: {}", words.line(stint.does.line), words.feed(&stint.does));
        row(stint.from_s, stint.until_s, says, true)
    });
    let rows: Vec<Row> = fishes.chain(feeds).collect();
    let height = ROW * rows.len() as f64 + 62.0;
    let title = format!("{} along the session", plan.name);
    let says: Vec<&str> = rows.iter().map(|row| row.says.as_str()).collect();
    let session_h = words.scenario.session_s / 3600.0;
    picture((WIDTH, height as u32), &title, &says.join("; "), |sheet| {
        draw(sheet, &rows, place, session_h)
    })
}

fn draw(sheet: &Sheet<'_>, rows: &[Row], place: usize, session_h: f64) -> Drawn {
    let right = f64::from(WIDTH) - MARGIN;
    let floor = 10.0 + ROW * rows.len() as f64;
    let frame = Frame::new((MARGIN, right), (10.0, floor), 0.0..session_h, 0.0..1.0);
    for tick in hour_ticks(session_h) {
        let (x, _) = frame.at(tick, 0.0);
        sheet.line(&[(x, 10.0), (x, floor)], GRID, 1.25)?;
        let anchor = match x {
            x if x < MARGIN + 20.0 => HPos::Left,
            x if x > right - 20.0 => HPos::Right,
            _ => HPos::Center,
        };
        sheet.text(
            &tick_label(tick),
            (x, floor + 16.0),
            Type::plain(TICK, INK).anchored(anchor),
        )?;
    }
    let below = Type::plain(TICK, MUTED).anchored(HPos::Center);
    sheet.text("hours from the start", (0.5 * (MARGIN + right), floor + 40.0), below)?;
    for (at, row) in (0_u32..).zip(rows) {
        let y = 10.0 + ROW * f64::from(at);
        let ((from, _), (until, _)) = (frame.at(row.from_h, 0.0), frame.at(row.until_h, 0.0));
        let (top, hue) = if row.feeds { (y + 36.0, shade(1)) } else { (y + 32.0, colour(place)) };
        let corners = [(from, top), (until, top), (until, y + 48.0), (from, y + 48.0)];
        sheet.area(&corners, hue, 1.0)?;
        // Words begin with the bar, or end at the edge where it begins late.
        let says = fit(&row.says, WORD, false, right - MARGIN);
        let late = from + width(&says, WORD, false) > right;
        let (x, anchor) = if late { (right, HPos::Right) } else { (from, HPos::Left) };
        sheet.text(&says, (x, y + 17.0), Type::plain(WORD, INK).anchored(anchor))?;
    }
    Ok(())
}
