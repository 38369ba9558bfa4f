//! Sweeps: every plan at many points on the same days, kept in a store, on one machine or several.
//!
//! A [`Design`] lists the points, a [`SweepDefinition`] is the whole definition, [`run_sweep()`] fishes it into a [`Store`], and
//! [`summarise()`] summarises it. It must not know how a result is shown.

mod columns;
mod result;
mod touched_plans;

#[cfg(feature = "program")]
mod block;
#[cfg(feature = "program")]
mod definition;
#[cfg(feature = "program")]
mod design;
#[cfg(feature = "program")]
mod identity;
#[cfg(feature = "program")]
mod merge;
#[cfg(feature = "program")]
mod run;
#[cfg(feature = "program")]
mod shared_plans;
#[cfg(feature = "program")]
mod store;
#[cfg(feature = "program")]
mod summarise;
#[cfg(feature = "program")]
mod totals;

pub use result::{SweepResult, SweptPlan, SweptSetting, SweptWeightKg};
pub use touched_plans::{is_untouched, plan_of_key};

#[cfg(feature = "program")]
pub use block::BLOCK_DAYS;
#[cfg(feature = "program")]
pub use definition::SweepDefinition;
#[cfg(feature = "program")]
pub use design::{Design, DesignError, MAX_POINTS, Sampling};
#[cfg(feature = "program")]
pub use merge::{MergeError, for_each_day, merge_shards, open_shards};
#[cfg(feature = "program")]
pub use run::{SweepError, is_reproducible_here, run_sweep};
#[cfg(feature = "program")]
pub use store::{Repair, Store, StoreContent, StoreError, open_lock_file};
#[cfg(feature = "program")]
pub use summarise::summarise;
#[cfg(feature = "program")]
pub use totals::{BestSoFar, SweepTotals};
