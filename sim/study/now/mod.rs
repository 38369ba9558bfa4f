//! Advice during a session: what each way to go on is worth, given what has happened so far.
//!
//! The session so far is simulated as it was fished on many days and waters; those that went as yours did are believed
//! most. From the same state of each, ways to go on are fished to the end: in a first round every way, in a second one the few
//! that may be the best. It must not know how advice is shown.

mod forecast;
mod result;
mod rounds;
mod run;
mod so_far;
mod ways;

pub use forecast::SimulatedRest;
pub use result::{ForecastMethod, NowResult, Turn, WayForecast};
pub use run::{NowError, NowSpec, NowStudy, now};
pub use so_far::last_time_s;
pub use ways::{WayKind, WayToGoOn, ways_to_go_on};
