//! Descriptions of one sample: mean, variance, quantiles and normal scores. It must not know of intervals.

mod normal_scores;
mod quantile;
mod summary;

pub use normal_scores::normal_scores;
pub use quantile::{QuantilePosition, histogram_quantile, quantile, quantile_position};
pub use summary::{Moments, Summary};
