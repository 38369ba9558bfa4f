//! Sensitivity analysis: which inputs cause how much of an output's variance. It must not know what the inputs are.

mod elementary_effects;
mod explained_variance;
mod sobol_indices;
mod variance_components;

pub use elementary_effects::{EffectSummary, ElementaryEffect, Trajectory, morris_trajectories};
pub use explained_variance::{ExplainedVariance, InputScores};
pub use sobol_indices::{
    SaltelliOutputs, SaltelliRow, SobolIndex, SobolIndices, saltelli_rows, sobol_indices,
};
pub use variance_components::{
    CrossedBlock, VarianceComponents, VarianceEstimate, variance_components,
};
