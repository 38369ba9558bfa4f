//! The local page: correct answers, fixed limits, and a page that works in a browser.

mod answers;
mod bank;
mod browser;
mod lessons;
mod limits;
mod load;
mod now;
mod random_requests;
mod recording;
mod server;
