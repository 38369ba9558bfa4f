//! Scenario files: reading, checking and editing them, and the scenario ready to run.
//!
//! The table of keys in `schema` defines what a file may contain; the reader, `--set`, the suggestions, the JSON
//! Schema and the key reference all follow it. Units that people write are converted to SI units here. It must not
//! know how a session is run.

mod check;
mod diagnose;
mod edit;
mod lessons;
mod read;
mod ready;
mod schema;
mod values;

pub use diagnose::{Diagnostic, Diagnostics, SourceLocation};
pub use read::{
    LEARNED_BOOK_FORMAT, LearnedBookFile, ScenarioSource, learned_book_text, load,
    load_learned_book, read, read_learned_book,
};
pub use ready::{
    Aims, Alternative, Keepnet, LearnedBook, Mechanism, RivalWeight, Scenario, Section,
    UncertainInput, Unknown, UnknownTarget, WrittenScenario,
};
pub use schema::{Books, SessionKind, Units};

// What only the two front ends and tests use.
#[doc(hidden)]
pub use diagnose::{grouped, nearest_name, plain_name, shown_plainly};
#[doc(hidden)]
pub use edit::{
    ControlChoice, ScenarioControl, ScenarioEdit, VaryRange, controls, has_ordered_values, rewrite,
    si_value, vary_range, vary_values,
};
#[doc(hidden)]
pub use lessons::{
    LESSONS_ENDING, Lesson, LessonChoice, MAX_CHOICES, lessons_beside, read_lessons,
};
#[doc(hidden)]
pub use schema::{
    FormatKey, FormatValues, HANDFUL_KG, MAX_LINES, POUCH_KG, format_keys, key_reference_markdown,
    measured_baits_kg, read_bait_kg, read_duration_s, read_mass_kg, scenario_json_schema,
};

#[cfg(feature = "program")]
pub(crate) use diagnose::system_fault;
pub(crate) use diagnose::{is_hidden, quoted, system_problem};
