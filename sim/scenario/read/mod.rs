//! Reading a scenario: text and `--set` values in, a scenario ready to run or all its faults out.

mod assemble;
mod baits;
mod bed;
mod clock;
mod homes;
mod interpret;
mod learned_book_file;
mod moves;
mod plans;
mod rules;
mod scenario_source;
mod shoals;
mod tackle;
mod weigh_ins;

pub use learned_book_file::{
    LEARNED_BOOK_FORMAT, LearnedBookFile, learned_book_text, load_learned_book, read_learned_book,
};
pub use scenario_source::{ScenarioSource, load, read};

pub(super) use interpret::value_table;
