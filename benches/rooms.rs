//! Speed of the busiest parts: the agenda, scent, and one whole session.

mod agenda;
mod scent;
mod session;

use criterion::{criterion_group, criterion_main};

criterion_group!(rooms, agenda::hold, scent::sniff, scent::release, session::day, session::fish);
criterion_main!(rooms);
