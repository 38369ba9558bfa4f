//! Checks that lines, features and home ranges lie in the water.

use crate::fish::Shoal;
use crate::scenario::diagnose::{Diagnostics, quoted};
use crate::scenario::schema::{FullKey, shoal, water};
use crate::scenario::values::ValueTable;
use crate::water::{Chart, Line, Point};

/// Checks lines, features and home ranges against the extent of the water.
pub(crate) fn check_places(
    table: &ValueTable,
    chart: &Chart,
    lines: &[Line],
    shoals: &[Shoal],
    faults: &mut Diagnostics,
) {
    if table.failed(&water::WIDTH) || table.failed(&water::LENGTH) {
        return;
    }
    let extent = format!("{} m wide and {} m long", chart.width_m, chart.length_m);
    for line in lines {
        let key = water::LINE_DISTANCE.at(&[&line.name]);
        if table.given(&key).is_some() && !chart.contains(line.at) {
            let problem = format!("the line is outside the water, which is {extent}");
            let fix = "move it closer or make the water larger";
            faults.add(table.fault(key.dotted(), problem, fix));
        }
        check_depth(table, line, chart, faults);
    }
    for name in table.names(water::SOUNDINGS, &[]) {
        check_sounding(table, name, chart, &extent, faults);
    }
    for feature in &chart.features {
        let near_m = chart.clamp(feature.centre).distance_m(feature.centre);
        if near_m > feature.half_length_m.max(feature.half_width_m) {
            let dotted = water::FEATURES.entry(&[&feature.name]);
            let problem = format!("the feature is outside the water, which is {extent}");
            let fix = "change its across or out, or make the water larger";
            faults.add(table.fault(&dotted, problem, fix));
        }
    }
    for shoal in shoals {
        check_home(table, shoal, chart, &extent, faults);
    }
}

/// Checks that a line with a depth is not in a feature that has a depth as well.
fn check_depth(table: &ValueTable, line: &Line, chart: &Chart, faults: &mut Diagnostics) {
    let key = water::LINE_DEPTH.at(&[&line.name]);
    let feature = chart.features.iter().find(|feature| feature.contains(line.at));
    if let Some(feature) = feature.filter(|feature| feature.depth_m.is_some() && table.has(&key)) {
        let name = quoted(&feature.name);
        let problem = format!("the line is in the feature {name}, which also has a depth");
        let fix = "remove one of the two depths, or move the line out of the feature";
        faults.add(table.fault(key.dotted(), problem, fix));
    }
}

/// Checks that a sounding with a place was measured in the water.
fn check_sounding(
    table: &ValueTable,
    name: &str,
    chart: &Chart,
    extent: &str,
    faults: &mut Diagnostics,
) {
    let (across, out) = (water::SOUNDING_ACROSS.at(&[name]), water::SOUNDING_OUT.at(&[name]));
    let (Some(x_m), Some(y_m)) = (table.given(&across), table.given(&out)) else { return };
    if !chart.contains(Point { x_m, y_m }) {
        let problem = format!("the sounding is outside the water, which is {extent}");
        let fix = "change its across or out, or make the water larger";
        faults.add(table.fault(&water::SOUNDINGS.entry(&[name]), problem, fix));
    }
}

fn check_home(
    table: &ValueTable,
    shoal: &Shoal,
    chart: &Chart,
    extent: &str,
    faults: &mut Diagnostics,
) {
    let position = [shoal::HOME_ACROSS, shoal::HOME_OUT].map(|key| key.at(&[&shoal.name]));
    let Some(first) = position.iter().find(|key| table.has(*key)) else { return };
    if table.has(&shoal::HOME.at(&[&shoal.name])) {
        let problem = "cannot be used together with home, which also says where the home range is";
        let fix = "write either home, or home_across and home_out";
        faults.add(table.fault(first.dotted(), problem, fix));
    } else if !chart.contains(shoal.home) {
        let problem = format!("the home range is outside the water, which is {extent}");
        let fix = "change home_across or home_out, or make the water larger";
        faults.add(table.fault(first.dotted(), problem, fix));
    }
}
