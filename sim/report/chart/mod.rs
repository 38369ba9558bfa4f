//! Charts as SVG, one file each.
//!
//! It must not work anything out: what it draws comes from results and from `view`.

mod catch_by_hour;
mod difference;
mod heat_map;
mod layout;
mod learn;
mod main_effects;
mod response_curve;
mod search;
mod sweep;
mod timeline;
mod tornado;
mod unknowns;
mod weight_curve;

pub use heat_map::HEAT_RAMP;
pub use learn::{expected_bites_svg, recast_rate_svg, waits_svg};
pub use response_curve::response_curve_svg;
pub use search::search_chart_svg;
pub use sweep::sweep_pictures;
pub use tornado::tornado_svg;
pub use unknowns::unknowns_svg;
pub use weight_curve::{water_curves_svg, weight_curve_svg};

pub(super) use catch_by_hour::catch_by_hour_svg;
pub(super) use difference::difference_chart_svg;
pub(super) use timeline::timeline_svg;
