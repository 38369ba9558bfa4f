//! Floating-point functions with the same bits on every machine.
//!
//! `+ − × ÷ √` are exact to the last bit wherever a program runs. `exp`, `ln`, `powf` or `sin` of the standard library are
//! not: they are those of the system, and differ in the last bit between systems and even between two processors. All
//! folders therefore take such functions from here; `.clippy.toml` forbids the others.
//!
//! This folder knows no fish and no chance.

mod exponential;
mod functions;
mod normal;
mod tables;

pub use exponential::{exp, exp2, ln, normal_exp, normal_ln, powf};
pub use functions::{
    acos, asin, atan2, cbrt, cos, cube, exp_m1, hypot, ln_gamma, log2, log10, powi, sin, sin_cos,
    square, tan,
};
pub use normal::{normal_cumulative, normal_density, normal_quantile};
