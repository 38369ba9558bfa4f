//! Attacks with inputs drawn at random: nothing panics, nothing hangs, and every refusal says where.
//!
//! Every run draws other inputs, and shortens one that fails before it prints it. `SHOALWISE_ATTACK=500` draws 500 times as
//! many, as `.ci/long` does.

mod generator;
mod inputs;
mod readers;
mod scenarios;

pub(crate) use inputs::{Tape, attack, tape};
