//! A slow plain twin of a session with fish: all of them are moved on by small equal steps of time, without events, draws ahead or
//! thinning.
//!
//! `rod_and_bait` has the state, the rod and the bait, `acts` what fish do in a step, `comparison` the claim.

mod acts;
mod comparison;
mod rod_and_bait;
