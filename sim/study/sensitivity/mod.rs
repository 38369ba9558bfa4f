//! Sensitivity analysis: which uncertain inputs could reverse a verdict, and where the variance comes from.
//!
//! [`doubt`] runs it: screening of all inputs, Sobol' indices and profiles of the most influential ones, and variance
//! components. It must not know how a result is shown.

mod difference;
mod effort;
mod profile;
mod result;
mod reversal;
mod run;
mod screening;
mod sobol;
mod variance;

pub use effort::Effort;
pub use profile::LinePoint;
pub use result::{Doubt, Few, Screened, Splits};
pub use reversal::{Crossing, Flip, flips};
pub use run::{doubt, two_best};
pub use variance::{PairSplit, PartKg2, Split, split};
