//! What the program promises its users.

mod scenario;
