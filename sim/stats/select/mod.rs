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

pub use candidate::{Contender, Point, Trial, Trials};
pub use constants::{dunnett, rinott};
pub use halving::halving_schedule;
pub use kim_nelson::kn_eta;
pub use ocba::{optimal_shares, whole_shares};
pub use search::{Method, Searched, Tried, search};
pub use space::{Axis, Space};
