//! Survival analysis: times until an event, of which some were cut short before it happened.
//!
//! It must not know what the times mean. A time that was cut short (right censoring) counts as "at least this long";
//! dropping such times would bias every estimate here towards short ones.

mod aalen_johansen;
mod censored_time;
mod cure;
mod gamma_rate;
mod incidence;
mod kaplan_meier;
mod log_rank;
mod rate_trend;
mod renewal;
mod weibull;
mod weibull_model;

pub use aalen_johansen::{Occupation, Spell, state_occupation};
pub use censored_time::{CensoredTime, CompetingTime};
pub use cure::{CureFit, fit_weibull_with_cure};
pub use gamma_rate::{ExponentialRate, GammaRate, PiecewiseRates, exponential_rate};
pub use incidence::{CumulativeIncidence, IncidenceStep};
pub use kaplan_meier::{SurvivalCurve, SurvivalStep};
pub use log_rank::{LogRankTest, log_rank, stratified_log_rank};
pub use rate_trend::{RateTrend, rate_trend};
pub use renewal::{CycleCosts, RenewalCurve, RenewalPoint};
pub use weibull::{WeibullFit, fit_weibull};
pub use weibull_model::WeibullModel;
