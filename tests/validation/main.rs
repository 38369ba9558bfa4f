//! What the model promises about the world: formulas, published numbers, other programs.

mod agenda;
mod bait;
mod design;
mod dice;
mod evidence;
mod feeding;
mod growth;
mod hunger;
mod nist;
mod perceived;
mod plume;
mod puff;
mod queues;
mod search;
mod selection;
mod sensitivity;
mod settling;
mod stationary;
mod statistics;
mod twin;
mod water;
mod wits;
