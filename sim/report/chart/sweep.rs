//! Pictures of a sweep: curves for one key, heat maps for two and three, main effects for more.

use super::heat_map::heat_maps_svg;
use super::main_effects::main_effects_svg;
use super::response_curve::response_curve_svg;
use crate::report::view::{SettingGrid, plan_names, response_curves};
use crate::scenario::Units;
use crate::study::{SweepResult, is_untouched};

/// Pictures of a sweep, one for each plan of which something is varied, each with the name of its file.
pub fn sweep_pictures(swept: &SweepResult, units: Units) -> Vec<(String, String)> {
    let named = |plan: &str, svg: String| (format!("vary-{plan}"), svg);
    if swept.keys.len() == 1 {
        let curves = response_curves(swept);
        let picture = |curve| response_curve_svg(curve, units);
        return curves
            .iter()
            .filter(|curve| !is_untouched(&curve.plan, &swept.keys))
            .map(|curve| named(&curve.plan, picture(curve)))
            .collect();
    }
    let names = plan_names(swept);
    let picture = |(plan, name): (usize, &String)| {
        let svg = match SettingGrid::new(swept, plan) {
            Some(grid) if (2..=3).contains(&swept.keys.len()) => {
                heat_maps_svg(swept, &grid, name, units)
            }
            _ => main_effects_svg(swept, plan, units),
        };
        named(name, svg)
    };
    names
        .iter()
        .enumerate()
        .filter(|(_, name)| !is_untouched(name, &swept.keys))
        .map(picture)
        .collect()
}
