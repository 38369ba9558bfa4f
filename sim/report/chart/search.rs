//! The points of a search against each setting, and the effect of changing one setting alone.

use plotters::style::text_anchor::HPos;

use super::layout::{FreeSpans, NARROW};
use crate::numerics::ln;
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, MUTED, PlotArea, Position, colour, fit, outline, picture,
    text_width, ticks,
};
use crate::report::format::{
    key_shown, objective_value, trimmed_number, value_shown, weight_on_axis, weight_unit,
};
use crate::scenario::Units;
use crate::stats::Interval;
use crate::study::{Objective, SearchResult, SettingResult};

/// Height of the head, and of one row of panels [points].
const HEAD: f64 = 104.0;
const ROW: f64 = 246.0;
/// Space between two panels [points].
const GAP: f64 = 16.0;
/// Space of a panel above and below its plot area [points].
const ABOVE: f64 = 37.0;
const BELOW: f64 = 44.0;
/// Colours and marks: points tried, and the best plan.
const HUE: usize = 0;
const BEST: usize = 1;

/// Every point tried against each setting, the best plan, and the effect of changing each setting alone, as SVG.
pub fn search_chart_svg(best: &SearchResult, units: Units) -> String {
    let columns = best.settings.len().clamp(1, 2);
    let rows = best.settings.len().div_ceil(columns).max(1);
    let result = objective_value(best, best.best.value, units);
    let title = format!("{}: the search for the best setting", best.stamp.scenario);
    let description = format!("the best plan: {result}");
    let size = NARROW.size(HEAD + ROW * rows as f64 + 6.0);
    picture(size, &title, &description, |canvas| {
        let notes = [
            "Dots: plans tried, larger if on more days. Mark: the best plan.",
            "Line: only this setting changed. Whiskers: 95 % sure.",
        ];
        NARROW.head(canvas, &heading(best, &result), &notes)?;
        let axis = ObjectiveAxis::new(best, units);
        for (index, setting) in best.settings.iter().enumerate() {
            let step = (NARROW.room() + GAP) / columns as f64;
            let left = NARROW.margin + step * (index % columns) as f64;
            let top = HEAD + ROW * (index / columns) as f64;
            let panel =
                SettingPanel::new(best, index, setting, &axis, (left, left + step - GAP), top);
            panel.draw(canvas)?;
        }
        Ok(())
    })
}

/// The title of the picture.
fn heading(best: &SearchResult, result: &str) -> String {
    match best.objective {
        Objective::Weight => format!("Expected weight, {result} at best"),
        Objective::Target { .. } => format!("Chance of the target, {result} at best"),
        Objective::Win { .. } => format!("Chance to win the section, {result} at best"),
        Objective::Frame { .. } => format!("Chance to frame, {result} at best"),
    }
}

/// The vertical axis, which all panels share.
struct ObjectiveAxis {
    ticks: Vec<f64>,
    unit: &'static str,
    is_chance: bool,
    units: Units,
}

impl ObjectiveAxis {
    fn new(best: &SearchResult, units: Units) -> Self {
        let is_chance = best.objective.is_probability();
        let unit = if is_chance { "%" } else { weight_unit(units) };
        let mut axis = Self { ticks: Vec::new(), unit, is_chance, units };
        let means = best.evaluations.iter().map(|point| point.mean).chain(best.best.high95());
        axis.ticks = ticks(means.map(|mean| axis.scaled(mean)).fold(0.0, f64::max));
        axis
    }

    /// A value in the unit of the axis.
    fn scaled(&self, value: f64) -> f64 {
        if self.is_chance { 100.0 * value } else { weight_on_axis(value, self.units) }
    }

    fn top(&self) -> f64 {
        self.ticks.last().copied().unwrap_or(1.0)
    }
}

/// The panel of one setting.
struct SettingPanel<'a> {
    best: &'a SearchResult,
    index: usize,
    setting: &'a SettingResult,
    axis: &'a ObjectiveAxis,
    /// Left edge of the panel; left and right edge of its plot area.
    from: f64,
    edges: (f64, f64),
    top: f64,
    bottom: f64,
    area: PlotArea,
}

impl<'a> SettingPanel<'a> {
    fn new(
        best: &'a SearchResult,
        index: usize,
        setting: &'a SettingResult,
        axis: &'a ObjectiveAxis,
        (from, right): (f64, f64),
        top: f64,
    ) -> Self {
        let edges = (from + NARROW.widest_tick(&axis.ticks) + 10.0, right);
        let bottom = top + ROW - BELOW;
        let last = (setting.values.len() - 1).max(1) as f64;
        let pad = 0.06 * last;
        let area = PlotArea::new(edges, (top + ABOVE, bottom), -pad..last + pad, 0.0..axis.top());
        Self { best, index, setting, axis, from, edges, top, bottom, area }
    }

    /// Where a value stands among the values of the setting.
    fn level(&self, written: &str) -> Option<f64> {
        let index = self.setting.values.iter().position(|value| value == written)?;
        Some(index as f64)
    }

    /// The position of a value of the objective at a level.
    fn position(&self, level: f64, value: f64) -> Position {
        self.area.position(level, self.axis.scaled(value).clamp(0.0, self.axis.top()))
    }

    fn draw(&self, canvas: &Canvas<'_>) -> DrawResult {
        let (left, right) = self.edges;
        let style = NARROW.tick_style();
        let key = key_shown(self.best, &self.setting.key);
        let key = fit(&key, NARROW.tick, true, right - self.from);
        canvas.text(&key, (self.from, self.top + 1.0), style.bold())?;
        for tick in &self.axis.ticks {
            let (_, y) = self.area.position(0.0, *tick);
            canvas.line(&[(left, y), (right, y)], GRID, 1.0)?;
            let number = trimmed_number(*tick);
            if *tick >= self.axis.top() {
                let number = format!("{number} {}", self.axis.unit);
                canvas.text(&number, (self.from, y - 12.0), style)?;
            } else {
                canvas.text(&number, (left - 8.0, y), style.anchored(HPos::Right))?;
            }
        }
        self.draw_points(canvas)?;
        self.draw_effect(canvas)?;
        canvas.line(&[(left, self.bottom), (right, self.bottom)], INK, 1.25)?;
        self.draw_values(canvas)
    }

    /// Draws every point tried.
    fn draw_points(&self, canvas: &Canvas<'_>) -> DrawResult {
        for point in &self.best.evaluations {
            let Some(level) = point.values.get(self.index).and_then(|value| self.level(value))
            else {
                continue;
            };
            let (x, y) = self.position(level, point.mean);
            let r = 0.8 + 0.42 * ln(point.days.max(1) as f64);
            let dot: Vec<Position> =
                outline(HUE).iter().map(|(dx, dy)| (x + r * dx, y + r * dy)).collect();
            canvas.polygon(&dot, MUTED, 0.35)?;
        }
        Ok(())
    }

    /// Draws the effect of changing this setting alone, and the best value.
    fn draw_effect(&self, canvas: &Canvas<'_>) -> DrawResult {
        let best = self.best.best.value;
        let best_level = self.level(&self.setting.best_value).unwrap_or_default();
        let mut line: Vec<(f64, f64)> = (self.setting.effects.iter())
            .filter_map(|effect| Some((self.level(&effect.value)?, best + effect.difference.value)))
            .collect();
        line.push((best_level, best));
        line.sort_by(|a, b| a.0.total_cmp(&b.0));
        if self.setting.is_ordered {
            let line: Vec<Position> =
                line.iter().map(|&(level, value)| self.position(level, value)).collect();
            canvas.line(&line, colour(HUE), 2.25)?;
        }
        for effect in &self.setting.effects {
            let Some(level) = self.level(&effect.value) else { continue };
            let centre = self.position(level, best + effect.difference.value);
            canvas.mark(centre, 3.5, outline(HUE), colour(HUE))?;
            if let Some(Interval { low, high }) = effect.difference.interval {
                let ends = [low, high].map(|end| self.position(level, best + end));
                canvas.line(&ends, INK, 1.5)?;
            }
        }
        canvas.mark(self.position(best_level, best), 5.5, outline(BEST), colour(BEST))
    }

    /// Writes the best value below the axis, and the first and last if there is room.
    fn draw_values(&self, canvas: &Canvas<'_>) -> DrawResult {
        let (left, right) = self.edges;
        let values = &self.setting.values;
        let ends = values.first().into_iter().chain(values.last());
        let mut free = FreeSpans::default();
        for written in [&self.setting.best_value].into_iter().chain(ends) {
            let x = self.area.position(self.level(written).unwrap_or_default(), 0.0).0;
            canvas.line(&[(x, self.bottom), (x, self.bottom + 5.0)], INK, 1.25)?;
            let text = fit(&value_shown(self.setting, written), NARROW.tick, false, right - left);
            let half = 0.5 * text_width(&text, NARROW.tick, false);
            let middle = x.clamp((left + half - 12.0).min(right - half), right - half + 8.0);
            if free.take(middle - half - 4.0, middle + half + 4.0) {
                let style = NARROW.tick_style().anchored(HPos::Center);
                canvas.text(&text, (middle, self.bottom + 19.0), style)?;
            }
        }
        Ok(())
    }
}
