//! What the program promises its users.

mod command_line;
mod folder;
mod pond;
mod report;
mod same_days;
mod scoreboard;
