//! What happens in a session: one function for each event on the agenda, of the same name.
//!
//! All of them are methods of the world. `dispatch` calls them; none of them knows who called.

mod bait;
mod bite;
mod dispatch;
mod feeding;
mod fight;
mod foul_hooking;
mod layers;
mod phases;
mod rig;
mod roaming;
mod rules;
mod sounds;
mod tasks;
