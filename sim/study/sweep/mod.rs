//! Sweeps: every plan at many points on the same days, kept in a store, on one machine or several.
//!
//! A [`Design`] lists the points, a [`Sweep`] is the whole definition, [`sweep()`] fishes it into a [`Store`], and
//! [`swept()`] summarises it. It must not know how a result is shown.

mod block;
mod columns;
mod definition;
mod design;
mod identity;
mod merge;
mod result;
mod run;
mod shard;
mod store;
mod summarise;
mod totals;

pub use block::BLOCK_DAYS;
pub use definition::Sweep;
pub use design::{Design, DesignFault, MOST_POINTS, Spread};
pub use merge::{MergeFault, days_of_shares, gather, join};
pub use result::{Behind, VariedPlan, VariedSetting, VariedWeightKg, Vary};
pub use run::{same_here, sweep};
pub use shard::Share;
pub use store::{Found, Store, StoreFault};
pub use summarise::swept;
pub use totals::{BestSoFar, Standing};
