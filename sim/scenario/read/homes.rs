//! Home ranges by name and by place.

use crate::water::{Chart, Line, Point};

/// Half the extent of a home range around a line, if the scenario leaves it out [m].
const HOME_AT_LINE_M: (f64, f64) = (8.0, 5.0);

/// What the home ranges of shoals are found by.
pub(super) struct Homes<'a> {
    pub(super) chart: &'a Chart,
    /// Lines where the file has them.
    pub(super) lines: &'a [Line],
    /// Length of the session [s].
    pub(super) session_s: f64,
}

impl Homes<'_> {
    /// Centre of the home range at a line or a feature, and half its extents along and away from the bank if the
    /// scenario leaves them out [m].
    pub(super) fn named(&self, name: &str) -> Option<(Point, (f64, f64))> {
        if let Some(line) = self.lines.iter().find(|line| line.name == name) {
            return Some((line.at, HOME_AT_LINE_M));
        }
        let feature = self.chart.features.iter().find(|feature| feature.name == name)?;
        Some((feature.centre, (feature.half_length_m, feature.half_width_m)))
    }

    /// The place at two distances, of which one may be left out.
    pub(super) fn place(&self, across_m: Option<f64>, out_m: Option<f64>) -> Point {
        Point { x_m: across_m.unwrap_or(0.0), y_m: out_m.unwrap_or(0.5 * self.chart.length_m) }
    }
}
