//! Single sessions: what is true of every one of them, and rules of a plan.

mod end_tackle;
mod feeding_ways;
mod fresh_scent;
mod invariants;
mod reactions;
mod rules;
