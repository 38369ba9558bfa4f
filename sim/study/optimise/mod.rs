//! Search for the best setting under noise: request, evaluation of points, confirmation on fresh days, and result.
//!
//! [`best`] runs it. It must not know how values are read from a file, nor how a result is shown.

mod confirm;
mod day_quality;
mod evaluate;
mod objective;
mod request;
mod result;
mod run;

pub use evaluate::{PlanSet, ReadPoint};
pub use objective::Wanted;
pub use request::{BestAsked, MOST_DAYS};
pub use result::{
    AsWritten, Best, Estimate, Finalist, Gap, Setting, SettingFound, Stands, TriedPoint, Worth,
    tried_csv,
};
pub use run::{Unfinished, best};
