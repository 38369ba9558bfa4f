//! Weight over two keys as a map, over three as a row of maps.

use plotters::style::RGBColor;
use plotters::style::text_anchor::HPos;

use super::layout::{DENSE, FreeSpans};
use crate::report::draw::{
    Canvas, DrawResult, INK, PAPER, Position, TextStyle, contours, fit, outline, picture,
    text_width, ticks_between,
};
use crate::report::format::{
    counted, setting_name, short_keys, trimmed_number, weight, weight_on_axis, weight_unit,
};
use crate::report::view::SettingGrid;
use crate::scenario::Units;
use crate::study::{SweepResult, SweptPlan};

/// Colours from the lowest weight to the highest; a lighter colour is more, also in grey and for the colour-blind.
///
/// Nine stops of the map *viridis* (Smith & van der Walt 2015, in the public domain).
pub const HEAT_RAMP: [(u8, u8, u8); 9] = [
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

/// Upper edge of the first row of maps [points].
const TOP: f64 = 148.0;
/// Height of the colour scale, and of a single map [points].
const HEIGHT: f64 = 330.0;
/// Room for the colour scale and its numbers, right of the maps [points].
const SCALE_ROOM: f64 = 92.0;
/// Maximum width of the names left of the maps [points].
const MAX_NAME_WIDTH: f64 = 150.0;
/// Space between two maps in a row, and between two rows [points].
const GAP: f64 = 14.0;
const ROW_GAP: f64 = 34.0;
/// Maximum number of maps in a row.
const MAX_IN_ROW: usize = 3;
/// Maximum number of maps; the first ones are drawn.
const MAX_MAPS: usize = 12;
/// Cells above this share of the scale have dark numbers.
const LIGHT_SHARE: f64 = 0.55;

/// One map: for three keys, at one value of the third.
struct Map<'a> {
    /// Upper left and lower right corner.
    corners: (Position, Position),
    /// Cells by row from the bottom, and by column.
    rows: Vec<Vec<&'a SweptPlan>>,
}

impl Map<'_> {
    /// Width and height of a cell [points].
    fn cell_size(&self) -> (f64, f64) {
        let ((left, top), (right, bottom)) = self.corners;
        let columns = self.rows.first().map_or(1, Vec::len);
        ((right - left) / columns as f64, (bottom - top) / self.rows.len().max(1) as f64)
    }

    /// The position of a column and row, counted in cells from the lower left corner.
    fn position(&self, column: f64, row: f64) -> Position {
        let ((left, _), (_, bottom)) = self.corners;
        let (width, height) = self.cell_size();
        (left + column * width, bottom - row * height)
    }

    /// All cells with their column and row.
    fn cells(&self) -> impl Iterator<Item = (f64, f64, &SweptPlan)> {
        self.rows.iter().enumerate().flat_map(|(row, cells)| {
            let columns = cells.iter().enumerate();
            columns.map(move |(column, cell)| (column as f64, row as f64, *cell))
        })
    }
}

/// The colour scale: from the lowest to the highest mean of all maps, in the unit of the axis.
struct ColourScale {
    low: f64,
    high: f64,
    units: Units,
}

impl ColourScale {
    fn new(maps: &[Map<'_>], units: Units) -> Self {
        let cells = maps.iter().flat_map(|map| map.rows.iter().flatten());
        let means: Vec<f64> =
            cells.map(|cell| weight_on_axis(cell.weight_kg.mean.value, units)).collect();
        let low = means.iter().copied().fold(f64::INFINITY, f64::min);
        Self { low, high: means.iter().copied().fold(low, f64::max), units }
    }

    /// The share of the way from the lowest to the highest.
    fn share(&self, value: f64) -> f64 {
        let span = self.high - self.low;
        if span > 0.0 { ((value - self.low) / span).clamp(0.0, 1.0) } else { 0.5 }
    }

    /// The mean of a cell in the unit of the axis.
    fn value(&self, cell: &SweptPlan) -> f64 {
        weight_on_axis(cell.weight_kg.mean.value, self.units)
    }
}

/// The colour at a share of the way up the ramp.
fn ramp(share: f64) -> RGBColor {
    let stop = share.clamp(0.0, 1.0) * (HEAT_RAMP.len() - 1) as f64;
    let below = (stop.floor() as usize).min(HEAT_RAMP.len() - 2);
    let mixed = |from: u8, to: u8| {
        (f64::from(from) + (stop - below as f64) * (f64::from(to) - f64::from(from))).round() as u8
    };
    let ((r, g, b), (to_r, to_g, to_b)) = (HEAT_RAMP[below], HEAT_RAMP[below + 1]);
    RGBColor(mixed(r, to_r), mixed(g, to_g), mixed(b, to_b))
}

/// Where the maps are, and which key each direction shows.
struct MapLayout<'a> {
    /// Short names of the keys.
    keys: Vec<String>,
    /// Index of the key along each map, and of the key up each map.
    across: usize,
    up: usize,
    /// Index of the key that differs from map to map, if there are three.
    panel: Option<usize>,
    maps: Vec<Map<'a>>,
    /// Number of maps in a row.
    in_row: usize,
    /// Left and right edge of the maps, and lower edge of the last.
    left: f64,
    right: f64,
    bottom: f64,
}

impl<'a> MapLayout<'a> {
    fn new(swept: &SweepResult, grid: &SettingGrid<'a>) -> Self {
        let keys = short_keys(&swept.keys);
        let sizes: Vec<usize> = grid.values.iter().map(Vec::len).collect();
        let panel = (keys.len() == 3).then(|| (0..3).min_by_key(|&key| sizes[key]).unwrap_or(0));
        let axes: Vec<usize> = (0..keys.len()).filter(|&key| Some(key) != panel).collect();
        let (across, up) = (axes[1], axes[0]);
        let count = panel.map_or(1, |key| sizes[key].min(MAX_MAPS));
        let in_row = count.min(MAX_IN_ROW);
        let names = grid.values[up].iter();
        let name_width = names.map(|name| text_width(name, DENSE.tick, false)).fold(0.0, f64::max);
        let left = DENSE.margin + name_width.min(MAX_NAME_WIDTH) + 8.0;
        let right = DENSE.right() - SCALE_ROOM;
        let width = (right - left - GAP * (in_row - 1) as f64) / in_row as f64;
        let height = if panel.is_some() { (0.8 * width).clamp(120.0, HEIGHT) } else { HEIGHT };
        let map = |number: usize| {
            let x = left + (number % in_row) as f64 * (width + GAP);
            let y = TOP + (number / in_row) as f64 * (height + ROW_GAP);
            let cell = |row: usize, column: usize| {
                let mut indices = vec![0; keys.len()];
                (indices[across], indices[up]) = (column, row);
                panel.into_iter().for_each(|key| indices[key] = number);
                grid.cell(&indices)
            };
            let row = |row| (0..sizes[across]).map(|column| cell(row, column)).collect();
            Map {
                corners: ((x, y), (x + width, y + height)),
                rows: (0..sizes[up]).map(row).collect(),
            }
        };
        let maps: Vec<Map<'_>> = (0..count).map(map).collect();
        let bottom = maps.last().map_or(TOP + height, |map| map.corners.1.1);
        Self { keys, across, up, panel, maps, in_row, left, right, bottom }
    }
}

/// Mean weight over a grid of two keys as a map, over three keys as one map for each value of the key with
/// the fewest values, as SVG.
///
/// Cells that may be within two per cent of the best are outlined. Cells have numbers; where these have no room, contours.
pub(crate) fn heat_maps_svg(
    swept: &SweepResult,
    grid: &SettingGrid<'_>,
    plan: &str,
    units: Units,
) -> String {
    let layout = MapLayout::new(swept, grid);
    let best = best_sentence(swept, plan, units);
    let title = format!("Expected weight, {plan}");
    let size = DENSE.size(layout.bottom + 72.0);
    picture(size, &format!("{title}, by {}", layout.keys.join(", ")), &best, |canvas| {
        let cells = format!(
            "Each cell: mean of {}. Outlined: may be within 2 % of the best.",
            counted(swept.days, "day")
        );
        DENSE.head(canvas, &title, &[&best, &cells])?;
        draw_maps(canvas, &layout, grid, units)
    })
}

/// The best setting of a plan in a sentence.
fn best_sentence(swept: &SweepResult, plan: &str, units: Units) -> String {
    let results = swept.settings.iter().filter_map(|setting| {
        let result = setting.plans.iter().find(|result| result.name == plan)?;
        (result.weight_kg.mean.value > 0.0).then_some((setting, result.weight_kg.mean.value))
    });
    let best = results.reduce(|best, next| if next.1 > best.1 { next } else { best });
    best.map_or_else(
        || "Nothing was caught at any setting.".to_owned(),
        |(setting, kg)| {
            let name = setting_name(&swept.keys, &setting.values);
            format!("Best mean: {} at {name}.", weight(kg, units))
        },
    )
}

/// Draws the maps with the names around them, and the colour scale.
fn draw_maps(
    canvas: &Canvas<'_>,
    layout: &MapLayout<'_>,
    grid: &SettingGrid<'_>,
    units: Units,
) -> DrawResult {
    let MapLayout { keys, across, up, panel, maps, left, right, bottom, .. } = layout;
    let scale = ColourScale::new(maps, units);
    let style = DENSE.tick_style();
    let key_y = TOP - if panel.is_some() { 36.0 } else { 15.0 };
    canvas.text(&fit(&keys[*up], DENSE.tick, false, DENSE.room()), (DENSE.margin, key_y), style)?;
    for (number, map) in maps.iter().enumerate() {
        draw_map(canvas, map, &scale)?;
        if let Some(key) = *panel {
            let ((x, y), (end, _)) = map.corners;
            let name = format!("{} {}", keys[key], grid.values[key][number]);
            canvas.text(&fit(&name, DENSE.tick, true, end - x), (x, y - 13.0), style.bold())?;
        }
        if number % layout.in_row == 0 {
            draw_row_names(canvas, map, &grid.values[*up])?;
        }
        if number + layout.in_row >= maps.len() {
            draw_column_names(canvas, map, &grid.values[*across])?;
        }
    }
    let caption = fit(&keys[*across], DENSE.tick, false, right - left);
    let middle = (0.5 * (left + right), bottom + 50.0);
    canvas.text(&caption, middle, style.anchored(HPos::Center))?;
    draw_scale(canvas, (right + 24.0, TOP, TOP + HEIGHT.min(bottom - TOP)), &scale)
}

/// Draws cells, the outline of what may be as good as the best, and numbers, or contours where numbers do not fit.
fn draw_map(canvas: &Canvas<'_>, map: &Map<'_>, scale: &ColourScale) -> DrawResult {
    for (column, row, cell) in map.cells() {
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        // Half a point over the cells to come, so that no seam shows.
        let ((_, top), (right, _)) = map.corners;
        let corners = corners.map(|(to_right, up)| {
            let (x, y) = map.position(column + to_right, row + up);
            ((x + 0.5 * to_right).min(right), (y - 0.5 * up).max(top))
        });
        canvas.polygon(&corners, ramp(scale.share(scale.value(cell))), 1.0)?;
    }
    // Lines through the numbers would only make them harder to read.
    if !numbers_fit(map, scale) {
        draw_contours(canvas, map, scale)?;
    }
    draw_outline(canvas, map)?;
    draw_numbers(canvas, map, scale)
}

/// Draws a line between the centres of cells at each number of the colour scale.
fn draw_contours(canvas: &Canvas<'_>, map: &Map<'_>, scale: &ColourScale) -> DrawResult {
    let means: Vec<Vec<f64>> =
        map.rows.iter().map(|row| row.iter().map(|cell| scale.value(cell)).collect()).collect();
    for level in ticks_between(scale.low, scale.high) {
        for ((x, y), (to_x, to_y)) in contours(&means, level) {
            let line = [map.position(x + 0.5, y + 0.5), map.position(to_x + 0.5, to_y + 0.5)];
            canvas.translucent_line(&line, PAPER, 1.5, 0.75)?;
        }
    }
    Ok(())
}

fn number(cell: &SweptPlan, scale: &ColourScale) -> String {
    let decimals = if scale.high >= 20.0 { 0 } else { 1 };
    format!("{:.decimals$}", scale.value(cell))
}

/// Whether the number of every cell fits into it.
fn numbers_fit(map: &Map<'_>, scale: &ColourScale) -> bool {
    let (width, height) = map.cell_size();
    let widths = map.cells().map(|(.., cell)| text_width(&number(cell, scale), DENSE.tick, true));
    widths.fold(0.0, f64::max) + 6.0 < width && DENSE.tick + 5.0 < height
}

/// Draws the number of each cell; if the numbers do not fit, a mark in the best cell.
fn draw_numbers(canvas: &Canvas<'_>, map: &Map<'_>, scale: &ColourScale) -> DrawResult {
    let (width, height) = map.cell_size();
    let fits = numbers_fit(map, scale);
    for (column, row, cell) in map.cells() {
        let (x, y) = map.position(column + 0.5, row + 0.5);
        let share = scale.share(scale.value(cell));
        let is_best = cell.weight_kg.mean.value > 0.0 && (1.0 - share) <= 0.0;
        if fits {
            let ink = if share > LIGHT_SHARE { INK } else { PAPER };
            let style = TextStyle {
                bold: is_best,
                ..TextStyle::plain(DENSE.tick, ink).anchored(HPos::Center)
            };
            canvas.text(&number(cell, scale), (x, y), style)?;
        } else if is_best {
            let radius = (0.25 * width.min(height)).clamp(2.5, 6.0);
            canvas.mark((x, y), radius, outline(0), INK)?;
        }
    }
    Ok(())
}

/// Draws the edge between cells that may be within two per cent of the best and those that are not.
fn draw_outline(canvas: &Canvas<'_>, map: &Map<'_>) -> DrawResult {
    let is_near = |row: isize, column: isize| {
        let row = usize::try_from(row).ok().and_then(|row| map.rows.get(row));
        let cell = row.and_then(|row| row.get(usize::try_from(column).ok()?));
        cell.is_some_and(|cell| cell.near_best)
    };
    let (rows, columns) = (map.rows.len() as isize, map.rows.first().map_or(0, Vec::len) as isize);
    // A light line under a dark one, so that it shows on every colour.
    for (ink, thickness) in [(PAPER, 5.0), (INK, 2.5)] {
        for row in 0..=rows {
            for column in 0..=columns {
                let (x, y) = (column as f64, row as f64);
                if is_near(row, column) != is_near(row - 1, column) {
                    canvas.line(&[map.position(x, y), map.position(x + 1.0, y)], ink, thickness)?;
                }
                if is_near(row, column) != is_near(row, column - 1) {
                    canvas.line(&[map.position(x, y), map.position(x, y + 1.0)], ink, thickness)?;
                }
            }
        }
    }
    Ok(())
}

/// Writes the names of the rows left of a map, as many as there is room for.
fn draw_row_names(canvas: &Canvas<'_>, map: &Map<'_>, names: &[String]) -> DrawResult {
    let step = ((DENSE.tick + 3.0) / map.cell_size().1).ceil().max(1.0) as usize;
    for (row, name) in names.iter().enumerate().step_by(step) {
        let (x, y) = map.position(0.0, row as f64 + 0.5);
        let name = fit(name, DENSE.tick, false, MAX_NAME_WIDTH);
        canvas.text(&name, (x - 8.0, y), DENSE.tick_style().anchored(HPos::Right))?;
    }
    Ok(())
}

/// Writes the names of the columns below a map: the first and last, then those that do not overlap others.
fn draw_column_names(canvas: &Canvas<'_>, map: &Map<'_>, names: &[String]) -> DrawResult {
    let mut free = FreeSpans::default();
    let last = names.len().saturating_sub(1);
    for column in [0, last].into_iter().chain(1..last) {
        let Some(name) = names.get(column) else { continue };
        let (x, y) = map.position(column as f64 + 0.5, 0.0);
        let name = fit(name, DENSE.tick, false, 120.0);
        let half = 0.5 * text_width(&name, DENSE.tick, false) + 6.0;
        // Within the map, or it would overlap the names of the next one.
        let ((left, _), (right, _)) = map.corners;
        let x = x.max(left + half - 6.0).min((right - half + 6.0).max(left + half));
        if free.take(x - half, x + half) {
            canvas.text(&name, (x, y + 18.0), DENSE.tick_style().anchored(HPos::Center))?;
        }
    }
    Ok(())
}

/// Draws the colour scale with its numbers.
fn draw_scale(
    canvas: &Canvas<'_>,
    (left, top, bottom): (f64, f64, f64),
    scale: &ColourScale,
) -> DrawResult {
    const STEPS: usize = 64;
    const WIDTH: f64 = 18.0;
    let right = left + WIDTH;
    let y = |share: f64| bottom - share * (bottom - top);
    for step in 0..STEPS {
        let from = step as f64 / STEPS as f64;
        let to = ((step as f64 + 1.5) / STEPS as f64).min(1.0);
        let corners = [(left, y(from)), (right, y(from)), (right, y(to)), (left, y(to))];
        canvas.polygon(&corners, ramp(0.5 * (from + to)), 1.0)?;
    }
    let style = DENSE.tick_style();
    canvas.text(weight_unit(scale.units), (left, top - 14.0), style)?;
    for value in ticks_between(scale.low, scale.high) {
        let y = y(scale.share(value));
        canvas.line(&[(left, y), (right + 5.0, y)], PAPER, 1.5)?;
        canvas.line(&[(right, y), (right + 5.0, y)], INK, 1.25)?;
        canvas.text(&trimmed_number(value), (right + 9.0, y), style)?;
    }
    Ok(())
}
