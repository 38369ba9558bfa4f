//! One plan on one page for the bank, on paper or on a phone.
//!
//! What stands on it is put into words once; paper and phone set the same words in their own ways.

mod content;
mod paper;
mod phone;

pub use content::{Card, card};
pub use paper::{CardPdfError, card_pdf, card_svg};
pub use phone::card_html;
