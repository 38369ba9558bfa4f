//! The card on one page of A4, which is still readable when printed on A5.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;

use super::content::{Card, RULES_HEAD};

use crate::report::draw::{GRID, INK, MUTED, Position, TextStyle, fit, picture, text_width, wrap};
use crate::report::text::{CAUTIONS, LOCAL_RULES_FIRST};

/// The page: A4 in points of 1/72 inch.
const SIZE: (u32, u32) = (595, 842);
/// Blank margin [points].
const MARGIN: f64 = 36.0;
/// White background, which saves ink.
const WHITE: RGBColor = RGBColor(255, 255, 255);
/// Scales tried in turn until everything fits, and then maximum numbers of entries in each list.
const SCALES: [f64; 12] = [1.25, 1.2, 1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7];
const MAX_ENTRIES: [usize; 5] = [24, 16, 10, 6, 3];
/// Line spacing, in font sizes.
const LEADING: f64 = 1.3;

/// The card as a page of A4, as SVG.
pub fn card_svg(card: &Card) -> String {
    let floor = f64::from(SIZE.1) - MARGIN;
    let all = SCALES.into_iter().map(|scale| (scale, usize::MAX));
    let smallest = SCALES[SCALES.len() - 1];
    let cut = MAX_ENTRIES.into_iter().map(|max_entries| (smallest, max_entries));
    let layout = |(scale, max_entries): (f64, usize)| PageLayout::new(card, scale, max_entries);
    let page = all
        .chain(cut)
        .map(layout)
        .find(|page| page.y <= floor)
        .unwrap_or_else(|| layout((smallest, 1)));
    let title = format!("Card: {}", card.plan);
    let (right, bottom) = (f64::from(SIZE.0), f64::from(SIZE.1));
    picture(SIZE, &title, &card.about, |canvas| {
        canvas.polygon(&[(0.0, 0.0), (right, 0.0), (right, bottom), (0.0, bottom)], WHITE, 1.0)?;
        for (from, to, colour, width) in &page.lines {
            canvas.line(&[*from, *to], *colour, *width)?;
        }
        page.texts
            .iter()
            .try_for_each(|(text, position, style)| canvas.text(text, *position, *style))
    })
}

/// Texts and lines placed down the page.
struct PageLayout {
    texts: Vec<(String, Position, TextStyle)>,
    lines: Vec<(Position, Position, RGBColor, f64)>,
    /// The lower edge of what is placed so far [points].
    y: f64,
    scale: f64,
    /// Maximum number of entries in a list.
    max_entries: usize,
}

/// Left and right edge of a text.
type Edges = (f64, f64);

/// The whole width.
const FULL_WIDTH: Edges = (MARGIN, SIZE.0 as f64 - MARGIN);

impl PageLayout {
    /// Places everything with fonts scaled by `scale` and at most `max_entries` in each list.
    fn new(card: &Card, scale: f64, max_entries: usize) -> Self {
        let mut page = Self { texts: Vec::new(), lines: Vec::new(), y: MARGIN, scale, max_entries };
        let (left, right) = FULL_WIDTH;
        page.cut(&card.plan, FULL_WIDTH, 25.0, INK);
        page.words(&card.about, FULL_WIDTH, 11.5, MUTED, 2);
        page.head("What to do when", FULL_WIDTH);
        let times = left + 84.0 * scale;
        page.list(&card.steps, FULL_WIDTH, |page, step| {
            let top = page.y;
            page.cut(&step.times, (left, times), 12.0, INK);
            page.y = top;
            page.bold_words(&step.what, (times, right), 12.0);
            page.words(&step.how, (times, right), 12.0, INK, 3);
            page.y += 4.0 * page.scale;
        });
        if !card.rules.is_empty() {
            page.head(RULES_HEAD, FULL_WIDTH);
            page.list(&card.rules, FULL_WIDTH, |page, rule| page.item(rule, FULL_WIDTH, 12.0, INK));
        }
        let middle = left + 0.64 * (right - left);
        let top = page.y;
        page.expected(card, (left, middle - 14.0));
        let below = page.y;
        page.y = top;
        page.baits(card, (middle + 6.0, right));
        page.y = page.y.max(below);
        page.cautions(card);
        page.y += 6.0 * scale;
        page.words(&card.source, FULL_WIDTH, 8.5, MUTED, 2);
        page
    }

    /// Places what to expect at different times.
    fn expected(&mut self, card: &Card, column: Edges) {
        self.head("Are you behind?", column);
        let heads = ["after", "behind if under", "usual", "good day", "fish"].map(str::to_owned);
        let rows: Vec<[String; 5]> = card
            .hours
            .iter()
            .map(|by| [&by.after, &by.behind, &by.usual, &by.good, &by.fish].map(Clone::clone))
            .collect();
        let (left, right) = column;
        // Each column is as wide as its widest cell; what is left is shared by all.
        let size = 12.0 * self.scale;
        let column_width = |index: usize| {
            let cells = rows.iter().map(|row| text_width(&row[index], size, false));
            cells.fold(text_width(&heads[index], 9.0 * self.scale, false), f64::max)
        };
        let widths = [0, 1, 2, 3, 4].map(column_width);
        let gap = ((right - left - widths.iter().sum::<f64>()) / 4.5).clamp(4.0, 60.0);
        let all: f64 = widths.iter().sum::<f64>() + 4.0 * gap;
        let fits = ((right - left) / all).min(1.0);
        let mut next = left;
        let columns = widths.map(|width| {
            let left = next;
            next += fits * (width + gap);
            left
        });
        self.row(&heads, &columns, right, 9.0 * fits, MUTED);
        self.list(&rows, column, |page, row| page.row(row, &columns, right, 12.0 * fits, INK));
        self.words(&card.note, column, 9.0, MUTED, 3);
    }

    /// Places the baits to bring.
    fn baits(&mut self, card: &Card, column: Edges) {
        self.head("Bring", column);
        self.list(&card.baits, column, |page, (bait, amount)| {
            page.words(&format!("{amount} {bait}"), column, 12.0, INK, 6);
        });
        self.words("Enough for nine days in ten.", column, 9.0, MUTED, 2);
        self.list(&card.others, column, |page, (what, which)| {
            page.words(&format!("{what}: {which}"), column, 12.0, INK, 3);
        });
    }

    /// Places warnings and cautions, the cautions in two columns.
    fn cautions(&mut self, card: &Card) {
        let (left, right) = FULL_WIDTH;
        self.head("Take care", FULL_WIDTH);
        self.list(&card.warnings, FULL_WIDTH, |page, warning| {
            page.item(warning, FULL_WIDTH, 10.5, INK)
        });
        self.words(LOCAL_RULES_FIRST, FULL_WIDTH, 10.5, INK, 2);
        self.y += 3.0 * self.scale;
        let middle = 0.5 * (left + right);
        let columns = [(left, middle - 9.0), (middle + 9.0, right)];
        for pair in CAUTIONS.chunks(2) {
            let top = self.y;
            let mut below = top;
            for (caution, column) in pair.iter().zip(columns) {
                self.y = top;
                self.cut(caution.head, column, 10.5, INK);
                self.words(caution.advice, column, 10.0, INK, 6);
                below = below.max(self.y + 3.0 * self.scale);
            }
            self.y = below;
        }
    }

    /// Places a heading with a line under it.
    fn head(&mut self, text: &str, (left, right): Edges) {
        self.y += 11.0 * self.scale;
        self.cut(text, (left, right), 13.5, INK);
        self.y += 1.0;
        self.lines.push(((left, self.y), (right, self.y), INK, 1.0));
        self.y += 4.0 * self.scale;
    }

    /// Places as many entries as allowed, and says how many are left out.
    fn list<T>(&mut self, all: &[T], column: Edges, place: impl Fn(&mut Self, &T)) {
        let shown = self.max_entries.min(all.len());
        all[..shown].iter().for_each(|entry| place(self, entry));
        if shown < all.len() {
            let more = format!("and {} more, see card.html", all.len() - shown);
            self.words(&more, column, 10.0, MUTED, 1);
        }
    }

    /// Places an entry with a dash before it.
    fn item(&mut self, text: &str, (left, right): Edges, size: f64, ink: RGBColor) {
        let top = self.y;
        self.words("–", (left, left + 12.0), size, ink, 1);
        self.y = top;
        self.words(text, (left + 12.0, right), size, ink, 4);
    }

    /// Places a text on at most `max_lines` lines.
    fn words(
        &mut self,
        text: &str,
        (left, right): Edges,
        size: f64,
        ink: RGBColor,
        max_lines: usize,
    ) {
        let size = size * self.scale;
        for line in wrap(text, size, right - left, max_lines) {
            self.line(line, left, TextStyle::plain(size, ink));
        }
    }

    /// Places a bold text on at most three lines.
    fn bold_words(&mut self, text: &str, (left, right): Edges, size: f64) {
        let size = size * self.scale;
        // Lines are wrapped by the width of the regular face; bold is wider.
        let wider = text_width(text, size, true) / text_width(text, size, false).max(1.0);
        for line in wrap(text, size, (right - left) / wider.max(1.0) - 2.0, 3) {
            let line = fit(&line, size, true, right - left);
            self.line(line, left, TextStyle::plain(size, INK).bold());
        }
    }

    /// Places a bold text on one line, cut if it is too long.
    fn cut(&mut self, text: &str, (left, right): Edges, size: f64, ink: RGBColor) {
        let size = size * self.scale;
        let line = fit(text, size, true, right - left);
        self.line(line, left, TextStyle::plain(size, ink).bold());
    }

    /// Places one line.
    fn line(&mut self, text: String, left: f64, style: TextStyle) {
        let high = LEADING * style.size;
        self.texts.push((text, (left, self.y + 0.5 * high), style.anchored(HPos::Left)));
        self.y += high;
    }

    /// Places cells side by side, with a line under them up to `right`.
    fn row(
        &mut self,
        cells: &[String; 5],
        columns: &[f64; 5],
        right: f64,
        size: f64,
        ink: RGBColor,
    ) {
        let (size, top) = (size * self.scale, self.y);
        for (cell, &left) in cells.iter().zip(columns) {
            self.y = top;
            self.line(cell.clone(), left, TextStyle::plain(size, ink));
        }
        self.y += 1.0;
        self.lines.push(((columns[0], self.y), (right, self.y), GRID, 0.75));
        self.y += 1.0;
    }
}
