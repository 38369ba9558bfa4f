//! The local page: the other front end.
//!
//! A server on this machine that shows plans side by side while their days are fished, replays single days, and offers
//! a few lessons. It writes nothing to disk. It must not depend on `cli`.

mod api;
mod assets;
mod catalogue;
mod error;
mod live;
mod origin_policy;
mod replay;
mod request;
mod runs;
mod server;

pub use catalogue::Catalogue;
pub use server::serve;
