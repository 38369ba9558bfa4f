//! What a catch log alone says: waits to a bite, the recast interval that they support, and how bites fall off.
//!
//! Casts without a bite count as "at least this long". Nothing is said beyond the longest waits of the log, nor from too
//! few bites. It must not know how the log was read, nor how its result is shown.

mod ends;
mod group_by;
mod groups;
mod recast;
mod recast_time;
mod result;
mod run;
mod session_trend;
mod thresholds;
mod waits;

pub use group_by::GroupBy;
pub use result::{
    BiteRate, EndShare, FittedWeibull, GroupDifference, HazardPiece, LearnResult, LogTotals,
    NeverShare, RateByHour, RecastAdvice, RecastOutcome, RecastPoint, RecastTime, SessionTrend,
    WaitGroup, WaitPoint,
};
pub use run::{LearnSpec, learn};
pub use thresholds::{MIN_BITES, MIN_BITES_FOR_RECAST};
