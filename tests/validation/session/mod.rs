//! Sessions: parts of the model that only meet in a whole session.

mod angler_perception;
mod foul_hooking;
mod session_twin;
mod stationary;
