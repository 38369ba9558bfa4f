//! Attacks with inputs drawn at random: nothing panics, nothing hangs, and every refusal says where.
//!
//! Every run draws other inputs, and shortens one that fails before it prints it. `SHOALWISE_ATTACK=1000000` draws a million of
//! each kind, as far as `SHOALWISE_ATTACK_S` seconds for each kind allow; `.ci/long` does so.

mod generator;
mod inputs;
mod other_files;
mod readers;
mod scenarios;

pub(crate) use inputs::{Tape, attack, peak_memory_kb, tape};
