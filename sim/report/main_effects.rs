//! Many keys at once: how weight goes with each of them, all others taken as they come.

use plotters::style::text_anchor::HPos;

use super::marker::colour;
use super::measures::{weight, weight_on_axis, weight_unit};
use super::setting::{setting_name, short_keys};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Sheet, Type, picture};
use super::ticks::{tick_label, ticks};
use super::typeface::{fit, fold, width};
use super::value::shown_values;
use crate::scenario::{Units, si_value};
use crate::study::{VariedSetting, Vary};

/// Width of the picture [points].
const WIDTH: f64 = 720.0;
/// Blank margin [points].
const MARGIN: f64 = 20.0;
/// Upper edge of the first row of panels [points].
const TOP: f64 = 166.0;
/// Height of a panel, and what stands below one [points].
const HIGH: f64 = 150.0;
const BELOW: f64 = 74.0;
/// Panels abreast, and in all; of more keys those that move the weight most are drawn.
const ABREAST: usize = 3;
const MOST_PANELS: usize = 12;
/// Steps that strewn points of a key are put into, at most.
const STEPS: usize = 8;
/// Sizes of type [points].
const TITLE: f64 = 26.0;
const NOTE: f64 = 16.5;
const TICK: f64 = 15.5;

/// The weights at some values of a key [kg].
struct Step {
    mean_kg: f64,
    p10_kg: f64,
    p90_kg: f64,
    best_kg: f64,
}

/// One key.
struct Effect {
    name: String,
    steps: Vec<Step>,
    /// Its lowest and highest value, or the first and last word, as shown.
    ends: [String; 2],
}

impl Effect {
    /// Between the highest mean and the lowest [kg].
    fn reach_kg(&self) -> f64 {
        let means = || self.steps.iter().map(|step| step.mean_kg);
        means().fold(f64::NEG_INFINITY, f64::max) - means().fold(f64::INFINITY, f64::min)
    }
}

/// How a plan's weight goes with each key, over all points of a sweep, as SVG: the mean over the points in each
/// step of the key, the band in which eight points in ten lie, and the best point of the step.
pub(super) fn main_effects_svg(found: &Vary, plan: usize, units: Units) -> String {
    let mut effects: Vec<Effect> =
        (0..found.keys.len()).map(|key| effect(found, plan, key)).collect();
    effects.sort_by(|a, b| b.reach_kg().total_cmp(&a.reach_kg()));
    let left_out = effects.len().saturating_sub(MOST_PANELS);
    effects.truncate(MOST_PANELS);
    let kg = |setting: &VariedSetting| setting.plans[plan].weight_kg.mean;
    let best = found.settings.iter().reduce(|a, b| if kg(b) > kg(a) { b } else { a });
    let name = best.map_or("", |best| best.plans[plan].name.as_str());
    let says = best.map_or_else(String::new, |best| {
        let at = setting_name(&found.keys, &best.values);
        format!("Best mean: {} at {at}.", weight(kg(best), units))
    });
    let title = format!("What moves the weight, {name}");
    let rows = effects.len().div_ceil(ABREAST).max(1);
    let size = (WIDTH as u32, 2 * (0.5 * (TOP + rows as f64 * (HIGH + BELOW))).ceil() as u32);
    picture(size, &title, &says, |sheet| {
        let room = WIDTH - 2.0 * MARGIN;
        let note = Type::plain(NOTE, MUTED);
        let heading = Type::plain(TITLE, INK).bold();
        sheet.text(&fit(&title, TITLE, true, room), (MARGIN, 30.0), heading)?;
        for (line, y) in fold(&says, NOTE, room, 2).iter().zip([60.0, 80.0]) {
            sheet.text(line, (MARGIN, y), note)?;
        }
        let key =
            "Line: mean over all points there. Band: eight points in ten. Dots: the best point.";
        sheet.text(&fit(key, NOTE, false, room), (MARGIN, 102.0), note)?;
        if left_out > 0 {
            let says = format!("{left_out} keys that move it less are left out.");
            sheet.text(&says, (MARGIN, 122.0), note)?;
        }
        draw(sheet, &effects, units)
    })
}

/// How the weight goes with one key.
fn effect(found: &Vary, plan: usize, key: usize) -> Effect {
    let of = |setting: &VariedSetting| setting.plans[plan].weight_kg.mean;
    let mut points: Vec<(f64, &str, f64)> = Vec::new();
    let mut words: Vec<&str> = Vec::new();
    for setting in &found.settings {
        let text = setting.values[key].as_str();
        // Words stand in the order in which they were given, after all numbers.
        let place = si_value(&found.keys[key], text).map_or_else(
            || {
                let known = words.iter().position(|word| *word == text);
                let at = known.unwrap_or_else(|| {
                    words.push(text);
                    words.len() - 1
                });
                1e300 * (1.0 + at as f64 * 1e-6)
            },
            |(si, _)| si,
        );
        points.push((place, text, of(setting)));
    }
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let same = |a: &(f64, &str, f64), b: &(f64, &str, f64)| a.0.total_cmp(&b.0).is_eq();
    let distinct = 1 + points.windows(2).filter(|two| !same(&two[0], &two[1])).count();
    let steps: Vec<Step> = if distinct <= 2 * STEPS {
        points.chunk_by(same).map(step).collect()
    } else {
        points.chunks(points.len().div_ceil(STEPS)).map(step).collect()
    };
    let ends = [points.first(), points.last()].map(|point| point.map_or("", |point| point.1));
    let shown = shown_values(&ends);
    Effect {
        name: short_keys(&found.keys)[key].clone(),
        steps,
        ends: [shown[0].clone(), shown[1].clone()],
    }
}

fn step(points: &[(f64, &str, f64)]) -> Step {
    let mut sorted: Vec<f64> = points.iter().map(|point| point.2).collect();
    sorted.sort_by(f64::total_cmp);
    let of = |p| crate::stats::quantile(&sorted, p).unwrap_or(f64::NAN);
    Step {
        mean_kg: sorted.iter().sum::<f64>() / sorted.len() as f64,
        p10_kg: of(0.1),
        p90_kg: of(0.9),
        best_kg: of(1.0),
    }
}

fn draw(sheet: &Sheet<'_>, effects: &[Effect], units: Units) -> Drawn {
    let axis = |kg: f64| weight_on_axis(kg, units);
    let top = effects.iter().flat_map(|effect| &effect.steps).map(|step| axis(step.best_kg));
    let y_ticks = ticks(top.fold(0.0, f64::max));
    let top = y_ticks.last().copied().unwrap_or(1.0);
    let widest = y_ticks.iter().map(|tick| width(&tick_label(*tick), TICK, false));
    let left = MARGIN + widest.fold(0.0, f64::max) + 10.0;
    let gap = 16.0;
    let wide = (WIDTH - MARGIN - left - gap * (ABREAST - 1) as f64) / ABREAST as f64;
    let tick = Type::plain(TICK, INK);
    sheet.text(weight_unit(units), (MARGIN, TOP - 22.0), tick)?;
    for (number, effect) in effects.iter().enumerate() {
        let x = left + (number % ABREAST) as f64 * (wide + gap);
        let y = TOP + (number / ABREAST) as f64 * (HIGH + BELOW);
        let last = effect.steps.len().max(2) as f64 - 1.0;
        let (from, to) = if effect.steps.len() > 1 { (0.0, last) } else { (-0.5, 0.5) };
        let pad = 0.06 * (to - from);
        let frame = Frame::new((x, x + wide), (y, y + HIGH), from - pad..to + pad, 0.0..top);
        for value in &y_ticks {
            let (_, at) = frame.at(from, *value);
            sheet.line(&[(x, at), (x + wide, at)], GRID, 1.0)?;
            if number % ABREAST == 0 {
                sheet.text(&tick_label(*value), (x - 8.0, at), tick.anchored(HPos::Right))?;
            }
        }
        let line = |of: fn(&Step) -> f64| -> Vec<(f64, f64)> {
            let steps = effect.steps.iter().enumerate();
            steps.map(|(at, step)| frame.at(at as f64, axis(of(step)))).collect()
        };
        let mut band = line(|step| step.p90_kg);
        band.extend(line(|step| step.p10_kg).into_iter().rev());
        sheet.area(&band, colour(0), 0.14)?;
        sheet.line(&line(|step| step.mean_kg), colour(0), 2.5)?;
        for at in line(|step| step.best_kg) {
            sheet.mark(at, 3.0, super::marker::outline(0), colour(1))?;
        }
        sheet.line(&[(x, y + HIGH), (x + wide, y + HIGH)], INK, 1.25)?;
        let half = 0.5 * wide - 6.0;
        let [first, end] = &effect.ends;
        sheet.text(&fit(first, TICK, false, half), (x, y + HIGH + 17.0), tick)?;
        let right = tick.anchored(HPos::Right);
        sheet.text(&fit(end, TICK, false, half), (x + wide, y + HIGH + 17.0), right)?;
        let middle = (x + 0.5 * wide, y + HIGH + 39.0);
        let bold = tick.bold().anchored(HPos::Center);
        sheet.text(&fit(&effect.name, TICK, true, wide), middle, bold)?;
    }
    Ok(())
}
