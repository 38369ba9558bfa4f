//! What the program promises its users, and what its sources promise the people who change them.

#![expect(
    clippy::disallowed_methods,
    reason = "what is compared with the model may use the functions of the system"
)]

mod attack;
mod catch_log;
mod command_line;
mod comparison;
mod outputs;
mod page;
mod parameters;
mod pond;
mod report;
mod scenario;
mod session;
#[path = "../waters/small_water.rs"]
mod small_water;
mod source;
mod sweep;
