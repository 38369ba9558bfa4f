//! Statistics: numbers in, numbers out. It must not know what the numbers are of.
//!
//! Where the data are whole numbers, as weights in grams are, sums are kept exactly, so that a result
//! does not depend on the order in which it was added up.

mod components;
mod contender;
mod design;
mod few;
mod guess;
mod halving;
mod interval;
mod kn;
mod ocba;
mod paired;
mod quantile;
mod search;
mod selection_constants;
mod sensitivity;
mod space;
mod summary;

pub use components::{Block, Components, Estimate, components};
pub use contender::{Contender, Point, Trial, Trials};
pub use design::{Sobol, latin_hypercube};
pub use halving::halving_schedule;
pub use interval::{Interval, mean_interval, t_quantile, wilson};
pub use kn::kn_eta;
pub use ocba::{optimal_shares, whole_shares};
pub use paired::Paired;
pub use quantile::{Place, place, quantile, quantile_of_counts};
pub use search::{Method, Searched, Tried, search};
pub use selection_constants::{dunnett, rinott};
pub use sensitivity::{
    Effect, Effects, Index, Indices, RowOutputs, Trajectory, TwoPoints, indices, trajectories,
    two_points,
};
pub use space::{Axis, Space};
pub use summary::{Moments, Summary};
