//! The card: one plan on one page for the bank, on paper or on a phone.
//!
//! `content` puts the plan into words once; `paper` and `phone` lay out the same words. It must not know of plans that
//! the card is not about.

mod content;
mod paper;
mod phone;

pub use content::{Card, card};
pub use paper::{CardPdfError, card_pdf, card_svg};
pub use phone::card_html;
