//! Many sessions: the same days fished by every plan.
//!
//! [`replicate`] fishes the days in parallel and hands them over in order; a [`Scoreboard`] adds them
//! up; [`compare`] and [`vary`] turn that into results; a [`Folder`] keeps them. It must not know how
//! a result is shown.

mod compare;
mod curve;
mod doubt;
mod folder;
mod line;
mod progress;
mod replicate;
mod result;
mod scoreboard;
mod session_rows;
mod split;
mod stamp;
mod tally;
mod vary;
mod warnings;
mod weights;

pub use compare::{compare, comparison};
pub use curve::knots_s;
pub use doubt::{Doubt, Effort, Few, Screened, Splits, doubt, two_best};
pub use folder::{Asked, Folder, FolderFault};
pub use line::{Crossing, Flip, LinePoint, flips};
pub use progress::{Control, Progress, Unwatched};
pub use replicate::{DayFished, replicate};
pub use result::{
    BaitKg, ByShoal, Comparison, Count, CurvePoint, Difference, Mean, Pair, PlanResult, RuleFired,
    Stopped, Swim, TimeShare, Warning, WeightKg,
};
pub use scoreboard::Scoreboard;
pub use session_rows::SessionRows;
pub use split::{PairSplit, PartKg2, Split, split};
pub use stamp::Stamp;
pub use vary::{Variant, VariedPlan, VariedSetting, VariedWeightKg, Vary, vary};
