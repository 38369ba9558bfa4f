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
mod swim_view;
mod text;
mod view;

pub use card::{Card, CardPdfError, card, card_html, card_pdf, card_svg};
pub use chart::{
    RAMP, best_chart_svg, swept_pictures, tornado_svg, vary_chart_svg, weight_curve_svg,
};
pub use document::ComparisonDocument;
pub use draw::{BACKGROUND, PALETTE, PngError, png};
pub use format::{
    RuleWords, TraceNames, clock, duration, length, percent, setting_name, trace_line, unbroken,
    weight, weight_range,
};
pub use html::report_html;
pub use swim_view::{SwimView, swim_view};
pub use text::{
    aims_table, beats_table, best_finalists, best_sentences, best_table, comparison_table,
    comparison_table_within, doubt_words, reasons, rules_fired, swept_words, vary_table, verdict,
    warning_text,
};
pub use view::{VaryCurve, VaryPoint};
