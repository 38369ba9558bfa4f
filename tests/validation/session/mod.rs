//! Sessions: parts of the model that only meet in a whole session.

mod angler_perception;
mod foul_hooking;
mod learned_waters;
mod lone_hookbait;
mod open_swim;
mod scent_of_bait;
mod session_twin;
mod stationary;
mod uncertain_inputs;
