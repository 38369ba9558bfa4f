//! Results as text, tables, charts, report and card.

mod card;
mod charts;
mod colours;
mod html;
pub(crate) mod sample;
mod text;
mod trace;

pub(crate) use charts::{check_layout, write_pictures};
pub(crate) use sample::unbroken;
