//! Space-filling designs: Sobol' sequences and Latin hypercubes. It must not know what a coordinate stands for.

mod latin_hypercube;
mod sobol;
mod uniform;

pub use latin_hypercube::latin_hypercube;
pub use sobol::Sobol;
pub(super) use uniform::uniform;
