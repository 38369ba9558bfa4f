//! Sessions: parts of the model that only meet in a whole session.

mod angler_perception;
mod foul_hooking;
mod learned_waters;
mod lone_hookbait;
mod open_swim;
mod pile_sucks;
mod scent_of_bait;
mod session_twin;
mod single_acts;
mod slow_twin;
mod startled;
mod stationary;
mod uncertain_inputs;
