//! What a log taught: each unknown before and after, on the range that was likely before.

use plotters::style::text_anchor::HPos;

use super::layout::DENSE;
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, MUTED, PlotArea, colour, outline, picture, wrap,
};
use crate::report::format::{learned_range, one_line};
use crate::scenario::Units;
use crate::study::{FitResult, LearnedUnknown};

/// Height without rows, and of each row [points].
const HEIGHT: f64 = 176.0;
const ROW: f64 = 104.0;
/// Upper edge of the rows [points].
const TOP: f64 = 112.0;
/// From the upper edge of a row to the last line of its name, to its values and to its bars [points].
const NAME: f64 = 38.0;
const VALUES: f64 = 60.0;
const BAR: f64 = 80.0;
/// Height of a line of a name [points].
const LINE: f64 = 20.0;
/// Lines of a name, which is set bold and so is wider than it is measured.
const NAME_LINES: usize = 2;
const BOLD_WIDER: f64 = 1.12;
/// Nine of ten values lie within this score of the middle.
const SCORE_90: f64 = 1.645;
/// The scores at the ends of the axis.
const MAX_SCORE: f64 = 2.0;
/// Colour and mark of what was learnt.
const HUE: usize = 0;

/// Each unknown that the log taught something of, as SVG: a grey bar for what was likely before, a coloured one for after.
pub fn unknowns_svg(result: &FitResult) -> String {
    let title = "What the log taught";
    let description: Vec<String> = result
        .learned
        .iter()
        .map(|unknown| format!("{}: {}", one_line(&unknown.meaning), shown(unknown)))
        .collect();
    let rows = result.learned.len();
    let size = DENSE.size(HEIGHT + ROW * rows as f64);
    picture(size, title, &description.join("; "), |canvas| {
        let notes = [
            "Grey: nine of ten values that were likely before the log.",
            "Blue: nine of ten after it, with the middle marked.",
        ];
        DENSE.head(canvas, title, &notes)?;
        draw(canvas, result)
    })
}

fn shown(unknown: &LearnedUnknown) -> String {
    let side = |values| learned_range(values, &unknown.unit, Units::Metric);
    format!("{} → {}", side(unknown.before), side(unknown.after))
}

fn draw(canvas: &Canvas<'_>, result: &FitResult) -> DrawResult {
    let bottom = TOP + ROW * result.learned.len() as f64;
    let edges = (DENSE.margin + 12.0, DENSE.right() - 12.0);
    let area = PlotArea::new(edges, (TOP, bottom), -MAX_SCORE..MAX_SCORE, 0.0..1.0);
    let x = |score: f64| area.position(score, 0.0).0;
    for (row, unknown) in result.learned.iter().enumerate() {
        let top = TOP + ROW * row as f64;
        let style = DENSE.tick_style();
        let room = DENSE.room() / BOLD_WIDER;
        let name = wrap(&one_line(&unknown.meaning), DENSE.tick, room, NAME_LINES);
        for (line, below) in name.iter().zip((0..name.len()).rev()) {
            let y = top + NAME - LINE * below as f64;
            canvas.text(line, (DENSE.margin, y), style.bold())?;
        }
        canvas.text(&shown(unknown), (DENSE.margin, top + VALUES), style)?;
        let y = top + BAR;
        canvas.rectangle((x(-SCORE_90), x(SCORE_90)), (y - 9.0, y + 9.0), GRID, 1.0)?;
        let [low, middle, high] = unknown.after_scores;
        canvas.rectangle((x(low), x(high)), (y - 5.0, y + 5.0), colour(HUE), 1.0)?;
        canvas.mark((x(middle), y), 7.0, outline(HUE), colour(HUE))?;
    }
    canvas.line(&[(edges.0, bottom + 8.0), (edges.1, bottom + 8.0)], INK, 1.25)?;
    let style = DENSE.note_style();
    for (score, text, anchor) in [
        (-MAX_SCORE, "lowest believed", HPos::Left),
        (0.0, "believed", HPos::Center),
        (MAX_SCORE, "highest believed", HPos::Right),
    ] {
        canvas.line(&[(x(score), bottom + 8.0), (x(score), bottom + 14.0)], MUTED, 1.25)?;
        canvas.text(text, (x(score), bottom + 32.0), style.anchored(anchor))?;
    }
    Ok(())
}
