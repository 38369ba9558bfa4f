//! Lines, and the chart with its bed and features, from their keys.

use crate::numerics::sin_cos;
use crate::scenario::schema::water;
use crate::scenario::values::{ValueTable, default_of};
use crate::water::{BankSounding, Bathymetry, Chart, Feature, Line, PlacedSounding, Point};

/// All lines, in the order of the file.
pub(super) fn lines(table: &ValueTable) -> Vec<Line> {
    let line = |name: &str| {
        let distance_m = table.value(&water::LINE_DISTANCE.at(&[name]));
        let bearing_deg = table.value(&water::LINE_BEARING.at(&[name]));
        Line { name: name.to_owned(), at: seen_from_peg(distance_m, bearing_deg) }
    };
    table.names(water::LINES, &[]).into_iter().map(line).collect()
}

/// All lines where the file has them: `--set` moves where the angler fishes, not where fish live.
pub(super) fn lines_of_file(table: &ValueTable, lines: &[Line]) -> Vec<Line> {
    let line = |line: &Line| {
        let distance_m = table.line_value_of_file(&water::LINE_DISTANCE.at(&[&line.name]));
        let bearing_deg = table.line_value_of_file(&water::LINE_BEARING.at(&[&line.name]));
        let bearing_deg = bearing_deg.unwrap_or_else(|| default_of(water::LINE_BEARING));
        let at = distance_m.map(|distance_m| seen_from_peg(distance_m, bearing_deg));
        Line { name: line.name.clone(), at: at.unwrap_or(line.at) }
    };
    lines.iter().map(line).collect()
}

/// The chart; lines with a depth of their own are soundings.
pub(super) fn chart(table: &ValueTable, lines: &[Line]) -> Chart {
    let feature = |name: &str| Feature {
        name: name.to_owned(),
        centre: Point {
            x_m: table.value(&water::FEATURE_ACROSS.at(&[name])),
            y_m: table.value(&water::FEATURE_OUT.at(&[name])),
        },
        half_length_m: table.value(&water::FEATURE_HALF_LENGTH.at(&[name])),
        half_width_m: table.value(&water::FEATURE_HALF_WIDTH.at(&[name])),
        depth_m: table.given(&water::FEATURE_DEPTH.at(&[name])),
        is_cover: table.value(&water::FEATURE_COVER.at(&[name])),
    };
    Chart {
        width_m: table.value(&water::WIDTH),
        length_m: table.value(&water::LENGTH),
        bed: bed(table, lines),
        features: table.names(water::FEATURES, &[]).into_iter().map(feature).collect(),
    }
}

/// The bed. Without soundings by distance it is level at the water's depth, or, if that is left out, at the mean of the
/// soundings with a place.
fn bed(table: &ValueTable, lines: &[Line]) -> Bathymetry {
    let (mut profile, mut placed) = (Vec::new(), Vec::new());
    for name in table.names(water::SOUNDINGS, &[]) {
        let depth_m = table.value(&water::SOUNDING_DEPTH.at(&[name]));
        match place_of_sounding(table, name) {
            Some(at) => placed.push(PlacedSounding { at, depth_m }),
            None => profile.push(BankSounding {
                distance_m: table.value(&water::SOUNDING_DISTANCE.at(&[name])),
                depth_m,
            }),
        }
    }
    if profile.is_empty() && (placed.is_empty() || table.has(&water::DEPTH)) {
        profile.push(BankSounding { distance_m: 0.0, depth_m: table.value(&water::DEPTH) });
    }
    for line in lines {
        let depth_m = table.given(&water::LINE_DEPTH.at(&[&line.name]));
        placed.extend(depth_m.map(|depth_m| PlacedSounding { at: line.at, depth_m }));
    }
    Bathymetry::new(profile, placed, table.value(&water::SOUNDING_REACH))
}

/// The place of a sounding. `None` if it holds all along the bank.
fn place_of_sounding(table: &ValueTable, name: &str) -> Option<Point> {
    if let Some(y_m) = table.given(&water::SOUNDING_OUT.at(&[name])) {
        let x_m = table.given(&water::SOUNDING_ACROSS.at(&[name]))?;
        return Some(Point { x_m, y_m });
    }
    let bearing_deg = table.given(&water::SOUNDING_BEARING.at(&[name]))?;
    Some(seen_from_peg(table.value(&water::SOUNDING_DISTANCE.at(&[name])), bearing_deg))
}

/// The place at a distance and bearing from the peg; 0 degrees is straight out.
fn seen_from_peg(distance_m: f64, bearing_deg: f64) -> Point {
    let (sin, cos) = sin_cos(bearing_deg.to_radians());
    Point { x_m: distance_m * sin, y_m: distance_m * cos }
}

#[cfg(test)]
mod tests {
    use crate::scenario::{Scenario, read};
    use crate::water::Point;

    fn scenario(keys: &str, sets: &[&str]) -> Scenario {
        let text = format!("{keys}\n[line.bar]\ndistance = \"28 m\"\n[plan.patient]\n");
        let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
        read(&text, "pond", &sets).unwrap_or_else(|faults| panic!("{faults}"))
    }

    fn faults(keys: &str) -> String {
        let text = format!("{keys}\n[line.bar]\ndistance = \"28 m\"\n[plan.patient]\n");
        read(&text, "pond", &[]).expect_err("it has faults").to_string()
    }

    #[test]
    fn soundings_hold_along_the_bank_or_at_their_place() {
        let keys = "[water.sounding]\n\
                    near = { distance = \"5 m\", depth = \"1 m\" }\n\
                    far = { distance = \"25 m\", depth = \"2 m\" }\n\
                    hole = { across = \"-9 m\", out = \"15 m\", depth = \"3 m\" }\n\
                    hump = { distance = \"20 m\", bearing = \"90 deg\", depth = \"0.5 m\" }";
        let chart = scenario(keys, &["line.bar.depth=1.7 m"]).chart;
        for (x_m, y_m, depth_m) in [
            (0.0, 1.0, 1.0),
            (8.0, 15.0, 1.5),
            (-25.0, 40.0, 2.0),
            (-9.0, 15.0, 3.0),
            (20.0, 0.0, 0.5),
            (0.0, 28.0, 1.7),
        ] {
            let found_m = chart.depth_m(Point { x_m, y_m });
            assert!((found_m - depth_m).abs() < 1e-9, "{found_m} m at {x_m} m, {y_m} m");
        }
    }

    #[test]
    fn a_water_with_placed_soundings_alone_is_level_at_its_depth() {
        let keys = "water.depth = \"2 m\"\n\
                    water.sounding.hole = { across = \"-9 m\", out = \"15 m\", depth = \"3 m\" }";
        let chart = scenario(keys, &[]).chart;
        assert!((chart.depth_m(Point { x_m: 20.0, y_m: 3.0 }) - 2.0).abs() < 1e-9);
        assert!((chart.depth_m(Point { x_m: -9.0, y_m: 15.0 }) - 3.0).abs() < 1e-9);
    }

    #[test]
    fn a_sounding_says_in_one_way_where_it_was_measured() {
        let sounding = |keys: &str| faults(&format!("water.sounding.a = {{ {keys} }}"));
        assert!(sounding("depth = \"1 m\"").contains("does not say where"));
        assert!(sounding("depth = \"1 m\", out = \"5 m\"").contains("across: is missing"));
        let both = "depth = \"1 m\", distance = \"5 m\", out = \"5 m\", across = \"1 m\"";
        assert!(sounding(both).contains("cannot be used together"));
        let outside = "depth = \"1 m\", out = \"500 m\", across = \"1 m\"";
        assert!(sounding(outside).contains("outside the water"));
    }

    #[test]
    fn a_line_has_no_depth_of_its_own_in_a_feature_that_has_one() {
        let keys = "line.bar.depth = \"1 m\"\nwater.feature.isle = { out = \"28 m\", half_length = \"5 m\", \
                    half_width = \"3 m\", depth = \"0.7 m\" }";
        let text = format!("{keys}\nline.bar.distance = \"28 m\"\n[plan.patient]\n");
        let faults = read(&text, "pond", &[]).expect_err("two depths").to_string();
        assert!(faults.contains("pond.toml:1: line.bar.depth"), "{faults}");
    }
}
