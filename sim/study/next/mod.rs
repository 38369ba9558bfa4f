//! What to try next: which practice session would narrow the doubt about the verdict most.
//!
//! On many waters that are still possible, every practice is simulated, and so are the two plans in question. A practice
//! that tells waters on which one plan is better from those on which the other is teaches most. It must not know how the
//! result is shown.

mod practice;
mod result;
mod run;
mod worth;

pub use practice::{Practice, PracticeKind, practices};
pub use result::{NextResult, PracticeWorth};
pub use run::{NextSpec, next_sessions, what_to_try_next};
pub use worth::{chance_of_worse, chance_of_worse_after};
