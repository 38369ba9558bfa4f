//! Results in words, tables and pictures, for people.
//!
//! The only room below the doors that speaks in pounds, ounces and minutes. It reads finished results and
//! must not know how they were reached, which file they came from or where its words and pictures go.

mod aims;
mod axis;
mod bank;
mod beats;
mod best;
mod best_chart;
mod card;
mod contour;
mod difference_chart;
mod doubt;
mod heat_map;
mod hours_chart;
mod html;
mod label;
mod main_effects;
mod marker;
mod measures;
mod png;
mod ranking;
mod reasons;
mod rule_words;
mod rules;
mod schedule;
mod setting;
mod sheet;
mod swept;
mod swim_view;
mod table;
mod ticks;
mod timeline;
mod tornado;
mod trace;
mod typeface;
mod value;
mod vary;
mod vary_chart;
mod verdict;
mod weight_curve;

pub use aims::aims_table;
pub use beats::beats_table;
pub use best::{best_finalists, best_sentences, best_table};
pub use best_chart::best_chart_svg;
pub use card::{Card, CardPdfError, card, card_html, card_pdf, card_svg};
pub use doubt::doubt_words;
pub use heat_map::RAMP;
pub use html::report_html;
pub use marker::PALETTE;
pub use measures::{clock, duration, length, percent, weight, weight_range};
pub use png::{PngError, png};
pub use reasons::reasons;
pub use rule_words::RuleWords;
pub use rules::rules_fired;
pub use setting::setting_name;
pub use sheet::BACKGROUND;
pub use swept::{swept_pictures, swept_words};
pub use swim_view::{SwimView, swim_view};
pub use table::{comparison_table, comparison_table_within};
pub use tornado::tornado_svg;
pub use trace::{TraceNames, trace_line};
pub use vary::{VaryCurve, VaryPoint, vary_table};
pub use vary_chart::vary_chart_svg;
pub use verdict::verdict;
pub use weight_curve::weight_curve_svg;
