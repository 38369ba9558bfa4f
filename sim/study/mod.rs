//! Many sessions: the same days fished by every plan.
//!
//! [`replicate`] fishes the days in parallel and hands them over in order; a [`Scoreboard`] adds them
//! up; [`compare`] turns that into a result. A [`Sweep`] goes through many scenarios: [`sweep()`] fishes it into a
//! [`Store`], and [`swept()`] reads what it came to. A [`Folder`] keeps results. It must not know how
//! a result is shown.

mod aims;
mod best;
mod best_result;
mod block;
mod compare;
mod curve;
mod design;
mod doubt;
mod folder;
mod ground;
mod histogram;
mod line;
mod merge;
mod owner;
mod parts;
mod progress;
mod replicate;
mod result;
mod schema;
mod scoreboard;
mod session_rows;
mod share;
mod split;
mod stamp;
mod standing;
mod store;
mod store_fault;
mod sweep;
mod swept;
mod tally;
mod vary;
mod verdicts;
mod wanted;
mod warnings;
mod weights;
mod yardstick;

pub use best::{BestAsked, MOST_DAYS, Unfinished, best};
pub use best_result::{
    AsWritten, Best, Estimate, Finalist, Gap, Setting, SettingFound, Stands, TriedPoint, Worth,
    tried_csv,
};
pub use compare::{UntilClear, compare, compare_until_clear, comparison};
pub use curve::knots_s;
pub use design::{Design, DesignFault, MOST_POINTS, Spread};
pub use doubt::{Doubt, Effort, Few, Screened, Splits, doubt, two_best};
pub use folder::{Asked, Folder, FolderFault};
pub use ground::{PlanSet, ReadPoint};
pub use histogram::Histogram;
pub use line::{Crossing, Flip, LinePoint, flips};
pub use merge::{MergeFault, days_of_shares, gather, join};
pub use parts::{Part, PartOf, parts};
pub use progress::{Control, Progress, Unwatched};
pub use replicate::{DayFished, replicate};
pub use result::{
    Aim, AimPlan, AimResult, BaitKg, BaitOf, Beats, ByHour, ByShoal, Chance, Comparison, Count,
    CurvePoint, DecilesKg, Difference, Ends, Mean, Pair, PlanResult, Rule, RuleFired, Stopped,
    Swim, TimeShare, Warning, WeightKg,
};
pub use scoreboard::Scoreboard;
pub use session_rows::SessionRows;
pub use share::Share;
pub use split::{PairSplit, PartKg2, Split, split};
pub use stamp::Stamp;
pub use standing::{BestSoFar, Standing};
pub use store::{Found, Store};
pub use store_fault::StoreFault;
pub use sweep::{BLOCK_DAYS, Sweep, same_here, sweep};
pub use swept::swept;
pub use vary::{Behind, VariedPlan, VariedSetting, VariedWeightKg, Vary};
pub use wanted::Wanted;
