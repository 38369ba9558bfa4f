//! What all charts share: sizes, margins, the head, and labels along an axis.

use plotters::style::text_anchor::HPos;

use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, MUTED, PlotArea, Position, TextStyle, fit, text_width,
};
use crate::report::format::trimmed_number;

/// Labels nearer to an edge than this are anchored to it [points].
const EDGE: f64 = 20.0;
/// Gap between the labels of the vertical axis and the plot area [points].
pub(crate) const LABEL_GAP: f64 = 10.0;

/// Width, margin and font sizes of a chart [points].
pub(crate) struct Layout {
    /// Width of the picture.
    pub(crate) width: f64,
    /// Blank margin on all sides.
    pub(crate) margin: f64,
    /// Font size of the title.
    pub(crate) title: f64,
    /// Font size of notes.
    pub(crate) note: f64,
    /// Font size of labels along axes.
    pub(crate) tick: f64,
}

/// Charts that are still readable at half their size, on a phone.
pub(crate) const LARGE: Layout =
    Layout { width: 720.0, margin: 22.0, title: 28.0, note: 21.0, tick: 22.0 };
/// Charts with many panels or cells.
pub(crate) const DENSE: Layout =
    Layout { width: 720.0, margin: 20.0, title: 26.0, note: 16.5, tick: 15.5 };
/// Narrow charts.
pub(crate) const NARROW: Layout =
    Layout { width: 560.0, margin: 18.0, title: 22.0, note: 15.5, tick: 16.5 };

impl Layout {
    /// Right edge of the contents.
    pub(crate) const fn right(&self) -> f64 {
        self.width - self.margin
    }

    /// Width of the contents.
    pub(crate) const fn room(&self) -> f64 {
        self.width - 2.0 * self.margin
    }

    /// Size of the picture with a height, rounded up to an even number of points.
    pub(crate) fn size(&self, height: f64) -> (u32, u32) {
        (self.width as u32, 2 * (0.5 * height).ceil() as u32)
    }

    /// The style of labels along axes.
    pub(crate) const fn tick_style(&self) -> TextStyle {
        TextStyle::plain(self.tick, INK)
    }

    /// The style of notes.
    pub(crate) const fn note_style(&self) -> TextStyle {
        TextStyle::plain(self.note, MUTED)
    }

    /// Writes the title and the notes below it, a line each.
    pub(crate) fn head(&self, canvas: &Canvas<'_>, title: &str, notes: &[&str]) -> DrawResult {
        let mut y = 1.2 * self.title;
        let style = TextStyle::plain(self.title, INK).bold();
        canvas.text(&fit(title, self.title, true, self.room()), (self.margin, y), style)?;
        y += 0.45 * self.note;
        for note in notes {
            y += 1.3 * self.note;
            let note = fit(note, self.note, false, self.room());
            canvas.text(&note, (self.margin, y), self.note_style())?;
        }
        Ok(())
    }

    /// Width of the widest number along the vertical axis.
    pub(crate) fn widest_tick(&self, ticks: &[f64]) -> f64 {
        let widths = ticks.iter().map(|tick| text_width(&trimmed_number(*tick), self.tick, false));
        widths.fold(0.0, f64::max)
    }

    /// Draws a horizontal grid line from `left` to `right` at each tick, with its number left of it.
    pub(crate) fn horizontal_grid(
        &self,
        canvas: &Canvas<'_>,
        area: &PlotArea,
        ticks: &[f64],
        (left, right): (f64, f64),
    ) -> DrawResult {
        ticks.iter().try_for_each(|tick| {
            let (_, y) = area.position(0.0, *tick);
            canvas.line(&[(left, y), (right, y)], GRID, 1.25)?;
            let style = self.tick_style().anchored(HPos::Right);
            canvas.text(&trimmed_number(*tick), (left - LABEL_GAP, y), style)
        })
    }

    /// Draws a tick and its number below the horizontal axis; near the edges the number stays inside the margin.
    pub(crate) fn tick_below(
        &self,
        canvas: &Canvas<'_>,
        (x, y): Position,
        tick: f64,
    ) -> DrawResult {
        canvas.line(&[(x, y), (x, y + 6.0)], INK, 1.25)?;
        self.number_below(canvas, (x, y + 22.0), tick)
    }

    /// Writes a number centred on `x`; near the edges it stays inside the margin.
    pub(crate) fn number_below(
        &self,
        canvas: &Canvas<'_>,
        at: Position,
        number: f64,
    ) -> DrawResult {
        let anchor = match at.0 {
            x if x < self.margin + EDGE => HPos::Left,
            x if x > self.right() - EDGE => HPos::Right,
            _ => HPos::Center,
        };
        canvas.text(&trimmed_number(number), at, self.tick_style().anchored(anchor))
    }
}

/// Texts side by side, of which those that would overlap an earlier one are left out.
#[derive(Default)]
pub(crate) struct FreeSpans {
    taken: Vec<(f64, f64)>,
}

impl FreeSpans {
    /// Takes the span from `from` to `to`, unless it overlaps a span that is taken already.
    pub(crate) fn take(&mut self, from: f64, to: f64) -> bool {
        let is_free = self.taken.iter().all(|&(left, right)| to <= left || from >= right);
        if is_free {
            self.taken.push((from, to));
        }
        is_free
    }
}
