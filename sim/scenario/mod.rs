//! What the user writes: scenario files read, checked and made ready to run.

mod books;
mod ready;

pub use books::Books;
pub use ready::{Keepnet, Scenario, SessionKind, Units};
