//! SVG pictures as PNG.

use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, Options, Tree, fontdb::Database};

use super::typeface::{BOLD, REGULAR};

/// Maximum width and height of a picture [px].
const MAX_PX: u32 = 16_384;

/// Why a picture could not be written as PNG.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// The picture is not valid SVG.
    #[error("the picture is not valid SVG: {0}")]
    InvalidSvg(#[from] usvg::Error),
    /// The size is zero or too large.
    #[error("a picture {0} px wide cannot be made; ask for 1 to {MAX_PX} px")]
    Size(u32),
    /// The pixels could not be encoded.
    #[error("the picture could not be encoded as PNG: {0}")]
    Encoding(String),
}

/// Parses the picture `svg` with the embedded font and no other.
pub(crate) fn svg_tree(svg: &str) -> Result<Tree, usvg::Error> {
    let mut fonts = Database::new();
    fonts.load_font_data(REGULAR.to_vec());
    fonts.load_font_data(BOLD.to_vec());
    let options = Options {
        font_family: "DejaVu Sans".to_owned(),
        fontdb: Arc::new(fonts),
        ..Options::default()
    };
    Tree::from_str(svg, &options)
}

/// The picture `svg` as a PNG `width_px` wide, drawn with the embedded font and no other.
///
/// # Errors
///
/// If `svg` is not valid SVG, or the size is zero or too large.
pub fn png(svg: &str, width_px: u32) -> Result<Vec<u8>, PngError> {
    let tree = svg_tree(svg)?;
    let size = tree.size();
    let scale = width_px as f32 / size.width();
    let height_px = (size.height() * scale).round() as u32;
    let mut pixels = Some(width_px)
        .filter(|width_px| (1..=MAX_PX).contains(width_px))
        .filter(|_| height_px <= MAX_PX)
        .and_then(|width_px| Pixmap::new(width_px, height_px))
        .ok_or(PngError::Size(width_px))?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| PngError::Encoding(error.to_string()))
}
