//! Results in sentences and tables of plain text.
//!
//! It must not know where the text goes: a terminal, a file or a page.

mod aims;
mod comparison;
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

pub use aims::aims_table;
pub use comparison::{comparison_table, comparison_table_within};
pub use reasons::reasons;
pub use response::vary_table;
pub use rules_fired::rules_fired;
pub use search::{best_finalists, best_sentences, best_table};
pub use sensitivity::doubt_words;
pub use superiority::beats_table;
pub use sweep::swept_words;
pub use verdict::verdict;
pub use warnings::warning_text;

pub(super) use reasons::reason;
pub(super) use safety::{CAUTIONS, LOCAL_RULES_FIRST};
