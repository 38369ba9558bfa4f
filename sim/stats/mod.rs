//! Statistics: numbers in, numbers out. It must not know what the numbers are of.
//!
//! Where the data are whole numbers, as weights in grams are, sums are kept exactly, so that a result
//! does not depend on the order in which it was added up.

mod design;
mod interval;
mod paired;
mod passes;
mod quantile;
mod summary;

pub use design::{Sobol, latin_hypercube};
pub use interval::{Interval, mean_interval, t_quantile, wilson};
pub use paired::Paired;
pub use passes::quantiles_in_passes;
pub use quantile::{Place, place, quantile, quantile_of_counts};
pub use summary::{Moments, Summary};
