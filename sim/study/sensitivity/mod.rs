//! Sensitivity analysis: which uncertain inputs could reverse a verdict, and where the variance comes from.
//!
//! [`analyse_sensitivity`] runs it: screening of all inputs, Sobol' indices and profiles of the most influential ones,
//! the verdict without each mechanism of the model and with each alternative, and variance components. It must not know how a result is shown.

mod difference;
mod effort;
mod held;
mod profile;
mod result;
mod reversal;
mod run;
mod screening;
mod sobol;
mod structure;
mod variance;

pub use effort::Effort;
pub use held::HeldMean;
pub use profile::ProfilePoint;
pub use result::{InfluentialInput, PairVariances, ScreenedInput, SensitivityReport};
pub use reversal::{ReversalInterval, ZeroCrossing, reversals};
pub use run::{analyse_sensitivity, two_best};
pub use structure::{StructureDoubt, UnderAlternative, WithoutMechanism};
pub use variance::{
    PairVarianceComponents, VarianceComponent, VarianceComponentsKg2, pair_variance_components,
};
