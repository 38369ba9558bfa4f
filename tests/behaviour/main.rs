//! What the program promises its users.

mod report;
mod scenario;
