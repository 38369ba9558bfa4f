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
mod text;
mod view;

pub use card::{Card, card, card_html, card_svg};
#[cfg(feature = "program")]
pub use card::{CardPdfError, card_pdf};
pub use chart::{
    HEAT_RAMP, expected_bites_svg, recast_rate_svg, response_curve_svg, search_chart_svg,
    sweep_pictures, tornado_svg, unknowns_svg, waits_svg, water_curves_svg, weight_curve_svg,
};
pub use document::{ComparisonDocument, WatersDocument};
pub use draw::{BACKGROUND, PALETTE};
#[cfg(feature = "program")]
pub use draw::{PngError, png};
pub use format::{
    BankNames, EventNames, RuleDescription, bank_line, clock, counted, duration, event_line,
    grouped, length, percent, setting_name, unbroken, weight, weight_range,
};
pub use html::report_html;
pub use text::{
    NowWords, WayWords, aims_table, comparison_markdown, comparison_table, comparison_table_within,
    early_sentence, finalist_lines, fit_text, learn_text, misfit_text, next_text, now_text,
    now_words, reasons, response_table, rules_fired_sentences, search_sentences, search_table,
    sensitivity_text, session_over, superiority_table, sweep_text, verdict, warning_text,
    waters_chances, waters_markdown, waters_notes, waters_table, waters_verdict,
};
pub use view::{ResponseCurve, ResponsePoint};
