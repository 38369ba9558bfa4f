//! Search for the best setting under noise: request, evaluation of points, confirmation on fresh days, and result.
//!
//! [`find_best`] runs it. It must not know how values are read from a file, nor how a result is shown.

mod confirm;
mod day_quality;
mod evaluate;
mod objective;
mod request;
mod result;
mod run;

pub use evaluate::{PlanVariant, ReadVariant};
pub use objective::Objective;
pub use request::{MAX_CONFIRMATION_DAYS, SearchSpec};
pub use result::{
    BaselineResult, EVALUATION_COLUMNS, Finalist, FinalistVerdict, PointEvaluation, SearchResult,
    Setting, SettingResult, ValueEffect, evaluations_csv,
};
pub use run::{SearchStopped, find_best};
