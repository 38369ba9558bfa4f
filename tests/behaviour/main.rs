//! What the program promises its users, and what its house promises whoever changes it.

mod aims;
mod best;
mod books;
mod command_line;
mod commands;
mod every_row;
mod folder;
mod house;
mod page;
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
mod sweep;
mod until_clear;
