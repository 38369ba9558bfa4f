//! A plan along the session: which line the rod fishes when, and what is fed meanwhile.

use plotters::style::text_anchor::HPos;

use super::layout::LARGE;
use crate::angler::Plan;
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, PlotArea, TextStyle, colour, fit, hour_ticks, picture, shade,
    text_width,
};
use crate::report::view::{PlanWords, feeding_schedule, rod_schedule};

/// Height of a row: text with a bar below it [points].
const ROW: f64 = 58.0;
/// Upper edge of the rows [points].
const TOP: f64 = 10.0;

/// One row.
struct TimelineRow {
    from_h: f64,
    until_h: f64,
    text: String,
    is_feed: bool,
}

/// What a plan does from when to when, in the colour of plan `index`, as SVG.
pub(crate) fn timeline_svg(plan: &Plan, index: usize, words: &PlanWords<'_>) -> String {
    let row = |from_s: f64, until_s: f64, text: String, is_feed| TimelineRow {
        from_h: from_s / 3600.0,
        until_h: until_s / 3600.0,
        text,
        is_feed,
    };
    let fishing = rod_schedule(plan).into_iter().map(|stint| {
        let line = words.line(stint.action.line);
        let text = format!("fish {line}, recast {}", words.recast(&stint.action));
        row(stint.from_s, stint.until_s, text, false)
    });
    let feeding = feeding_schedule(plan).into_iter().map(|stint| {
        let line = words.line(stint.action.line);
        let text = format!("feed {line}: {}", words.feed(&stint.action));
        row(stint.from_s, stint.until_s, text, true)
    });
    let rows: Vec<TimelineRow> = fishing.chain(feeding).collect();
    let title = format!("{} along the session", plan.name);
    let description: Vec<&str> = rows.iter().map(|row| row.text.as_str()).collect();
    let session_h = words.scenario.session_s / 3600.0;
    let size = LARGE.size(ROW * rows.len() as f64 + 62.0);
    picture(size, &title, &description.join("; "), |canvas| draw(canvas, &rows, index, session_h))
}

fn draw(canvas: &Canvas<'_>, rows: &[TimelineRow], index: usize, session_h: f64) -> DrawResult {
    let (left, right) = (LARGE.margin, LARGE.right());
    let floor = TOP + ROW * rows.len() as f64;
    let area = PlotArea::new((left, right), (TOP, floor), 0.0..session_h, 0.0..1.0);
    for tick in hour_ticks(session_h) {
        let (x, _) = area.position(tick, 0.0);
        canvas.line(&[(x, TOP), (x, floor)], GRID, 1.25)?;
        LARGE.number_below(canvas, (x, floor + 16.0), tick)?;
    }
    let caption = LARGE.note_style().anchored(HPos::Center);
    canvas.text("hours from the start", (0.5 * (left + right), floor + 40.0), caption)?;
    for (number, row) in (0_u32..).zip(rows) {
        let y = TOP + ROW * f64::from(number);
        let (from, until) = (area.position(row.from_h, 0.0).0, area.position(row.until_h, 0.0).0);
        let (top, hue) = if row.is_feed { (y + 36.0, shade(1)) } else { (y + 32.0, colour(index)) };
        canvas.rectangle((from, until), (top, y + 48.0), hue, 1.0)?;
        // The text begins with its bar, or ends at the right edge if there is no room.
        let text = fit(&row.text, LARGE.note, false, LARGE.room());
        let is_late = from + text_width(&text, LARGE.note, false) > right;
        let (x, anchor) = if is_late { (right, HPos::Right) } else { (from, HPos::Left) };
        let style = TextStyle::plain(LARGE.note, INK).anchored(anchor);
        canvas.text(&text, (x, y + 17.0), style)?;
    }
    Ok(())
}
