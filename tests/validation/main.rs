//! What the model promises about the world: formulas, published numbers, other programs.

mod agenda;
mod bait;
mod design;
mod dice;
mod evidence;
mod feeding;
mod growth;
mod hunger;
mod parts;
mod patterns;
mod perceived;
mod placing;
mod plume;
mod puff;
mod queues;
mod search;
mod selection;
mod settling;
mod statistics;
mod sureness;
mod twin;
mod unknowns;
mod water;
mod wits;
