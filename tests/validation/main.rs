//! What the model promises about the world: formulas, published numbers, other programs.

#![expect(
    clippy::disallowed_methods,
    reason = "what is compared with the model may use the functions of the system"
)]

mod angler;
mod bait;
mod demo;
mod engine;
mod evidence;
mod fish;
mod lake;
mod measured;
mod patterns;
mod session;
#[path = "../waters/small_water.rs"]
mod small_water;
mod stats;
mod tables;
mod worth;
