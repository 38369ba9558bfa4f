//! Studies of many sessions: comparison of plans, search for the best setting, sweeps, and sensitivity analysis.
//!
//! [`replicate`] fishes days in parallel and delivers them in order; a [`Scoreboard`] adds them up, and [`compare`]
//! turns the sums into a result. [`best`] searches for the best setting. A [`Sweep`] covers many settings: [`sweep()`]
//! fishes it into a [`Store`], and [`swept()`] summarises it. [`doubt`] analyses how far uncertain inputs put a
//! verdict in doubt. A [`Folder`] keeps results. This layer must not know how a result is shown.

mod compare;
mod folder;
mod optimise;
mod progress;
mod replicate;
mod runner;
mod sensitivity;
mod session_rows;
mod stamp;
mod sweep;
mod units;

pub use compare::{
    Aim, AimPlan, AimResult, BaitKg, BaitOf, Beats, ByHour, ByShoal, Chance, Comparison, Count,
    CurvePoint, DecilesKg, Difference, Ends, Histogram, Mean, Pair, Part, PartOf, PlanResult, Rule,
    RuleFired, Scoreboard, Stopped, Swim, TimeShare, UntilClear, Warning, WeightKg, compare,
    compare_until_clear, comparison, knots_s, parts,
};
pub use folder::{Asked, Folder, FolderFault};
pub use optimise::{
    AsWritten, Best, BestAsked, Estimate, Finalist, Gap, MOST_DAYS, PlanSet, ReadPoint, Setting,
    SettingFound, Stands, TriedPoint, Unfinished, Wanted, Worth, best, tried_csv,
};
pub use progress::{Control, Progress, Unwatched};
pub use replicate::{DayFished, replicate};
pub use runner::seconds_per_session;
pub use sensitivity::{
    Crossing, Doubt, Effort, Few, Flip, LinePoint, PairSplit, PartKg2, Screened, Split, Splits,
    doubt, flips, split, two_best,
};
pub use session_rows::SessionRows;
pub use stamp::Stamp;
pub use sweep::{
    BLOCK_DAYS, Behind, BestSoFar, Design, DesignFault, Found, MOST_POINTS, MergeFault, Share,
    Spread, Standing, Store, StoreFault, Sweep, VariedPlan, VariedSetting, VariedWeightKg, Vary,
    days_of_shares, gather, join, same_here, sweep, swept,
};
