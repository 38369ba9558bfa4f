//! Tables that need more sessions than a test may take; each writes a part of `tests/TABLES.md`.
//!
//! `cargo test --release --test validation tables -- --ignored --test-threads 1` writes all of them.

mod ablation;
mod contrasts;
mod flips;
mod page;
mod practice;
mod priors;
