//! What the program promises its users, and what its house promises whoever changes it.

mod books;
mod house;
mod record;
mod report;
mod scenario;
mod source_text;
