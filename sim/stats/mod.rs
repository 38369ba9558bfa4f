//! Statistics: numbers in, numbers out. It must not know what the numbers mean.
//!
//! Sums of whole numbers, such as weights in grams, are exact. A result then does not depend on the order of
//! addition.

mod describe;
mod design;
mod inference;
mod placing_probability;
mod select;
mod sensitivity;

pub use describe::{
    Moments, Place, Summary, normal_scores, place, quantile, quantile_of_counts,
    quantiles_in_passes,
};
pub use design::{Sobol, latin_hypercube};
pub use inference::{
    Interval, Looks, Paired, Ranks, Resampled, Share, Standing, Together, draw_again,
    larger_on_separate_days, level_of_each, lower_tail_mean, mean_interval, quantile_ranks,
    square_and_add, t_quantile, wilson,
};
pub use placing_probability::{
    chance_above, chance_to_place, expected_greatest, expected_loss_of_choice, score_correlation,
    unit_normal_loss,
};
pub use select::{
    Axis, Contender, Method, Point, Searched, Space, Trial, Trials, Tried, dunnett,
    halving_schedule, kn_eta, optimal_shares, rinott, search, whole_shares,
};
pub use sensitivity::{
    Block, Components, Effect, Effects, Estimate, Explained, Index, Indices, Inputs, RowOutputs,
    Trajectory, TwoPoints, components, indices, trajectories, two_points,
};
