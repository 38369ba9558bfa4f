//! The local page: correct answers, fixed limits, and a page that works in a browser.

mod answers;
mod browser;
mod limits;
mod random_requests;
mod recording;
mod server;
