//! A picture turned into pixels.

use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, Options, Tree, fontdb::Database};

use super::typeface::{BOLD, REGULAR};

/// Widest picture [px].
const WIDEST_PX: u32 = 16_384;

/// Why a picture could not be turned into pixels.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// Not a picture in SVG.
    #[error("the picture is not sound SVG: {0}")]
    Unsound(#[from] usvg::Error),
    /// No such size.
    #[error("a picture {0} px wide cannot be made; ask for 1 to {WIDEST_PX} px")]
    Width(u32),
    /// It could not be packed.
    #[error("the picture could not be packed as PNG: {0}")]
    Packing(String),
}

/// The picture `svg` read with the embedded font and no other.
pub(super) fn tree(svg: &str) -> Result<Tree, usvg::Error> {
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
/// If `svg` is not sound SVG, or the size is nought or beyond what a picture can have.
pub fn png(svg: &str, width_px: u32) -> Result<Vec<u8>, PngError> {
    let tree = tree(svg)?;
    let size = tree.size();
    let scale = width_px as f32 / size.width();
    let height_px = (size.height() * scale).round() as u32;
    let mut pixels = Some(width_px)
        .filter(|width_px| (1..=WIDEST_PX).contains(width_px))
        .filter(|_| height_px <= WIDEST_PX)
        .and_then(|width_px| Pixmap::new(width_px, height_px))
        .ok_or(PngError::Width(width_px))?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| PngError::Packing(error.to_string()))
}
