//! What the program promises its users, and what its house promises whoever changes it.

mod books;
mod command_line;
mod commands;
mod folder;
mod house;
mod pond;
mod readme;
mod record;
mod report;
mod rules;
mod same_days;
mod scenario;
mod scoreboard;
mod session;
mod source_text;
