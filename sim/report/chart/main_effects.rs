//! Main effects: how the weight goes with each of many keys, averaged over all others.

use plotters::style::text_anchor::HPos;

use super::layout::{DENSE, LABEL_GAP};
use crate::report::draw::{
    Canvas, DrawResult, GRID, INK, PlotArea, Position, colour, fit, outline, picture, ticks, wrap,
};
use crate::report::format::{
    readable_values, setting_name, short_keys, trimmed_number, weight, weight_on_axis, weight_unit,
};
use crate::scenario::{Units, si_value};
use crate::study::{SweepResult, SweptSetting};

/// Upper edge of the first row of panels [points].
const TOP: f64 = 166.0;
/// Height of a panel, and of the text below it [points].
const HEIGHT: f64 = 150.0;
const BELOW: f64 = 74.0;
/// Space between two panels [points].
const GAP: f64 = 16.0;
/// Number of panels in a row, and maximum number in all; the keys that move the weight most are drawn.
const IN_ROW: usize = 3;
const MAX_PANELS: usize = 12;
/// Maximum number of steps into which sampled values of a key are grouped.
const MAX_STEPS: usize = 8;

/// The weights at one step of a key's values [kg].
struct EffectStep {
    mean_kg: f64,
    p10_kg: f64,
    p90_kg: f64,
    best_kg: f64,
}

/// The main effect of one key.
struct MainEffect {
    name: String,
    steps: Vec<EffectStep>,
    /// Its lowest and highest value, or the first and last name, as shown.
    ends: [String; 2],
}

impl MainEffect {
    /// The highest mean minus the lowest [kg].
    fn size_kg(&self) -> f64 {
        let means = || self.steps.iter().map(|step| step.mean_kg);
        means().fold(f64::NEG_INFINITY, f64::max) - means().fold(f64::INFINITY, f64::min)
    }
}

/// How a plan's weight goes with each key, over all points of a sweep, as SVG.
///
/// For each step of a key: the mean over its points, the band in which eight points in ten lie, and the best point.
pub(crate) fn main_effects_svg(swept: &SweepResult, plan: usize, units: Units) -> String {
    let mut effects: Vec<MainEffect> =
        (0..swept.keys.len()).map(|key| main_effect(swept, plan, key)).collect();
    effects.sort_by(|a, b| b.size_kg().total_cmp(&a.size_kg()));
    let left_out = effects.len().saturating_sub(MAX_PANELS);
    effects.truncate(MAX_PANELS);
    let kg = |setting: &SweptSetting| setting.plans[plan].weight_kg.mean.value;
    let best = swept.settings.iter().reduce(|a, b| if kg(b) > kg(a) { b } else { a });
    let name = best.map_or("", |best| best.plans[plan].name.as_str());
    let best_mean = best.map_or_else(String::new, |best| {
        let setting = setting_name(&swept.keys, &best.values);
        format!("Best mean: {} at {setting}.", weight(kg(best), units))
    });
    let title = format!("What moves the weight, {name}");
    let mut notes = wrap(&best_mean, DENSE.note, DENSE.room(), 2);
    notes.push(
        "Line: mean over all points there. Band: eight points in ten. Dots: the best point."
            .to_owned(),
    );
    if left_out > 0 {
        notes.push(format!("{left_out} keys that move it less are left out."));
    }
    let rows = effects.len().div_ceil(IN_ROW).max(1);
    let size = DENSE.size(TOP + rows as f64 * (HEIGHT + BELOW));
    picture(size, &title, &best_mean, |canvas| {
        let notes: Vec<&str> = notes.iter().map(String::as_str).collect();
        DENSE.head(canvas, &title, &notes)?;
        draw(canvas, &effects, units)
    })
}

/// A point of a sweep seen along one key: where its value stands, the value as written, and the weight [kg].
struct KeyPoint<'a> {
    rank: f64,
    written: &'a str,
    kg: f64,
}

/// The main effect of one key.
fn main_effect(swept: &SweepResult, plan: usize, key: usize) -> MainEffect {
    let points = key_points(swept, plan, key);
    let is_same = |a: &KeyPoint<'_>, b: &KeyPoint<'_>| a.rank.total_cmp(&b.rank).is_eq();
    let distinct = 1 + points.windows(2).filter(|pair| !is_same(&pair[0], &pair[1])).count();
    let steps: Vec<EffectStep> = if distinct <= 2 * MAX_STEPS {
        points.chunk_by(is_same).map(step).collect()
    } else {
        points.chunks(points.len().div_ceil(MAX_STEPS)).map(step).collect()
    };
    let ends = [points.first(), points.last()].map(|point| point.map_or("", |point| point.written));
    let shown = readable_values(&ends);
    MainEffect {
        name: short_keys(&swept.keys)[key].clone(),
        steps,
        ends: [shown[0].clone(), shown[1].clone()],
    }
}

/// All points of a sweep in order of one key's values: numbers by size, then names in order of appearance.
fn key_points(swept: &SweepResult, plan: usize, key: usize) -> Vec<KeyPoint<'_>> {
    let mut names: Vec<&str> = Vec::new();
    let points = swept.settings.iter().map(|setting| KeyPoint {
        rank: 0.0,
        written: setting.values[key].as_str(),
        kg: setting.plans[plan].weight_kg.mean.value,
    });
    let mut points: Vec<KeyPoint<'_>> = points.collect();
    for point in &mut points {
        point.rank = match si_value(&swept.keys[key], point.written) {
            Some((si, _)) => si,
            None => {
                let known = names.iter().position(|name| *name == point.written);
                let index = known.unwrap_or_else(|| {
                    names.push(point.written);
                    names.len() - 1
                });
                1e300 * (1.0 + index as f64 * 1e-6)
            }
        };
    }
    points.sort_by(|a, b| a.rank.total_cmp(&b.rank));
    points
}

/// The weights of the points of one step.
fn step(points: &[KeyPoint<'_>]) -> EffectStep {
    let mut sorted: Vec<f64> = points.iter().map(|point| point.kg).collect();
    sorted.sort_by(f64::total_cmp);
    let quantile = |p| crate::stats::quantile(&sorted, p).expect("a step has a point");
    EffectStep {
        mean_kg: sorted.iter().sum::<f64>() / sorted.len() as f64,
        p10_kg: quantile(0.1),
        p90_kg: quantile(0.9),
        best_kg: quantile(1.0),
    }
}

fn draw(canvas: &Canvas<'_>, effects: &[MainEffect], units: Units) -> DrawResult {
    let best = effects.iter().flat_map(|effect| &effect.steps).map(|step| step.best_kg);
    let weight_ticks = ticks(weight_on_axis(best.fold(0.0, f64::max), units));
    let left = DENSE.margin + DENSE.widest_tick(&weight_ticks) + LABEL_GAP;
    let width = (DENSE.right() - left - GAP * (IN_ROW - 1) as f64) / IN_ROW as f64;
    canvas.text(weight_unit(units), (DENSE.margin, TOP - 22.0), DENSE.tick_style())?;
    for (number, effect) in effects.iter().enumerate() {
        let x = left + (number % IN_ROW) as f64 * (width + GAP);
        let y = TOP + (number / IN_ROW) as f64 * (HEIGHT + BELOW);
        let panel = EffectPanel { effect, x, y, width, units };
        panel.draw(canvas, &weight_ticks, number % IN_ROW == 0)?;
    }
    Ok(())
}

/// The panel of one key.
struct EffectPanel<'a> {
    effect: &'a MainEffect,
    /// Upper left corner and width.
    x: f64,
    y: f64,
    width: f64,
    units: Units,
}

impl EffectPanel<'_> {
    fn draw(&self, canvas: &Canvas<'_>, weight_ticks: &[f64], is_first: bool) -> DrawResult {
        let (x, right, floor) = (self.x, self.x + self.width, self.y + HEIGHT);
        let steps = self.effect.steps.len();
        let (from, to) = if steps > 1 { (0.0, steps as f64 - 1.0) } else { (-0.5, 0.5) };
        let pad = 0.06 * (to - from);
        let top = weight_ticks.last().copied().unwrap_or(1.0);
        let area = PlotArea::new((x, right), (self.y, floor), from - pad..to + pad, 0.0..top);
        for tick in weight_ticks {
            let (_, y) = area.position(from, *tick);
            canvas.line(&[(x, y), (right, y)], GRID, 1.0)?;
            if is_first {
                let style = DENSE.tick_style().anchored(HPos::Right);
                canvas.text(&trimmed_number(*tick), (x - 8.0, y), style)?;
            }
        }
        self.draw_steps(canvas, &area)?;
        canvas.line(&[(x, floor), (right, floor)], INK, 1.25)?;
        let style = DENSE.tick_style();
        let half = 0.5 * self.width - 6.0;
        let [first, last] = &self.effect.ends;
        canvas.text(&fit(first, DENSE.tick, false, half), (x, floor + 17.0), style)?;
        let last = fit(last, DENSE.tick, false, half);
        canvas.text(&last, (right, floor + 17.0), style.anchored(HPos::Right))?;
        let name = fit(&self.effect.name, DENSE.tick, true, self.width);
        let middle = (0.5 * (x + right), floor + 39.0);
        canvas.text(&name, middle, style.bold().anchored(HPos::Center))
    }

    /// Draws the band, the line of means and the best points.
    fn draw_steps(&self, canvas: &Canvas<'_>, area: &PlotArea) -> DrawResult {
        let line = |kg: fn(&EffectStep) -> f64| -> Vec<Position> {
            let steps = (0_u32..).zip(&self.effect.steps);
            let weight = |step| weight_on_axis(kg(step), self.units);
            steps.map(|(index, step)| area.position(f64::from(index), weight(step))).collect()
        };
        let mut band = line(|step| step.p90_kg);
        band.extend(line(|step| step.p10_kg).into_iter().rev());
        canvas.polygon(&band, colour(0), 0.14)?;
        canvas.line(&line(|step| step.mean_kg), colour(0), 2.5)?;
        let best = line(|step| step.best_kg);
        best.into_iter().try_for_each(|centre| canvas.mark(centre, 3.0, outline(0), colour(1)))
    }
}
