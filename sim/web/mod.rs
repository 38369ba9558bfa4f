//! The local page: the other of two doors into the house.
//!
//! A server on this machine only, that shows plans side by side as their days are fished, replays single days, and
//! leads through a few lessons. It writes nothing to disk. It must not know the command line.

mod api;
mod asked;
mod assets;
mod guard;
mod live;
mod runs;
mod server;
mod shelf;
mod told;

pub use server::{Page, serve};
