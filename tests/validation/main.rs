//! What the model promises about the world: formulas, published numbers and slow plain twins.
//!
//! `../VALIDATION.md` has a row for every test here; another test holds the two together.

mod agenda;
mod bait;
mod dice;
mod evidence;
mod feeding;
mod growth;
mod hunger;
mod plume;
mod puff;
mod queues;
mod settling;
mod twin;
mod water;
mod wits;
