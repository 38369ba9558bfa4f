//! The card on one sheet of A4, large enough to be read when printed on A5.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;
use resvg::usvg;
use svg2pdf::{ConversionOptions, PageOptions};

use super::super::bank::{CAUTIONS, FIRST};
use super::super::png::tree;
use super::super::sheet::{GRID, INK, MUTED, Place, Type, picture};
use super::super::typeface::{fit, fold, width};
use super::content::Card;

/// The sheet: A4 in points of 1/72 inch.
const SIZE: (u32, u32) = (595, 842);
/// Blank margin [points].
const MARGIN: f64 = 36.0;
/// White paper; ink is saved.
const WHITE: RGBColor = RGBColor(255, 255, 255);
/// Scales tried until all fits, and then most entries of each list.
const SCALES: [f64; 12] = [1.25, 1.2, 1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7];
const MOST: [usize; 5] = [24, 16, 10, 6, 3];
/// From one line to the next, in sizes of type.
const LEADING: f64 = 1.3;

/// Why a card could not be made into a PDF.
#[derive(Debug, thiserror::Error)]
pub enum CardPdfError {
    /// The sheet is not sound SVG.
    #[error("the card is not sound SVG: {0}")]
    Unsound(#[from] usvg::Error),
    /// It could not be converted.
    #[error("the card could not be made into a PDF: {0}")]
    Converting(String),
}

/// The card as a sheet of A4, as SVG.
#[must_use]
pub fn card_svg(card: &Card) -> String {
    let floor = f64::from(SIZE.1) - MARGIN;
    let all = SCALES.into_iter().map(|scale| (scale, usize::MAX));
    let smallest = SCALES[SCALES.len() - 1];
    let cut = MOST.into_iter().map(|most| (smallest, most));
    let laid = |(scale, most): (f64, usize)| Layout::of(card, scale, most);
    let layout = all
        .chain(cut)
        .map(laid)
        .find(|layout| layout.y <= floor)
        .unwrap_or_else(|| laid((smallest, 1)));
    let title = format!("Card: {}", card.plan);
    let (right, bottom) = (f64::from(SIZE.0), f64::from(SIZE.1));
    picture(SIZE, &title, &card.about, |sheet| {
        sheet.area(&[(0.0, 0.0), (right, 0.0), (right, bottom), (0.0, bottom)], WHITE, 1.0)?;
        for (from, to, colour, wide) in &layout.lines {
            sheet.line(&[*from, *to], *colour, *wide)?;
        }
        layout.texts.iter().try_for_each(|(text, at, how)| sheet.text(text, *at, *how))
    })
}

/// The card as a PDF of one page of A4.
///
/// # Errors
///
/// If the sheet cannot be converted.
pub fn card_pdf(card: &Card) -> Result<Vec<u8>, CardPdfError> {
    // The sheet's points are those of PDF: 72 to the inch.
    let page = PageOptions { dpi: 72.0 };
    // Outlines in place of text: with embedded fonts the converter writes its objects in a chance order, and the
    // same card must give the same bytes. Who wants the words has them in the page for the phone.
    let outlines = ConversionOptions { embed_text: false, ..ConversionOptions::default() };
    svg2pdf::to_pdf(&tree(&card_svg(card))?, outlines, page)
        .map_err(|why| CardPdfError::Converting(why.to_string()))
}

/// Texts and lines placed down the sheet.
struct Layout {
    texts: Vec<(String, Place, Type)>,
    lines: Vec<(Place, Place, RGBColor, f64)>,
    /// How far down it is written.
    y: f64,
    scale: f64,
    /// Most entries of a list.
    most: usize,
}

/// From where to where words may stand.
type Column = (f64, f64);

/// The whole width.
const ACROSS: Column = (MARGIN, SIZE.0 as f64 - MARGIN);

impl Layout {
    fn of(card: &Card, scale: f64, most: usize) -> Self {
        let mut page = Self { texts: Vec::new(), lines: Vec::new(), y: MARGIN, scale, most };
        let (left, right) = ACROSS;
        page.cut(&card.plan, ACROSS, 25.0, INK);
        page.words(&card.about, ACROSS, 11.5, MUTED, 2);
        page.head("What to do when", ACROSS);
        let times = left + 84.0 * scale;
        page.list(&card.steps, ACROSS, |page, step| {
            let top = page.y;
            page.cut(&step.times, (left, times), 12.0, INK);
            page.y = top;
            page.bold_words(&step.what, (times, right), 12.0);
            page.words(&step.how, (times, right), 12.0, INK, 3);
            page.y += 4.0 * page.scale;
        });
        if !card.rules.is_empty() {
            page.head("Rules", ACROSS);
            page.list(&card.rules, ACROSS, |page, rule| page.item(rule, ACROSS, 12.0, INK));
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
        page.words(&card.source, ACROSS, 8.5, MUTED, 2);
        page
    }

    /// What to expect by when.
    fn expected(&mut self, card: &Card, column: Column) {
        self.head("Are you behind?", column);
        let heads = ["after", "behind if under", "usual", "good day", "fish"].map(str::to_owned);
        let rows: Vec<[String; 5]> = card
            .hours
            .iter()
            .map(|by| [&by.after, &by.behind, &by.usual, &by.good, &by.fish].map(Clone::clone))
            .collect();
        let (left, right) = column;
        // Each column is as wide as its widest cell, and all share what is left over.
        let size = 12.0 * self.scale;
        let wide = |at: usize| {
            let cells = rows.iter().map(|row| width(&row[at], size, false));
            cells.fold(width(&heads[at], 9.0 * self.scale, false), f64::max)
        };
        let widths = [0, 1, 2, 3, 4].map(wide);
        let gap = ((right - left - widths.iter().sum::<f64>()) / 4.5).clamp(4.0, 60.0);
        let all: f64 = widths.iter().sum::<f64>() + 4.0 * gap;
        let fits = ((right - left) / all).min(1.0);
        let mut next = left;
        let columns = widths.map(|wide| {
            let at = next;
            next += fits * (wide + gap);
            at
        });
        self.row(&heads, &columns, right, 9.0 * fits, MUTED);
        self.list(&rows, column, |page, row| page.row(row, &columns, right, 12.0 * fits, INK));
        let note = "One day in ten is behind, one in ten is a good day. Fish: on average.";
        self.words(note, column, 9.0, MUTED, 3);
    }

    /// What to bring.
    fn baits(&mut self, card: &Card, column: Column) {
        self.head("Bring", column);
        self.list(&card.baits, column, |page, (bait, amount)| {
            page.words(&format!("{amount} {bait}"), column, 12.0, INK, 3);
        });
        self.words("Enough for nine days in ten.", column, 9.0, MUTED, 2);
    }

    /// What to take care of, in two columns.
    fn cautions(&mut self, card: &Card) {
        let (left, right) = ACROSS;
        self.head("Take care", ACROSS);
        self.list(&card.warnings, ACROSS, |page, says| page.item(says, ACROSS, 10.5, INK));
        self.words(FIRST, ACROSS, 10.5, INK, 2);
        self.y += 3.0 * self.scale;
        let middle = 0.5 * (left + right);
        let columns = [(left, middle - 9.0), (middle + 9.0, right)];
        for pair in CAUTIONS.chunks(2) {
            let top = self.y;
            let mut below = top;
            for (caution, column) in pair.iter().zip(columns) {
                self.y = top;
                self.cut(caution.head, column, 10.5, INK);
                self.words(caution.says, column, 10.0, INK, 6);
                below = below.max(self.y + 3.0 * self.scale);
            }
            self.y = below;
        }
    }

    /// A heading with a line under it.
    fn head(&mut self, says: &str, (left, right): Column) {
        self.y += 11.0 * self.scale;
        self.cut(says, (left, right), 13.5, INK);
        self.y += 1.0;
        self.lines.push(((left, self.y), (right, self.y), INK, 1.0));
        self.y += 4.0 * self.scale;
    }

    /// As many entries as may stand, and how many were left out.
    fn list<T>(&mut self, all: &[T], column: Column, set: impl Fn(&mut Self, &T)) {
        let shown = self.most.min(all.len());
        all[..shown].iter().for_each(|entry| set(self, entry));
        if shown < all.len() {
            let more = format!("and {} more, see card.html", all.len() - shown);
            self.words(&more, column, 10.0, MUTED, 1);
        }
    }

    /// An entry with a dash before it.
    fn item(&mut self, says: &str, (left, right): Column, size: f64, ink: RGBColor) {
        let top = self.y;
        self.words("–", (left, left + 12.0), size, ink, 1);
        self.y = top;
        self.words(says, (left + 12.0, right), size, ink, 4);
    }

    /// Words folded into a column.
    fn words(&mut self, says: &str, (left, right): Column, size: f64, ink: RGBColor, most: usize) {
        let size = size * self.scale;
        for line in fold(says, size, right - left, most) {
            self.line(line, left, Type::plain(size, ink));
        }
    }

    /// Words in bold, folded into a column.
    fn bold_words(&mut self, says: &str, (left, right): Column, size: f64) {
        let size = size * self.scale;
        // Bold is wider than what the words are folded by.
        let wider = width(says, size, true) / width(says, size, false).max(1.0);
        for line in fold(says, size, (right - left) / wider.max(1.0) - 2.0, 3) {
            let line = fit(&line, size, true, right - left);
            self.line(line, left, Type::plain(size, INK).bold());
        }
    }

    /// Bold words on one line, cut where they must be.
    fn cut(&mut self, says: &str, (left, right): Column, size: f64, ink: RGBColor) {
        let size = size * self.scale;
        let line = fit(says, size, true, right - left);
        self.line(line, left, Type::plain(size, ink).bold());
    }

    fn line(&mut self, text: String, left: f64, how: Type) {
        let high = LEADING * how.size;
        self.texts.push((text, (left, self.y + 0.5 * high), how.anchored(HPos::Left)));
        self.y += high;
    }

    /// Cells side by side, with a line under them up to `right`.
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
            self.line(cell.clone(), left, Type::plain(size, ink));
        }
        self.y += 1.0;
        self.lines.push(((columns[0], self.y), (right, self.y), GRID, 0.75));
        self.y += 1.0;
    }
}
