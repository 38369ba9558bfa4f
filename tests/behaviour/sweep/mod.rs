//! Sweeps: points, a store on disk, shares for several machines, and the results read from them.

mod comparisons;
mod design;
mod machines;
mod maps;
mod readers;
mod refusals;
mod results;
mod resume;
mod shares;
