//! A canvas that draws SVG, with all sizes in points of the finished picture.
//!
//! The drawing library rounds to whole pixels, which would turn gentle curves into steps; so the canvas is four times
//! as large, and the picture's view box scales it back.

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

/// Pixels of the canvas in a point of the picture.
const SCALE: f64 = 4.0;
/// The drawing library divides font sizes by this.
const FONT_SCALE: f64 = 1.24;

/// The background colour.
pub const BACKGROUND: (u8, u8, u8) = (252, 251, 248);
/// Text and axes.
pub(crate) const INK: RGBColor = RGBColor(32, 36, 40);
/// Secondary text.
pub(crate) const MUTED: RGBColor = RGBColor(88, 94, 100);
/// Grid lines.
pub(crate) const GRID: RGBColor = RGBColor(222, 220, 214);
pub(crate) const PAPER: RGBColor = RGBColor(BACKGROUND.0, BACKGROUND.1, BACKGROUND.2);

/// The result of drawing something.
pub(crate) type DrawResult = Result<(), DrawingAreaErrorKind<io::Error>>;
/// A position, from the upper left corner [points].
pub(crate) type Position = (f64, f64);

/// Size, weight, colour and anchor of a text.
#[derive(Clone, Copy)]
pub(crate) struct TextStyle {
    /// Size [points].
    pub(crate) size: f64,
    /// Bold or not.
    pub(crate) bold: bool,
    /// Colour.
    pub(crate) ink: RGBColor,
    /// Which part of the text is at the given position.
    pub(crate) anchor: HPos,
}

impl TextStyle {
    /// Plain text that begins at the given position.
    pub(crate) const fn plain(size: f64, ink: RGBColor) -> Self {
        Self { size, bold: false, ink, anchor: HPos::Left }
    }

    /// The same style with another anchor.
    pub(crate) const fn anchored(self, anchor: HPos) -> Self {
        Self { anchor, ..self }
    }

    /// The same style in bold.
    pub(crate) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }
}

/// A picture while it is drawn.
pub(crate) struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

/// Draws a picture of `size` points and returns it as SVG, with a title and a description for screen readers.
pub(crate) fn picture(
    size: (u32, u32),
    title: &str,
    description: &str,
    draw: impl FnOnce(&Canvas<'_>) -> DrawResult,
) -> String {
    let (width, height) = size;
    let (width_px, height_px) = (width * SCALE as u32, height * SCALE as u32);
    let mut body = String::new();
    let canvas = Canvas {
        area: SVGBackend::with_string(&mut body, (width_px, height_px)).into_drawing_area(),
    };
    canvas
        .area
        .fill(&PAPER)
        .and_then(|()| draw(&canvas))
        .and_then(|()| canvas.area.present())
        .expect("writing into memory cannot fail");
    drop(canvas);
    // The library's opening tag fixes the size in pixels; this one scales and carries title and description.
    let rest = body.find('>').map_or("", |end| &body[end + 1..]);
    let rest = without_layers(rest);
    let mut svg = String::with_capacity(rest.len() + 1024);
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width_px} {height_px}\" \
         width=\"{width}\" height=\"{height}\" role=\"img\" stroke-linejoin=\"round\" \
         stroke-linecap=\"round\">\n<title>{}</title>\n<desc>{}</desc>{rest}",
        escaped(title),
        escaped(description),
    );
    svg
}

/// Shapes with the opacity of their one fill or stroke in place of that of an element, for which a drawing program makes a
/// layer as large as the picture. They look the same.
fn without_layers(body: &str) -> String {
    body.replace("<polygon opacity=", "<polygon fill-opacity=")
        .replace("<polyline fill=\"none\" opacity=", "<polyline fill=\"none\" stroke-opacity=")
}

/// Text escaped for XML.
fn escaped(text: &str) -> String {
    printable(text).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// A position in pixels of the canvas.
fn pixels((x, y): Position) -> (i32, i32) {
    ((x * SCALE).round() as i32, (y * SCALE).round() as i32)
}

impl Canvas<'_> {
    /// Draws a line through `positions`.
    pub(crate) fn line(&self, positions: &[Position], colour: RGBColor, width: f64) -> DrawResult {
        self.translucent_line(positions, colour, width, 1.0)
    }

    /// Draws a translucent line through `positions`.
    pub(crate) fn translucent_line(
        &self,
        positions: &[Position],
        colour: RGBColor,
        width: f64,
        opacity: f64,
    ) -> DrawResult {
        let style = ShapeStyle {
            color: colour.mix(opacity),
            filled: false,
            stroke_width: (width * SCALE).round() as u32,
        };
        let positions: Vec<_> = positions.iter().copied().map(pixels).collect();
        self.area.draw(&PathElement::new(positions, style))
    }

    /// Fills the polygon with corners at `positions`.
    pub(crate) fn polygon(
        &self,
        positions: &[Position],
        colour: RGBColor,
        opacity: f64,
    ) -> DrawResult {
        let positions: Vec<_> = positions.iter().copied().map(pixels).collect();
        self.area.draw(&Polygon::new(positions, colour.mix(opacity).filled()))
    }

    /// Fills a rectangle with the given edges.
    pub(crate) fn rectangle(
        &self,
        (left, right): (f64, f64),
        (top, bottom): (f64, f64),
        colour: RGBColor,
        opacity: f64,
    ) -> DrawResult {
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        self.polygon(&corners, colour, opacity)
    }

    /// Draws a mark of radius `r` with a rim in the background colour.
    pub(crate) fn mark(
        &self,
        centre: Position,
        r: f64,
        outline: &[Position],
        colour: RGBColor,
    ) -> DrawResult {
        let sized = |r: f64| -> Vec<Position> {
            outline.iter().map(|(x, y)| (centre.0 + r * x, centre.1 + r * y)).collect()
        };
        self.polygon(&sized(r * 1.4), PAPER, 1.0)?;
        self.polygon(&sized(r), colour, 1.0)
    }

    /// Writes a line of text; `position` is the middle of its capitals and digits.
    pub(crate) fn text(&self, text: &str, position: Position, style: TextStyle) -> DrawResult {
        let weight = if style.bold { FontStyle::Bold } else { FontStyle::Normal };
        let font = (FontFamily::Name(FAMILIES), style.size * SCALE * FONT_SCALE, weight)
            .with_color(style.ink)
            .into_text_style(&self.area)
            .pos(Pos::new(style.anchor, VPos::Center));
        // The library centres small letters; capitals are about a fifth of the size higher.
        let position = (position.0, position.1 + 0.1 * style.size);
        self.area.draw_text(&printable(text), &font, pixels(position))
    }
}

/// The rectangle in which data are plotted.
pub(crate) struct PlotArea {
    coordinates: Cartesian2d<RangedCoordf64, RangedCoordf64>,
}

impl PlotArea {
    /// The data ranges `x`, from left to right, and `y`, from the bottom up, within the given edges.
    pub(crate) fn new(
        (left, right): (f64, f64),
        (top, bottom): (f64, f64),
        x: Range<f64>,
        y: Range<f64>,
    ) -> Self {
        let ((left, top), (right, bottom)) = (pixels((left, top)), pixels((right, bottom)));
        Self { coordinates: Cartesian2d::new(x, y, (left..right, bottom..top)) }
    }

    /// The position of a pair of data values.
    pub(crate) fn position(&self, x: f64, y: f64) -> Position {
        let (x, y) = self.coordinates.translate(&(x, y));
        (f64::from(x) / SCALE, f64::from(y) / SCALE)
    }
}
