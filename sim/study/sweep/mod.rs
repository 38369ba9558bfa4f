//! Sweeps: every plan at many points on the same days, kept in a store, on one machine or several.
//!
//! A [`Design`] lists the points, a [`SweepDefinition`] is the whole definition, [`run_sweep()`] fishes it into a [`Store`], and
//! [`summarise()`] summarises it. It must not know how a result is shown.

mod block;
mod columns;
mod definition;
mod design;
mod identity;
mod merge;
mod result;
mod run;
mod shard;
mod shared_plans;
mod store;
mod summarise;
mod totals;

pub use block::BLOCK_DAYS;
pub use definition::SweepDefinition;
pub use design::{Design, DesignError, MAX_POINTS, Sampling};
pub use merge::{MergeError, for_each_day, merge_shards, open_shards};
pub use result::{SweepResult, SweptPlan, SweptSetting, SweptWeightKg};
pub use run::{SweepError, is_reproducible_here, run_sweep};
pub use shard::Shard;
pub use shared_plans::{is_untouched, plan_of_key};
pub use store::{Repair, Store, StoreContent, StoreError, open_lock_file};
pub use summarise::summarise;
pub use totals::{BestSoFar, SweepTotals};
