//! Weight along one value that was gone through.

use plotters::style::text_anchor::HPos;

use super::marker::{colour, outline};
use super::measures::{weight, weight_on_axis, weight_unit};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Place, Sheet, Type, picture};
use super::ticks::{log_ticks, tick_label, ticks, ticks_between};
use super::typeface::{fit, width};
use super::vary::{NEAR, VaryCurve, VaryPoint};
use crate::scenario::Units;

/// Size of the picture [points].
const SIZE: (u32, u32) = (560, 420);
/// Blank margin [points].
const MARGIN: f64 = 18.0;
/// Upper and lower edge of the frame [points].
const FRAME: (f64, f64) = (128.0, 354.0);
/// Sizes of type [points].
const TITLE: f64 = 22.0;
const NOTE: f64 = 15.5;
const TICK: f64 = 17.0;
/// Longest number that a point's own value may have along the axis [characters].
const SHORT: usize = 4;
/// Colour and mark of the points, and of the best of them.
const HUE: usize = 0;
const BEST: usize = 1;

/// A curve on its axes.
struct Plot<'a> {
    /// Points by value.
    points: Vec<&'a VaryPoint>,
    /// Whether the axis is logarithmic.
    log: bool,
    /// Where numbers stand.
    frame: Frame,
    /// Units of weight.
    units: Units,
}

impl Plot<'_> {
    /// Where a value stands along the axis, before it is placed.
    fn along(log: bool, value: f64) -> f64 {
        if log { value.ln() } else { value }
    }

    /// The place of a weight at a value.
    fn at(&self, value: f64, kg: f64) -> Place {
        self.frame.at(Self::along(self.log, value), weight_on_axis(kg, self.units))
    }
}

/// Mean weight along the value that was gone through, with the mean's 95 % whiskers, the band in which eight
/// days in ten lie, the best mean named and what comes within two per cent of it shaded, as SVG.
#[must_use]
pub fn vary_chart_svg(curve: &VaryCurve, units: Units) -> String {
    let title = format!("{}: expected weight by {}", curve.plan, curve.axis);
    let says = curve.best().map_or_else(
        || curve.without_best().to_owned(),
        |best| format!("best mean {} at {}", weight(best.mean_kg, units), label_of(curve, best)),
    );
    picture(SIZE, &title, &says, |sheet| draw(sheet, curve, units))
}

/// What a point is called for the eye.
fn label_of(curve: &VaryCurve, point: &VaryPoint) -> String {
    let at = curve.sorted().iter().position(|other| std::ptr::eq(*other, point));
    at.and_then(|at| curve.labels().into_iter().nth(at)).unwrap_or_default()
}

/// What stands at the axis, and how many of its units one of the curve's is: long times are told in minutes.
fn axis_of(curve: &VaryCurve) -> (String, f64) {
    let words = curve.of_plan(&curve.axis);
    let last = curve.sorted().last().map_or(0.0, |point| point.value);
    match words.strip_suffix("[s]") {
        Some(key) if last >= 120.0 => (format!("{key}[min]"), 1.0 / 60.0),
        _ => (words, 1.0),
    }
}

/// Draws all of it.
fn draw(sheet: &Sheet<'_>, curve: &VaryCurve, units: Units) -> Drawn {
    let points = curve.sorted();
    let right = f64::from(SIZE.0) - MARGIN - 12.0;
    let axis = |kg: f64| weight_on_axis(kg, units);
    let top = points
        .iter()
        .map(|point| axis(point.p90_kg.max(point.high95_kg).max(point.mean_kg)))
        .fold(0.0, f64::max);
    let y_ticks = ticks(top);
    let top = y_ticks.last().copied().unwrap_or(1.0);
    let tick_width =
        y_ticks.iter().map(|tick| width(&tick_label(*tick), TICK, false)).fold(0.0, f64::max);
    let left = MARGIN + tick_width + 10.0;
    let log = curve.log_axis && points.iter().all(|point| point.value > 0.0);
    let ends = points.first().zip(points.last());
    let (first, last) = ends.map_or((0.0, 1.0), |(first, last)| {
        (Plot::along(log, first.value), Plot::along(log, last.value))
    });
    let pad = if last > first { 0.05 * (last - first) } else { 0.5 };
    let plot = Plot {
        points,
        log,
        frame: Frame::new((left, right), FRAME, first - pad..last + pad, 0.0..top),
        units,
    };

    let room = f64::from(SIZE.0) - 2.0 * MARGIN;
    sheet.text(
        &fit(&format!("Expected weight, {}", curve.plan), TITLE, true, room),
        (MARGIN, 26.0),
        Type::plain(TITLE, INK).bold(),
    )?;
    let note = Type::plain(NOTE, MUTED);
    sheet.text(
        "Whisker: 95 % interval of the mean. Band: eight days in ten.",
        (MARGIN, 53.0),
        note,
    )?;
    let shaded = match curve.best() {
        Some(_) if plot.points.iter().filter(|point| point.near_best).count() > 1 => {
            "Shaded: within 2 % of the best mean. Orange: may be within it."
        }
        Some(_) if plot.points.len() > 1 => "Shaded: within 2 % of the best mean.",
        Some(_) => "",
        None => curve.without_best(),
    };
    sheet.text(shaded, (MARGIN, 74.0), note)?;
    let tick = Type::plain(TICK, INK);
    sheet.text(weight_unit(units), (left - 10.0, FRAME.0 - 23.0), tick.anchored(HPos::Right))?;
    let best = curve.best();
    if let Some(best) = best {
        draw_near(sheet, &plot, best)?;
    }
    for value in &y_ticks {
        let (_, y) = plot.frame.at(first, *value);
        sheet.line(&[(left, y), (right, y)], GRID, 1.0)?;
        let at = (left - 10.0, y);
        sheet.text(&tick_label(*value), at, tick.anchored(HPos::Right))?;
    }
    draw_points(sheet, &plot, best)?;
    sheet.line(&[(left, FRAME.1), (right, FRAME.1)], INK, 1.25)?;
    let (words, scale) = axis_of(curve);
    draw_values(sheet, &plot, best, scale)?;
    sheet.text(
        &fit(&words, TICK, false, room),
        (0.5 * f64::from(SIZE.0), FRAME.1 + 46.0),
        tick.anchored(HPos::Center),
    )?;
    best.map_or(Ok(()), |best| {
        draw_best(sheet, &plot, (best, &label_of(curve, best)), (left, right))
    })
}

/// Shades where the mean, joined by straight lines, comes within two per cent of the best.
fn draw_near(sheet: &Sheet<'_>, plot: &Plot<'_>, best: &VaryPoint) -> Drawn {
    let level_kg = NEAR * best.mean_kg;
    let x = |point: &VaryPoint| plot.at(point.value, 0.0).0;
    // Neighbouring stretches are joined: a seam between two areas would show.
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for two in plot.points.windows(2) {
        let (a, b) = (two[0], two[1]);
        // Where the straight line between the two means crosses the level.
        let share = (level_kg - a.mean_kg) / (b.mean_kg - a.mean_kg);
        let crossing = x(a) + share * (x(b) - x(a));
        let (from, to) = match (a.mean_kg >= level_kg, b.mean_kg >= level_kg) {
            (true, true) => (x(a), x(b)),
            (true, false) => (x(a), crossing),
            (false, true) => (crossing, x(b)),
            (false, false) => continue,
        };
        match stretches.last_mut() {
            Some((_, end)) if *end >= from => *end = to,
            _ => stretches.push((from, to)),
        }
    }
    for (from, to) in stretches {
        let corners = [(from, FRAME.0), (to, FRAME.0), (to, FRAME.1), (from, FRAME.1)];
        sheet.area(&corners, GRID, 0.6)?;
    }
    Ok(())
}

/// The band, the line of means, the whiskers and the marks.
fn draw_points(sheet: &Sheet<'_>, plot: &Plot<'_>, best: Option<&VaryPoint>) -> Drawn {
    let hue = colour(HUE);
    let line = |of: fn(&VaryPoint) -> f64| -> Vec<Place> {
        let place = |point: &&VaryPoint| plot.at(point.value, of(point));
        plot.points.iter().map(place).collect()
    };
    let mut band = line(|point| point.p90_kg);
    band.extend(line(|point| point.p10_kg).into_iter().rev());
    sheet.area(&band, hue, 0.12)?;
    sheet.line(&line(|point| point.mean_kg), hue, 2.25)?;
    for point in &plot.points {
        let at = plot.at(point.value, point.mean_kg);
        if best.is_some_and(|best| std::ptr::eq(best, *point)) {
            sheet.mark(at, 5.5, outline(BEST), colour(BEST))?;
        } else {
            let hue = if point.near_best && best.is_some() { colour(BEST) } else { hue };
            sheet.mark(at, 3.5, outline(HUE), hue)?;
        }
    }
    // Over the marks, which would hide a short whisker.
    for point in &plot.points {
        if !(point.low95_kg.is_finite() && point.high95_kg.is_finite()) {
            continue;
        }
        let (x, low) = plot.at(point.value, point.low95_kg.max(0.0));
        let (_, high) = plot.at(point.value, point.high95_kg);
        sheet.line(&[(x, low), (x, high)], INK, 1.5)?;
        sheet.line(&[(x - 6.0, low), (x + 6.0, low)], INK, 1.5)?;
        sheet.line(&[(x - 6.0, high), (x + 6.0, high)], INK, 1.5)?;
    }
    Ok(())
}

/// The numbers along the axis, `scale` times the values: the points' own where these are short, round ones
/// otherwise. The best and the ends come first, and of the rest those that run into none of them.
fn draw_values(sheet: &Sheet<'_>, plot: &Plot<'_>, best: Option<&VaryPoint>, scale: f64) -> Drawn {
    let Some((first, last)) = plot.points.first().zip(plot.points.last()) else {
        return Ok(());
    };
    let short = |point: &&VaryPoint| tick_label(point.value * scale).chars().count() <= SHORT;
    let values: Vec<f64> = if plot.points.iter().all(short) {
        let firsts = best.into_iter().chain([*first, *last]);
        firsts.chain(plot.points.iter().copied()).map(|point| point.value).collect()
    } else {
        let (low, high) = (first.value * scale, last.value * scale);
        let round = if plot.log { log_ticks(low, high) } else { ticks_between(low, high) };
        round.into_iter().map(|value| value / scale).collect()
    };
    let mut taken: Vec<(f64, f64)> = Vec::new();
    for value in values {
        let (x, y) = plot.at(value, 0.0);
        sheet.line(&[(x, y), (x, y + 5.0)], INK, 1.25)?;
        let text = fit(&tick_label(value * scale), TICK, false, 90.0);
        let reach = 0.5 * width(&text, TICK, false) + 4.0;
        let (from, to) = (x - reach, x + reach);
        if taken.iter().all(|(left, right)| to <= *left || from >= *right) {
            let at = (x, y + 20.0);
            sheet.text(&text, at, Type::plain(TICK, INK).anchored(HPos::Center))?;
            taken.push((from, to));
        }
    }
    Ok(())
}

/// Points at the best mean and names it above the frame.
fn draw_best(
    sheet: &Sheet<'_>,
    plot: &Plot<'_>,
    (best, label): (&VaryPoint, &str),
    (left, right): (f64, f64),
) -> Drawn {
    let (at_x, at_y) = plot.at(best.value, best.mean_kg.max(best.high95_kg));
    let says = format!("best mean: {label}, {}", weight(best.mean_kg, plot.units));
    let says = fit(&says, TICK, false, right - left - 20.0);
    let half = 0.5 * width(&says, TICK, false);
    let x = at_x.clamp(left + half, (right - half).max(left + half));
    let pointer = [(at_x, FRAME.0 - 9.0), (at_x, at_y - 8.0)];
    sheet.line(&pointer, colour(BEST), 1.5)?;
    let place = (x, FRAME.0 - 23.0);
    sheet.text(&says, place, Type::plain(TICK, INK).anchored(HPos::Center))
}
