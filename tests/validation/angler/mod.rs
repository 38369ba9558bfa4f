//! What the angler does: casting, hooking and playing fish.

mod casting;
mod playing;
