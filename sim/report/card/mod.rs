//! The card: one plan on one page for the bank, on paper or on a phone.
//!
//! `content` puts the plan into words once; `paper` and `phone` lay out the same words, and `pdf` makes a file of the paper. It must not know of plans that
//! the card is not about.

mod content;
mod paper;
#[cfg(feature = "program")]
mod pdf;
mod phone;

pub use content::{Card, card};
pub use paper::card_svg;
#[cfg(feature = "program")]
pub use pdf::{CardPdfError, card_pdf};
pub use phone::card_html;
