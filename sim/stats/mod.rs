//! Statistics: numbers in, numbers out. It must not know what the numbers are of.
//!
//! Where the data are whole numbers, as weights in grams are, sums are kept exactly, so that a result
//! does not depend on the order in which it was added up.

mod bootstrap;
mod components;
mod contender;
mod design;
mod explained;
mod few;
mod guess;
mod halving;
mod interval;
mod kn;
mod ocba;
mod order;
mod paired;
mod passes;
mod placing;
mod proportion;
mod quantile;
mod scores;
mod search;
mod selection_constants;
mod sensitivity;
mod separate;
mod space;
mod stopping;
mod summary;

pub use bootstrap::{Resampled, draw_again, lower_tail_mean};
pub use components::{Block, Components, Estimate, components};
pub use contender::{Contender, Point, Trial, Trials};
pub use design::{Sobol, latin_hypercube};
pub use explained::{Explained, Inputs};
pub use halving::halving_schedule;
pub use interval::{Interval, mean_interval, t_quantile, wilson};
pub use kn::kn_eta;
pub use ocba::{optimal_shares, whole_shares};
pub use order::{Ranks, quantile_ranks};
pub use paired::Paired;
pub use passes::quantiles_in_passes;
pub use placing::{
    chance_above, chance_to_place, expected_greatest, expected_loss_of_choice, score_correlation,
    unit_normal_loss,
};
pub use proportion::{Together, square_and_add};
pub use quantile::{Place, place, quantile, quantile_of_counts};
pub use scores::normal_scores;
pub use search::{Method, Searched, Tried, search};
pub use selection_constants::{dunnett, rinott};
pub use sensitivity::{
    Effect, Effects, Index, Indices, RowOutputs, Trajectory, TwoPoints, indices, trajectories,
    two_points,
};
pub use separate::{Share, larger_on_separate_days};
pub use space::{Axis, Space};
pub use stopping::{Looks, Standing, level_of_each};
pub use summary::{Moments, Summary};
