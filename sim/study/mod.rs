//! Many sessions: the same days fished by every plan.

mod result;
mod stamp;

pub use result::{
    BaitKg, ByShoal, Comparison, Count, CurvePoint, Difference, Mean, Pair, PlanResult, Stopped,
    Swim, TimeShare, Warning, WeightKg,
};
pub use stamp::Stamp;
