//! Sensitivity analysis: which inputs cause how much of an output's variance. It must not know what the inputs are.

mod elementary_effects;
mod explained_variance;
mod sobol_indices;
mod variance_components;

pub use elementary_effects::{Effect, Effects, Trajectory, trajectories};
pub use explained_variance::{Explained, Inputs};
pub use sobol_indices::{Index, Indices, RowOutputs, TwoPoints, indices, two_points};
pub use variance_components::{Block, Components, Estimate, components};
