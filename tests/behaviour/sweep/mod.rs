//! Sweeps: points, a store on disk, shares for several machines, and the results read from them.

mod books;
mod comparisons;
mod damage;
mod design;
mod digests;
mod machines;
mod maps;
mod names;
mod readers;
mod refusals;
mod results;
mod resume;
mod shared_plans;
mod shares;
mod starting;
