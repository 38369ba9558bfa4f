//! Many sessions: the same days fished by every plan.
//!
//! [`replicate`] fishes the days in parallel and hands them over in order; a [`Scoreboard`] adds them
//! up; [`compare`] turns that into a result. A [`Sweep`] goes through many scenarios: [`sweep()`] fishes it into a
//! [`Store`], and [`swept()`] reads what it came to. A [`Folder`] keeps results. It must not know how
//! a result is shown.

mod block;
mod compare;
mod curve;
mod design;
mod folder;
mod merge;
mod owner;
mod progress;
mod replicate;
mod result;
mod schema;
mod scoreboard;
mod session_rows;
mod share;
mod stamp;
mod standing;
mod store;
mod store_fault;
mod sweep;
mod swept;
mod tally;
mod vary;
mod warnings;
mod weights;

pub use compare::{compare, comparison};
pub use curve::knots_s;
pub use design::{Design, DesignFault, MOST_POINTS, Spread};
pub use folder::{Asked, Folder, FolderFault};
pub use merge::{MergeFault, gather, join};
pub use progress::{Control, Progress, Unwatched};
pub use replicate::{DayFished, replicate};
pub use result::{
    BaitKg, ByShoal, Comparison, Count, CurvePoint, Difference, Mean, Pair, PlanResult, Stopped,
    Swim, TimeShare, Warning, WeightKg,
};
pub use scoreboard::Scoreboard;
pub use session_rows::SessionRows;
pub use share::Share;
pub use stamp::Stamp;
pub use standing::{BestSoFar, Standing};
pub use store::{Found, Store};
pub use store_fault::StoreFault;
pub use sweep::{BLOCK_DAYS, Sweep, same_here, sweep};
pub use swept::swept;
pub use vary::{Behind, VariedPlan, VariedSetting, VariedWeightKg, Vary};
