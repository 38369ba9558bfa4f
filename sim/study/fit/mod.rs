//! The simulator fitted to a catch log: what the log says of the unknowns of a scenario.
//!
//! The casts of the log are fished again by the simulator, as they were made, on many waters whose unknowns are drawn
//! from their priors. Waters whose logs resemble the real one say what the unknowns are. It must not know how the result
//! is shown.

mod check_figures;
#[cfg(feature = "program")]
mod joined_shares;
mod log_share;
mod logged_plan;
mod posterior;
mod result;
mod run;
mod simulated_log;
mod simulated_table;
mod summaries;
mod table_file;

pub use check_figures::CheckFigures;
#[cfg(feature = "program")]
pub use joined_shares::{LogShareError, join_log_shares};
pub use log_share::LogShare;
pub use logged_plan::{LoggedPlan, logged_plans};
pub use posterior::{Misfit, UnknownsPosterior, unknowns_posterior};
pub use result::{FitCheck, FitResult, LearnedUnknown, PlanBeforeAfter};
pub use run::{
    FitOutcome, FitSpec, SummaryOutside, fit, fit_from, fit_sessions, simulate_share,
    table_identity,
};
pub(super) use simulated_log::LogWriter;
pub use simulated_log::simulated_session;
pub use simulated_table::{LogSimulator, SimulatedCase};
pub use summaries::SummaryFrame;
pub use table_file::TableFile;
