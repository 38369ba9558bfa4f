//! The house of shoalwise, floor by floor; imports run down only.
//!
//! | floor | folder | what lives there |
//! |---|---|---|
//! | 1 | [`engine`], [`params`], [`stats`] | clock, agenda, dice; books of parameters; numbers in, numbers out. Knows no fish |
//! | 2 | [`water`] | depths, features, drift, weather |
//! | 3 | [`bait`], [`fish`], [`angler`] | three trades that never import one another |
//! | 4 | [`scenario`] | what the user writes, checked and made ready |
//! | 5 | [`session`] | one session; the only place where the trades meet |
//! | 6 | [`study`] | many sessions: the same days fished by every plan |
//! | 7 | [`report`] | results in words, tables and pictures |
//! | 8 | [`cli`], [`web`] | two doors: the command line, and the local page |

pub mod angler;
pub mod bait;
pub mod cli;
pub mod engine;
pub mod fish;
pub mod params;
pub mod report;
pub mod scenario;
pub mod session;
pub mod stats;
pub mod study;
pub mod water;
pub mod web;
