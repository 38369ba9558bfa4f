//! Stillwater carp sessions simulated event by event, and plans compared on the same days.
//!
//! The program `shoalwise` is built on this library. The library lets you do the same from code, and more: change a
//! scenario, watch every event, or keep other results.
//!
//! What most programs need is at the root of the library: `use sim::{Compare, Day, load};`. The modules below it hold what
//! these names are made of, and the other studies.
//!
//! # A first comparison
//!
//! A [`Scenario`] is read from a text: a water, the fish in it and the plans to compare. Whatever the text leaves out has
//! a default. [`read()`] checks it and reports everything that is wrong with it at once; [`load`] reads a file.
//!
//! ```
//! use sim::{Compare, read, verdict};
//!
//! let text = r#"
//!     session.length = "1 h"
//!     line.far-bank.distance = "25 m"
//!     shoal.residents.count = 40
//!     shoal.residents.home = "far-bank"
//!     plan.every-two.recast = "2 min"
//!     plan.every-ten.recast = "10 min"
//! "#;
//! let scenario = read(text, "pond", &[])?;
//!
//! // Fish both plans on days 1 to 6.
//! let comparison = Compare::new(&scenario).days(6).run();
//!
//! assert_eq!(comparison.days, 6);
//! for plan in &comparison.plans {
//!     println!("{}: {:.1} kg a day", plan.name, plan.weight_kg.mean);
//! }
//! for sentence in verdict(&comparison, scenario.units) {
//!     println!("{sentence}");
//! }
//! # Ok::<(), sim::Diagnostics>(())
//! ```
//!
//! # One day, event by event
//!
//! [`Day::draw`] draws everything that differs between days: weather, stock, and the uncertain inputs, whose true values
//! nobody knows. A seed and a number always give the same day. [`run_session`] fishes one plan on it;
//! [`observe_session`] also calls an [`Observer`] for each [`Event`].
//!
//! ```
//! use sim::{Day, Event, EventLog, observe_session, read};
//!
//! # let text = r#"
//! #     session.length = "1 h"
//! #     line.far-bank.distance = "25 m"
//! #     shoal.residents.count = 40
//! #     shoal.residents.home = "far-bank"
//! #     plan.every-two.recast = "2 min"
//! # "#;
//! # let scenario = read(text, "pond", &[])?;
//! let day = Day::draw(&scenario, 1, 1);
//! let mut events = EventLog::default();
//! let outcome = observe_session(&scenario, &scenario.plans[0], &day, &mut events);
//!
//! let landed = events.events.iter().filter(|(_, event)| matches!(event, Event::FishIsNetted { .. }));
//! assert_eq!(landed.count(), outcome.catches.len());
//! # Ok::<(), sim::Diagnostics>(())
//! ```
//!
//! # Where to go from here
//!
//! - **Change a plan or the water in code.** A [`Scenario`] is plain data in SI units: its [`Plan`]s have [`Phase`]s, and
//!   its [`Books`] hold every parameter of the model.
//! - **Compare until it is clear**: [`Compare::until_clear`] stops as soon as the verdict is certain enough, and
//!   [`Compare::on_day`] sees each day on the way.
//! - **Show results**: [`report_html`] makes a page, [`weight_curve_svg`] a chart, [`card`] a page for the bank,
//!   [`verdict`] and [`reasons`] sentences.
//! - **Search for the best settings** of a plan: [`study::find_best`].
//! - **Vary many inputs over many machines**: [`study::SweepDefinition`] and [`study::Store`].
//! - **Test how far a verdict depends on uncertain inputs**: [`study::analyse_sensitivity`].
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
//! | 0 | [`numerics`] | `exp`, `ln`, `sin` …, with the same bits on every machine |
//! | 1 | [`engine`], [`params`], [`stats`] | time, events, random numbers; books of parameters; statistics. No fish |
//! | 2 | [`water`] | depths, features, drift, weather |
//! | 3 | [`bait`], [`fish`], [`angler`] | three subjects that do not know each other |
//! | 4 | [`scenario`] | what the user writes, checked and converted to SI units |
//! | 5 | [`session`], [`catch_log`] | one simulated session, the only place where bait, fish and angler meet; the casts that an angler wrote down |
//! | 6 | [`study`] | many sessions: comparisons, searches, sweeps, sensitivity |
//! | 7 | [`report`] | results in words, tables and pictures |
//! | 8 | [`cli`], [`web`] | two front ends: the command line and the local page |

pub mod angler;
pub mod bait;
pub mod catch_log;
#[cfg(feature = "program")]
#[doc(hidden)]
pub mod cli;
pub mod engine;
pub mod fish;
#[doc(hidden)]
pub mod numerics;
pub mod params;
pub mod report;
pub mod scenario;
pub mod session;
#[doc(hidden)]
pub mod stats;
pub mod study;
pub mod water;
#[doc(hidden)]
pub mod web;

pub use angler::{Phase, Plan};
pub use engine::{EventLog, Observer, Time};
#[cfg(feature = "program")]
pub use report::card_pdf;
pub use report::{
    Card, EventNames, card, card_html, card_svg, clock, event_line, reasons, report_html, verdict,
    warning_text, weight, weight_curve_svg,
};
pub use scenario::{Books, Diagnostics, Scenario, Units, load, read};
pub use session::{Day, Event, Outcome, observe_session, run_session};
pub use stats::{Interval, Verdict};
pub use study::{
    Compare, CompareResult, Comparison, Control, DayOutcomes, PairResult, PlanResult, Progress,
    StopReason, Warning,
};
