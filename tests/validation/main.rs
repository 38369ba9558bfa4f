//! What the model promises about the world: formulas, published numbers, other programs.

mod angler;
mod bait;
mod demo;
mod engine;
mod evidence;
mod fish;
mod lake;
mod patterns;
mod session;
mod stats;
mod tables;
