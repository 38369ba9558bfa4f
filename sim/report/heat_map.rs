//! Weight over two keys as a map, over three as a row of maps.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;

use super::contour::contours;
use super::marker::outline;
use super::measures::{weight, weight_on_axis, weight_unit};
use super::setting::{Grid, setting_name, short_keys};
use super::sheet::{Drawn, INK, MUTED, PAPER, Place, Sheet, Type, picture};
use super::table::days;
use super::ticks::{tick_label, ticks_between};
use super::typeface::{fit, width};
use crate::scenario::Units;
use crate::study::{VariedPlan, Vary};

/// Colours from the lowest weight to the highest; lighter is more, to every eye and in grey.
///
/// Nine stops of the map *viridis* (Smith & van der Walt 2015, in the public domain).
pub const RAMP: [(u8, u8, u8); 9] = [
    (68, 1, 84),
    (71, 44, 122),
    (59, 81, 139),
    (44, 113, 142),
    (33, 144, 141),
    (39, 173, 129),
    (92, 200, 99),
    (170, 220, 50),
    (253, 231, 37),
];

/// Width of the picture [points].
const WIDTH: f64 = 720.0;
/// Blank margin [points].
const MARGIN: f64 = 20.0;
/// Upper edge of the first row of maps [points].
const TOP: f64 = 148.0;
/// Height of the bar of colours, and of a lone map [points].
const HIGH: f64 = 330.0;
/// Room for the bar and its numbers, right of the maps [points].
const BAR: f64 = 92.0;
/// Sizes of type [points].
const TITLE: f64 = 26.0;
const NOTE: f64 = 16.5;
const TICK: f64 = 15.5;
/// Most maps beside one another.
const ABREAST: usize = 3;
/// Most maps; of more the first are drawn.
const MOST_MAPS: usize = 12;

/// One map: a value of the third key, if there is one.
struct Map<'a> {
    /// Upper left and lower right corner.
    corners: (Place, Place),
    /// Cells by row from the bottom, and by column.
    rows: Vec<Vec<&'a VariedPlan>>,
}

impl Map<'_> {
    /// Width and height of a cell [points].
    fn cell(&self) -> (f64, f64) {
        let ((left, top), (right, bottom)) = self.corners;
        let columns = self.rows.first().map_or(1, Vec::len);
        ((right - left) / columns as f64, (bottom - top) / self.rows.len().max(1) as f64)
    }

    /// The place of a column and row counted in cells from the lower left corner.
    fn at(&self, column: f64, row: f64) -> Place {
        let ((left, _), (_, bottom)) = self.corners;
        let (wide, high) = self.cell();
        (left + column * wide, bottom - row * high)
    }
}

/// Weights from the lowest to the highest of all maps, on the axis.
struct Scale {
    low: f64,
    high: f64,
    units: Units,
}

impl Scale {
    fn share(&self, on_axis: f64) -> f64 {
        let span = self.high - self.low;
        if span > 0.0 { ((on_axis - self.low) / span).clamp(0.0, 1.0) } else { 0.5 }
    }

    fn of(&self, plan: &VariedPlan) -> f64 {
        weight_on_axis(plan.weight_kg.mean, self.units)
    }
}

/// The colour at a share of the way up the ramp.
fn ramp(share: f64) -> RGBColor {
    let at = share.clamp(0.0, 1.0) * (RAMP.len() - 1) as f64;
    let below = (at.floor() as usize).min(RAMP.len() - 2);
    let mixed = |from: u8, to: u8| {
        (f64::from(from) + (at - below as f64) * (f64::from(to) - f64::from(from))).round() as u8
    };
    let ((r, g, b), (to_r, to_g, to_b)) = (RAMP[below], RAMP[below + 1]);
    RGBColor(mixed(r, to_r), mixed(g, to_g), mixed(b, to_b))
}

/// Mean weight over a grid of two keys as a map with contours, over three as one map for each value of the key
/// with the fewest; what may be within two per cent of the best is outlined. As SVG.
#[must_use]
pub(super) fn heat_maps_svg(found: &Vary, grid: &Grid<'_>, plan: &str, units: Units) -> String {
    let keys = short_keys(&found.keys);
    let sizes: Vec<usize> = grid.values.iter().map(Vec::len).collect();
    let panel = (keys.len() == 3).then(|| (0..3).min_by_key(|&key| sizes[key]).unwrap_or(0));
    let axes: Vec<usize> = (0..keys.len()).filter(|&key| Some(key) != panel).collect();
    let (across, up) = (axes[1], axes[0]);
    let maps = panel.map_or(1, |key| sizes[key].min(MOST_MAPS));
    let abreast = maps.min(ABREAST);
    let name_width =
        grid.values[up].iter().map(|name| width(name, TICK, false)).fold(0.0, f64::max);
    let left = MARGIN + name_width.min(150.0) + 8.0;
    let right = WIDTH - BAR - MARGIN;
    let gap = 14.0;
    let wide = (right - left - gap * (abreast - 1) as f64) / abreast as f64;
    let high = if panel.is_some() { (0.8 * wide).clamp(120.0, HIGH) } else { HIGH };
    let step = high + 34.0;
    let ranks = maps.div_ceil(abreast);
    let bottom = TOP + step * (ranks - 1) as f64 + high;
    let laid = (0..maps).map(|map| {
        let at =
            (left + (map % abreast) as f64 * (wide + gap), TOP + (map / abreast) as f64 * step);
        let cell = |row: usize, column: usize| {
            let mut places = vec![0; keys.len()];
            (places[across], places[up]) = (column, row);
            panel.into_iter().for_each(|key| places[key] = map);
            grid.at(&places)
        };
        let row = |row| (0..sizes[across]).map(|column| cell(row, column)).collect();
        Map { corners: (at, (at.0 + wide, at.1 + high)), rows: (0..sizes[up]).map(row).collect() }
    });
    let laid: Vec<Map<'_>> = laid.collect();

    let best = found.settings.iter().filter_map(|setting| {
        let of = setting.plans.iter().find(|of| of.name == plan)?;
        (of.weight_kg.mean > 0.0).then_some((setting, of))
    });
    let best = best.reduce(|a, b| if b.1.weight_kg.mean > a.1.weight_kg.mean { b } else { a });
    let says = best.map_or_else(
        || "Nothing was caught at any setting.".to_owned(),
        |(setting, of)| {
            let at = setting_name(&found.keys, &setting.values);
            format!("Best mean: {} at {at}.", weight(of.weight_kg.mean, units))
        },
    );
    let means = laid.iter().flat_map(|map| map.rows.iter().flatten());
    let means: Vec<f64> = means.map(|plan| weight_on_axis(plan.weight_kg.mean, units)).collect();
    let low = means.iter().copied().fold(f64::INFINITY, f64::min);
    let scale = Scale { low, high: means.iter().copied().fold(low, f64::max), units };
    let title = format!("Expected weight, {plan}");
    let size = (WIDTH as u32, 2 * (0.5 * (bottom + 72.0)).ceil() as u32);
    picture(size, &format!("{title}, by {}", keys.join(", ")), &says, |sheet| {
        let room = WIDTH - 2.0 * MARGIN;
        let note = Type::plain(NOTE, MUTED);
        let heading = Type::plain(TITLE, INK).bold();
        sheet.text(&fit(&title, TITLE, true, room), (MARGIN, 30.0), heading)?;
        sheet.text(&fit(&says, NOTE, false, room), (MARGIN, 60.0), note)?;
        let near = format!(
            "Each cell: mean of {}. Outlined: may be within 2 % of the best.",
            days(found.days)
        );
        sheet.text(&fit(&near, NOTE, false, room), (MARGIN, 82.0), note)?;
        let axis = Type::plain(TICK, INK);
        let above = TOP - if panel.is_some() { 36.0 } else { 15.0 };
        sheet.text(&fit(&keys[up], TICK, false, room), (MARGIN, above), axis)?;
        for (number, map) in laid.iter().enumerate() {
            draw_map(sheet, map, &scale)?;
            if let Some(key) = panel {
                let name = format!("{} {}", keys[key], grid.values[key][number]);
                let at = (map.corners.0.0, map.corners.0.1 - 13.0);
                sheet.text(&fit(&name, TICK, true, wide), at, axis.bold())?;
            }
            if number % abreast == 0 {
                names_up(sheet, map, &grid.values[up])?;
            }
            if number + abreast >= maps {
                names_across(sheet, map, &grid.values[across])?;
            }
        }
        let middle = (0.5 * (left + right), bottom + 50.0);
        let across = fit(&keys[across], TICK, false, right - left);
        sheet.text(&across, middle, axis.anchored(HPos::Center))?;
        draw_bar(sheet, (right + 24.0, TOP, TOP + HIGH.min(bottom - TOP)), &scale)
    })
}

/// Cells, contours, the outline of what is as good as the best, and numbers where they fit.
fn draw_map(sheet: &Sheet<'_>, map: &Map<'_>, scale: &Scale) -> Drawn {
    for (row, cells) in map.rows.iter().enumerate() {
        for (column, cell) in cells.iter().enumerate() {
            let (column, row) = (column as f64, row as f64);
            let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
            // Half a point over the cells to come, so that no seam shows.
            let ((_, top), (right, _)) = map.corners;
            let over = |(x, y): Place, (to_right, up): (f64, f64)| {
                ((x + 0.5 * to_right).min(right), (y - 0.5 * up).max(top))
            };
            let corners = corners.map(|at| over(map.at(column + at.0, row + at.1), at));
            sheet.area(&corners, ramp(scale.share(scale.of(cell))), 1.0)?;
        }
    }
    let means: Vec<Vec<f64>> =
        map.rows.iter().map(|row| row.iter().map(|cell| scale.of(cell)).collect()).collect();
    for level in ticks_between(scale.low, scale.high) {
        for ((x, y), (to_x, to_y)) in contours(&means, level) {
            // A level runs between the middles of cells.
            let line = [map.at(x + 0.5, y + 0.5), map.at(to_x + 0.5, to_y + 0.5)];
            sheet.faint_line(&line, PAPER, 1.5, 0.75)?;
        }
    }
    draw_outline(sheet, map)?;
    let (wide, high) = map.cell();
    let decimals = if scale.high >= 20.0 { 0 } else { 1 };
    let words = |cell: &VariedPlan| format!("{:.decimals$}", scale.of(cell));
    let widest = map.rows.iter().flatten().map(|cell| width(&words(cell), TICK, true));
    let fits = widest.fold(0.0, f64::max) + 6.0 < wide && TICK + 5.0 < high;
    for (row, cells) in map.rows.iter().enumerate() {
        for (column, cell) in cells.iter().enumerate() {
            let at = map.at(column as f64 + 0.5, row as f64 + 0.5);
            let share = scale.share(scale.of(cell));
            let ink = if share > 0.55 { INK } else { PAPER };
            let is_best = cell.weight_kg.mean > 0.0 && (1.0 - share) <= 0.0;
            if fits {
                // The number stands on the cell's own colour, not on a contour.
                let half = 0.5 * width(&words(cell), TICK, is_best) + 2.0;
                let patch = [(-half, -9.0), (half, -9.0), (half, 9.0), (-half, 9.0)];
                let patch = patch.map(|(x, y)| (at.0 + x, at.1 + y));
                sheet.area(&patch, ramp(share), 1.0)?;
                let how = Type { bold: is_best, ..Type::plain(TICK, ink).anchored(HPos::Center) };
                sheet.text(&words(cell), at, how)?;
            } else if is_best {
                sheet.mark(at, (0.25 * wide.min(high)).clamp(2.5, 6.0), outline(0), INK)?;
            }
        }
    }
    Ok(())
}

/// The edge between what may be within two per cent of the best and what is not.
fn draw_outline(sheet: &Sheet<'_>, map: &Map<'_>) -> Drawn {
    let is_near = |row: isize, column: isize| {
        let row = usize::try_from(row).ok().and_then(|row| map.rows.get(row));
        let cell = row.and_then(|row| row.get(usize::try_from(column).ok()?));
        cell.is_some_and(|cell| cell.near_best)
    };
    let (rows, columns) = (map.rows.len() as isize, map.rows.first().map_or(0, Vec::len) as isize);
    // Under and over, so that the line shows on every colour.
    for (ink, thick) in [(PAPER, 5.0), (INK, 2.5)] {
        for row in 0..=rows {
            for column in 0..=columns {
                let (x, y) = (column as f64, row as f64);
                if is_near(row, column) != is_near(row - 1, column) {
                    sheet.line(&[map.at(x, y), map.at(x + 1.0, y)], ink, thick)?;
                }
                if is_near(row, column) != is_near(row, column - 1) {
                    sheet.line(&[map.at(x, y), map.at(x, y + 1.0)], ink, thick)?;
                }
            }
        }
    }
    Ok(())
}

/// Names along the left edge, those that find room.
fn names_up(sheet: &Sheet<'_>, map: &Map<'_>, names: &[String]) -> Drawn {
    let every = ((TICK + 3.0) / map.cell().1).ceil().max(1.0) as usize;
    for (row, name) in names.iter().enumerate().step_by(every) {
        let (x, y) = map.at(0.0, row as f64 + 0.5);
        let how = Type::plain(TICK, INK).anchored(HPos::Right);
        sheet.text(&fit(name, TICK, false, 150.0), (x - 8.0, y), how)?;
    }
    Ok(())
}

/// Names along the lower edge: the ends first, and of the rest those that run into none.
fn names_across(sheet: &Sheet<'_>, map: &Map<'_>, names: &[String]) -> Drawn {
    let mut taken: Vec<(f64, f64)> = Vec::new();
    let last = names.len().saturating_sub(1);
    for column in [0, last].into_iter().chain(1..last) {
        let Some(name) = names.get(column) else { continue };
        let (x, y) = map.at(column as f64 + 0.5, 0.0);
        let name = fit(name, TICK, false, 120.0);
        let reach = 0.5 * width(&name, TICK, false) + 6.0;
        // Within the map, or it would run into the names of the next one.
        let ((left, _), (right, _)) = map.corners;
        let x = x.max(left + reach - 6.0).min((right - reach + 6.0).max(left + reach));
        if taken.iter().all(|(from, to)| x + reach <= *from || x - reach >= *to) {
            let how = Type::plain(TICK, INK).anchored(HPos::Center);
            sheet.text(&name, (x, y + 18.0), how)?;
            taken.push((x - reach, x + reach));
        }
    }
    Ok(())
}

/// The bar that says which colour is which weight.
fn draw_bar(sheet: &Sheet<'_>, (left, top, bottom): (f64, f64, f64), scale: &Scale) -> Drawn {
    const STEPS: usize = 64;
    const WIDE: f64 = 18.0;
    let y = |share: f64| bottom - share * (bottom - top);
    for step in 0..STEPS {
        let from = step as f64 / STEPS as f64;
        let to = ((step as f64 + 1.5) / STEPS as f64).min(1.0);
        let corners =
            [(left, y(from)), (left + WIDE, y(from)), (left + WIDE, y(to)), (left, y(to))];
        sheet.area(&corners, ramp(0.5 * (from + to)), 1.0)?;
    }
    let tick = Type::plain(TICK, INK);
    sheet.text(weight_unit(scale.units), (left, top - 14.0), tick)?;
    for value in ticks_between(scale.low, scale.high) {
        let at = y(scale.share(value));
        sheet.line(&[(left, at), (left + WIDE + 5.0, at)], PAPER, 1.5)?;
        sheet.line(&[(left + WIDE, at), (left + WIDE + 5.0, at)], INK, 1.25)?;
        sheet.text(&tick_label(value), (left + WIDE + 9.0, at), tick)?;
    }
    Ok(())
}
