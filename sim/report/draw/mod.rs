//! The drawing kit: a canvas, its text, marks and colours.
//!
//! It must not know what a chart shows: it takes plain numbers and text.

mod canvas;
mod contour;
mod labels;
mod markers;
#[cfg(feature = "program")]
mod png;
mod ticks;
mod typeface;

pub use canvas::BACKGROUND;
pub use markers::PALETTE;
#[cfg(feature = "program")]
pub use png::{PngError, png};

pub(super) use canvas::{
    Canvas, DrawResult, GRID, INK, MUTED, PAPER, PlotArea, Position, TextStyle, picture,
};
pub(super) use contour::contours;
pub(super) use labels::spread_apart;
pub(super) use markers::{SHADES, colour, outline, shade};
#[cfg(feature = "program")]
pub(super) use png::svg_tree;
pub(super) use ticks::{hour_ticks, log_ticks, minute_ticks, ticks, ticks_between};
pub(super) use typeface::{fit, text_width, wrap, wrap_name};
