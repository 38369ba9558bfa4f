//! The local page: the other front end.
//!
//! A server on this machine that shows plans side by side while their days are fished, replays single days, and offers
//! a few lessons; or the same page in one file with the model inside, which needs no server. It must not depend on
//! `cli`.

mod answers;
mod bank;
mod catalogue;
mod error;
mod growing;
mod model;
mod now;
mod request;

#[cfg(feature = "program")]
mod api;
#[cfg(feature = "program")]
mod assets;
#[cfg(feature = "program")]
mod live;
#[cfg(feature = "program")]
mod origin_policy;
#[cfg(feature = "program")]
mod qr;
#[cfg(feature = "program")]
mod runs;
#[cfg(feature = "program")]
mod server;
#[cfg(feature = "program")]
mod single_file;

pub use catalogue::Catalogue;
pub use model::PageModel;
#[cfg(feature = "program")]
pub use server::serve;
#[cfg(feature = "program")]
pub use single_file::{SingleFileError, page_in_one_file};
