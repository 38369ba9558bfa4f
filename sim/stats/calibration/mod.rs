//! Calibration of a simulator whose likelihood is not known: a table of simulated cases stands for it.
//!
//! Cases near the observed one are kept, weighted by their distance, and moved to it along a regression
//! (approximate Bayesian computation; Beaumont, Zhang & Balding 2002).

mod adjusted_posterior;
mod least_squares;
mod nearness;

pub use adjusted_posterior::{AdjustedPosterior, ReferenceTable};
pub use least_squares::LinearFit;
pub use nearness::share_at_least_as_far;
