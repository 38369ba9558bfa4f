//! Statistics: numbers in, numbers out. It must not know what the numbers are of.
//!
//! Where the data are whole numbers, as weights in grams are, sums are kept exactly, so that a result
//! does not depend on the order in which it was added up.

mod interval;
mod paired;
mod quantile;
mod separate;
mod stopping;
mod summary;

pub use interval::{Interval, mean_interval, t_quantile, wilson};
pub use paired::Paired;
pub use quantile::{Place, place, quantile, quantile_of_counts};
pub use separate::{Share, larger_on_separate_days};
pub use stopping::{Looks, Standing, level_of_each};
pub use summary::{Moments, Summary};
