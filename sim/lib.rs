//! Stillwater carp sessions simulated event by event, and plans compared on the same days.
//!
//! The program `shoalwise` is built on this library. The library lets you do the same from code, and more: change a
//! scenario, watch every event, or keep other results.
//!
//! # A first comparison
//!
//! A [`scenario`] is a text: a water, the fish in it and the plans to compare. Whatever it leaves out has a default.
//! [`scenario::read()`] checks the text and reports everything that is wrong with it at once.
//!
//! ```
//! use std::convert::Infallible;
//! use sim::study::{Control, DayOutcomes, compare};
//!
//! let text = r#"
//!     session.length = "1 h"
//!     line.far-bank.distance = "25 m"
//!     shoal.residents.count = 40
//!     shoal.residents.home = "far-bank"
//!     plan.every-two.recast = "2 min"
//!     plan.every-ten.recast = "10 min"
//! "#;
//! let scenario = sim::scenario::read(text, "pond", &[])?;
//!
//! // Fish both plans on days 1 to 6 of seed 1. The closure gets every day when it is done.
//! let each_day = |_: &DayOutcomes| Ok::<(), Infallible>(());
//! let comparison = compare(&scenario, 1, 6, Control::default(), each_day)?;
//!
//! assert_eq!(comparison.days, 6);
//! for plan in &comparison.plans {
//!     println!("{}: {:.1} kg a day", plan.name, plan.weight_kg.mean);
//! }
//! for sentence in sim::report::verdict(&comparison, scenario.units) {
//!     println!("{sentence}");
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # One day, event by event
//!
//! [`Day::draw`](session::Day::draw) draws everything that differs between days: weather, stock, and the uncertain
//! inputs, whose true values nobody knows. A seed and a number always give the same day.
//! [`run_session`](session::run_session) fishes one plan on it; [`observe_session`](session::observe_session) also calls
//! an observer for each [`Event`](session::Event).
//!
//! ```
//! use sim::engine::EventLog;
//! use sim::session::{Day, Event, observe_session};
//!
//! # let text = r#"
//! #     session.length = "1 h"
//! #     line.far-bank.distance = "25 m"
//! #     shoal.residents.count = 40
//! #     shoal.residents.home = "far-bank"
//! #     plan.every-two.recast = "2 min"
//! # "#;
//! # let scenario = sim::scenario::read(text, "pond", &[])?;
//! let day = Day::draw(&scenario, 1, 1);
//! let mut events = EventLog::default();
//! let outcome = observe_session(&scenario, &scenario.plans[0], &day, &mut events);
//!
//! let landed = events.events.iter().filter(|(_, event)| matches!(event, Event::FishIsNetted { .. }));
//! assert_eq!(landed.count(), outcome.catches.len());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Where to go from here
//!
//! - **Change a plan or the water in code.** A [`Scenario`](scenario::Scenario) is plain data in SI units.
//! - **Compare until it is clear**: [`study::compare_until_clear`] stops as soon as the verdict is certain enough.
//! - **Search for the best settings** of a plan: [`study::best()`].
//! - **Vary many inputs over many machines**: [`study::SweepDefinition`] and [`study::Store`].
//! - **Test how far a verdict depends on uncertain inputs**: [`study::doubt()`].
//! - **Show results**: [`report`] makes sentences, tables, SVG charts and a page.
//!
//! Three programs in `sim/examples/` are a start: `one_day`, `compare_plans` and `count_events`. Run them with
//! `cargo run --release --example one_day`. The model is described in `sim/MODEL.md`.
//!
//! # Layers
//!
//! A folder imports only from lower layers; folders of one layer never import each other, except that [`params`] uses
//! the random numbers of [`engine`].
//!
//! | layer | folder | what it does |
//! |---|---|---|
//! | 1 | [`engine`], [`params`], [`stats`] | time, events, random numbers; books of parameters; statistics. No fish |
//! | 2 | [`water`] | depths, features, drift, weather |
//! | 3 | [`bait`], [`fish`], [`angler`] | three subjects that do not know each other |
//! | 4 | [`scenario`] | what the user writes, checked and converted to SI units |
//! | 5 | [`session`] | one session; the only place where bait, fish and angler meet |
//! | 6 | [`study`] | many sessions: comparisons, searches, sweeps, sensitivity |
//! | 7 | [`report`] | results in words, tables and pictures |
//! | 8 | [`cli`], [`web`] | two front ends: the command line and the local page |

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
