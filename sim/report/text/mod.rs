//! Results in sentences and tables of plain text.
//!
//! It must not know where the text goes: a terminal, a file or a page.

mod aims;
mod comparison;
mod fit;
mod learn;
mod next;
mod now;
mod reasons;
mod response;
mod rules_fired;
mod safety;
mod search;
mod sensitivity;
mod superiority;
mod sweep;
mod verdict;
mod warnings;
mod waters;

pub use aims::aims_table;
pub use comparison::{comparison_markdown, comparison_table, comparison_table_within};
pub use fit::{fit_text, misfit_text};
pub use learn::learn_text;
pub use next::next_text;
pub use now::{NowWords, WayWords, now_text, now_words, session_over};
pub use reasons::reasons;
pub use response::response_table;
pub use rules_fired::rules_fired_sentences;
pub use search::{finalist_lines, search_sentences, search_table};
pub use sensitivity::sensitivity_text;
pub use superiority::superiority_table;
pub use sweep::sweep_text;
pub use verdict::{early_sentence, verdict};
pub use warnings::warning_text;
pub use waters::{waters_chances, waters_markdown, waters_notes, waters_table, waters_verdict};

pub(super) use reasons::reason;
pub(super) use safety::{CAUTIONS, LOCAL_RULES_FIRST};
