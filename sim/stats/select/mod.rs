//! Ranking and selection: finds the best of many candidates under noise. It must not know what a candidate is.

mod candidate;
mod constants;
mod halving;
mod kim_nelson;
mod ocba;
mod search;
mod small_set;
mod space;
mod surrogate;

pub use candidate::{Candidate, GridPoint, Simulator, Trial};
pub use constants::{dunnett_quantile, rinott_constant};
pub use halving::halving_schedule;
pub use kim_nelson::kim_nelson_eta;
pub use ocba::{ocba_shares, round_shares};
pub use search::{Evaluation, SearchMethod, SearchOutcome, search};
pub use space::{GridAxis, SearchSpace};
