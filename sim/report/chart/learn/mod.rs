//! Charts of what a catch log says.

mod recast_rate;
mod step_plot;
mod wait_curves;

pub use recast_rate::recast_rate_svg;
pub use wait_curves::{expected_bites_svg, waits_svg};
