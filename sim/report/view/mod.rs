//! Results arranged for showing: a pair seen from one plan, a response curve, a grid, a schedule.
//!
//! It must not write sentences or draw.

mod axis;
mod grid;
mod pair;
mod response;
mod schedule;
mod waters;

pub use response::{ResponseCurve, ResponsePoint};

pub(super) use grid::SettingGrid;
pub(super) use pair::{PairView, by_weight, index_among, index_of, plans_by_weight};
pub(super) use response::{NEAR_BEST, plan_names, response_curves};
pub(super) use schedule::{PlanWords, feeding_schedule, hours_minutes, rod_schedule};
pub(super) use waters::{WaterRow, pair_between, rows_by_weight};
