//! The card on paper as a PDF.

use resvg::usvg::{self, Options, Tree, WriteOptions};
use svg2pdf::{ConversionOptions, PageOptions};

use super::content::Card;
use super::paper::card_svg;
use crate::report::draw::svg_tree;

/// Why a card could not be made into a PDF.
#[derive(Debug, thiserror::Error)]
pub enum CardPdfError {
    /// The page is not valid SVG.
    #[error("the card is not valid SVG: {0}")]
    InvalidSvg(#[from] usvg::Error),
    /// The conversion failed.
    #[error("the card could not be made into a PDF: {0}")]
    Conversion(String),
}

/// The card as a PDF of one page of A4.
///
/// # Errors
///
/// If the page cannot be converted.
pub fn card_pdf(card: &Card) -> Result<Vec<u8>, CardPdfError> {
    // The points of the page are those of PDF: 72 to the inch.
    let page = PageOptions { dpi: 72.0 };
    // Outlines instead of text: with embedded fonts the converter writes its objects in random order, and the same card
    // must give the same bytes. The words can be copied from the page for the phone.
    let outlines = svg_tree(&card_svg(card))?.to_string(&WriteOptions::default());
    let outlines = Tree::from_str(&outlines, &Options::default())?;
    svg2pdf::to_pdf(&outlines, ConversionOptions::default(), page)
        .map_err(|why| CardPdfError::Conversion(why.to_string()))
}
