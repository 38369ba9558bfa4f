//! A sheet to draw on: sizes in points of the finished picture, kept in memory as SVG.
//!
//! The drawing library sets whole pixels, which would make steps of gentle curves; so the sheet is drawn four
//! times as large, and the picture's view box brings it back.

use std::fmt::Write;
use std::io;
use std::ops::Range;

use plotters::coord::types::RangedCoordf64;
use plotters::coord::{CoordTranslate, Shift};
use plotters::element::{PathElement, Polygon};
use plotters::prelude::{
    Cartesian2d, Color, DrawingArea, DrawingAreaErrorKind, FontFamily, FontStyle, IntoDrawingArea,
    IntoTextStyle, RGBColor, SVGBackend, ShapeStyle,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::typeface::{FAMILIES, printable};

/// Pixels of the drawing in a point of the picture.
const SCALE: f64 = 4.0;
/// The drawing library divides a font's size by this.
const FONT_SCALE: f64 = 1.24;

/// The colour of the sheet.
pub const BACKGROUND: (u8, u8, u8) = (252, 251, 248);
/// Text and axes.
pub(super) const INK: RGBColor = RGBColor(32, 36, 40);
/// Text of less weight.
pub(super) const MUTED: RGBColor = RGBColor(88, 94, 100);
/// Lines of the grid.
pub(super) const GRID: RGBColor = RGBColor(222, 220, 214);
/// The sheet itself.
pub(super) const PAPER: RGBColor = RGBColor(BACKGROUND.0, BACKGROUND.1, BACKGROUND.2);

/// What a stroke of the pen gives.
pub(super) type Drawn = Result<(), DrawingAreaErrorKind<io::Error>>;
/// A place on the sheet, from its upper left corner [points].
pub(super) type Place = (f64, f64);

/// How a text is set.
#[derive(Clone, Copy)]
pub(super) struct Type {
    /// Size [points].
    pub(super) size: f64,
    /// Bold or not.
    pub(super) bold: bool,
    /// Colour.
    pub(super) ink: RGBColor,
    /// Which end of the text stands at the place given.
    pub(super) anchor: HPos,
}

impl Type {
    /// Plain text that begins at the place given.
    pub(super) const fn plain(size: f64, ink: RGBColor) -> Self {
        Self { size, bold: false, ink, anchor: HPos::Left }
    }

    /// The same, with another end at the place given.
    pub(super) const fn anchored(self, anchor: HPos) -> Self {
        Self { anchor, ..self }
    }

    /// The same in bold.
    pub(super) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }
}

/// A sheet being drawn.
pub(super) struct Sheet<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

/// Draws a picture of `size` points and returns it as SVG, with a title and a description for those who
/// cannot see it.
pub(super) fn picture(
    size: (u32, u32),
    title: &str,
    describes: &str,
    draw: impl FnOnce(&Sheet<'_>) -> Drawn,
) -> String {
    let (width, height) = size;
    let (width_px, height_px) = (width * SCALE as u32, height * SCALE as u32);
    let mut body = String::new();
    let sheet = Sheet {
        area: SVGBackend::with_string(&mut body, (width_px, height_px)).into_drawing_area(),
    };
    sheet
        .area
        .fill(&PAPER)
        .and_then(|()| draw(&sheet))
        .and_then(|()| sheet.area.present())
        .expect("writing into memory cannot fail");
    drop(sheet);
    // The library's own opening tag fixes the size in pixels; ours scales and is named.
    let rest = body.find('>').map_or("", |end| &body[end + 1..]);
    let mut svg = String::with_capacity(rest.len() + 1024);
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width_px} {height_px}\" \
         width=\"{width}\" height=\"{height}\" role=\"img\" stroke-linejoin=\"round\" \
         stroke-linecap=\"round\">\n<title>{}</title>\n<desc>{}</desc>{rest}",
        escaped(title),
        escaped(describes),
    );
    svg
}

/// Text as it may stand between tags.
fn escaped(text: &str) -> String {
    printable(text).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// A place in pixels of the drawing.
fn pixels((x, y): Place) -> (i32, i32) {
    ((x * SCALE).round() as i32, (y * SCALE).round() as i32)
}

impl Sheet<'_> {
    /// A line through `places`.
    pub(super) fn line(&self, places: &[Place], colour: RGBColor, width: f64) -> Drawn {
        self.faint_line(places, colour, width, 1.0)
    }

    /// A line through `places` that lets through what is under it.
    pub(super) fn faint_line(
        &self,
        places: &[Place],
        colour: RGBColor,
        width: f64,
        opacity: f64,
    ) -> Drawn {
        let style = ShapeStyle {
            color: colour.mix(opacity),
            filled: false,
            stroke_width: (width * SCALE).round() as u32,
        };
        let places: Vec<_> = places.iter().copied().map(pixels).collect();
        self.area.draw(&PathElement::new(places, style))
    }

    /// An area within `places`.
    pub(super) fn area(&self, places: &[Place], colour: RGBColor, opacity: f64) -> Drawn {
        let places: Vec<_> = places.iter().copied().map(pixels).collect();
        self.area.draw(&Polygon::new(places, colour.mix(opacity).filled()))
    }

    /// A mark of radius `r` with a rim in the colour of the sheet.
    pub(super) fn mark(&self, at: Place, r: f64, outline: &[Place], colour: RGBColor) -> Drawn {
        let sized = |r: f64| -> Vec<Place> {
            outline.iter().map(|(x, y)| (at.0 + r * x, at.1 + r * y)).collect()
        };
        self.area(&sized(r * 1.4), PAPER, 1.0)?;
        self.area(&sized(r), colour, 1.0)
    }

    /// A line of text, `at` the middle of its capitals and digits.
    pub(super) fn text(&self, text: &str, at: Place, how: Type) -> Drawn {
        let style = if how.bold { FontStyle::Bold } else { FontStyle::Normal };
        let font = (FontFamily::Name(FAMILIES), how.size * SCALE * FONT_SCALE, style)
            .with_color(how.ink)
            .into_text_style(&self.area)
            .pos(Pos::new(how.anchor, VPos::Center));
        // The library centres small letters; capitals reach about a fifth of the size higher.
        let at = (at.0, at.1 + 0.1 * how.size);
        self.area.draw_text(&printable(text), &font, pixels(at))
    }
}

/// Where numbers stand within a frame on the sheet.
pub(super) struct Frame {
    coordinates: Cartesian2d<RangedCoordf64, RangedCoordf64>,
}

impl Frame {
    /// Numbers `x` from left to right and `y` from the bottom up, within a frame.
    pub(super) fn new(
        (left, right): (f64, f64),
        (top, bottom): (f64, f64),
        x: Range<f64>,
        y: Range<f64>,
    ) -> Self {
        let ((left, top), (right, bottom)) = (pixels((left, top)), pixels((right, bottom)));
        Self { coordinates: Cartesian2d::new(x, y, (left..right, bottom..top)) }
    }

    /// The place of a pair of numbers.
    pub(super) fn at(&self, x: f64, y: f64) -> Place {
        let (x, y) = self.coordinates.translate(&(x, y));
        (f64::from(x) / SCALE, f64::from(y) / SCALE)
    }
}
