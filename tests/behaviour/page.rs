//! What the local page promises: answers that hold, bounds that are kept, and a page that works in a browser.

mod answers;
mod bounds;
mod browser;
mod film;
mod served;
