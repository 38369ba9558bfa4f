//! Results in words, tables and pictures, for people.
//!
//! The only folder below the command line and the page that speaks in pounds, ounces and minutes. It reads finished
//! results; it must not know how they were computed, which file they came from or where its text and pictures go.

mod card;
mod chart;
mod document;
mod draw;
mod format;
mod html;
mod recording_document;
mod text;
mod view;

pub use card::{Card, card, card_html, card_svg};
#[cfg(feature = "program")]
pub use card::{CardPdfError, card_pdf};
pub use chart::{
    search_chart_svg, sweep_pictures, tornado_svg, water_curves_svg, weight_curve_svg,
};
pub use document::{ComparisonDocument, WatersDocument};
#[cfg(feature = "program")]
pub use draw::{PngError, png};
pub use format::{EventNames, RuleDescription, clock, event_line, weight, weight_range};
pub use html::report_html;
pub use text::{
    comparison_table, fit_text, learn_text, next_text, now_text, reasons, search_sentences,
    search_table, sensitivity_text, sweep_text, verdict, warning_text, waters_table,
    waters_verdict,
};

// What only the two front ends and tests use.
#[doc(hidden)]
pub use chart::{
    HEAT_RAMP, expected_bites_svg, recast_rate_svg, response_curve_svg, unknowns_svg, waits_svg,
};
#[doc(hidden)]
pub use draw::{BACKGROUND, PALETTE};
#[doc(hidden)]
pub use format::{
    BankNames, bank_line, counted, duration, grouped, length, percent, setting_name, unbroken,
    wrapped, wrapped_item,
};
#[doc(hidden)]
pub use recording_document::{RecordingDocument, recording_document};
#[doc(hidden)]
pub use text::{
    NowWords, WayWords, aims_table, comparison_markdown, comparison_table_within, early_sentence,
    finalist_lines, misfit_text, now_words, response_table, rules_fired_sentences, session_over,
    superiority_table, waters_chances, waters_markdown, waters_notes,
};
#[doc(hidden)]
pub use view::{ResponseCurve, ResponsePoint};
