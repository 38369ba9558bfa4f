//! What the program promises its users.
