//! Expected weight against time, for every plan with its band.

use plotters::style::text_anchor::HPos;

use super::label::spread;
use super::marker::{colour, outline};
use super::measures::{weight, weight_on_axis, weight_range, weight_unit};
use super::ranking::{by_weight, place_of};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Place, Sheet, Type, picture};
use super::table::days;
use super::ticks::{hour_ticks, minute_ticks, tick_label, ticks};
use super::typeface::{fit, fold, width};
use crate::scenario::Units;
use crate::study::{Comparison, CurvePoint, PlanResult};

/// Size of the picture [points]; half of it still reads on a phone.
const SIZE: (u32, u32) = (720, 540);
/// Blank margin [points].
const MARGIN: f64 = 22.0;
/// Upper and lower edge of the frame [points].
const FRAME: (f64, f64) = (124.0, 462.0);
/// Sizes of type [points].
const TITLE: f64 = 28.0;
const NOTE: f64 = 19.0;
const TICK: f64 = 21.0;
const NAME: f64 = 21.0;
/// Names where there is little room.
const SMALL_NAME: f64 = 17.0;
/// Widest label [points].
const WIDEST_LABEL: f64 = 190.0;
/// From the end of a curve to its label [points].
const LEADER: f64 = 48.0;
/// From the mark of a label to its text [points].
const MARK_GAP: f64 = 13.0;
/// Most plans whose bands are all drawn; of more, which would be a thicket, the heaviest's alone.
const BANDS: usize = 4;
/// The edges of a band are smoothed over this share of the session either way.
const SMOOTHED: f64 = 0.05;
/// Sessions shorter than this are told in minutes [h].
const SHORT_H: f64 = 1.25;
/// Most plans whose curves carry marks along their way.
const MARKED: usize = 12;

/// A label beside the end of a curve.
struct Label {
    /// Its plan's place in the scenario; none for the note that some are left out.
    place: Option<usize>,
    /// Lines of text with their sizes.
    lines: Vec<(String, f64)>,
    /// The weight at which its curve ends, on the axis.
    end: f64,
}

impl Label {
    /// Height with a little air [points].
    fn height(&self) -> f64 {
        self.lines.iter().map(|(_, size)| 1.2 * size).sum::<f64>() + 6.0
    }
}

/// Expected weight against time for every plan, with the band in which eight days in ten lie, as SVG.
///
/// Curves are labelled at their right ends; each plan has its own colour and mark. The edges of the bands are
/// deciles of some hundreds of days, which go up a fish at a time; they are smoothed over a tenth of the
/// session, less and less towards its end, where they are exact.
#[must_use]
pub fn weight_curve_svg(comparison: &Comparison, units: Units) -> String {
    let title = format!("Expected weight, {}", days(comparison.days));
    let says: Vec<_> = by_weight(comparison)
        .iter()
        .map(|plan| {
            let kg = &plan.weight_kg;
            format!(
                "{}: {} on average, {} on eight days in ten",
                plan.name,
                weight(kg.mean, units),
                weight_range(kg.p10, kg.p90, units)
            )
        })
        .collect();
    picture(SIZE, &title, &says.join("; "), |sheet| draw(sheet, comparison, units, &title))
}

/// Draws all of it.
fn draw(sheet: &Sheet<'_>, comparison: &Comparison, units: Units, title: &str) -> Drawn {
    let (sheet_width, _) = SIZE;
    let right_edge = f64::from(sheet_width) - MARGIN;
    let points = || comparison.plans.iter().flat_map(|plan| &plan.curve);
    let axis = |kg: f64| weight_on_axis(kg, units);
    let top = points().map(|point| axis(point.p90_kg).max(axis(point.mean_kg))).fold(0.0, f64::max);
    let last_h = points().map(hours).fold(0.0, f64::max);
    let last_h = if last_h > 0.0 { last_h } else { 1.0 };
    let y_ticks = ticks(top);
    let top = y_ticks.last().copied().unwrap_or(1.0);
    let tick_width =
        y_ticks.iter().map(|tick| width(&tick_label(*tick), TICK, false)).fold(0.0, f64::max);

    let labels = labels(comparison, units, FRAME.1 - FRAME.0 + 60.0);
    let label_width = labels
        .iter()
        .flat_map(|label| &label.lines)
        .map(|(line, size)| width(line, *size, false))
        .fold(0.0, f64::max);
    let left = MARGIN + tick_width + 10.0;
    let right = right_edge - label_width - LEADER;
    let frame = Frame::new((left, right), FRAME, 0.0..last_h, 0.0..top);

    let room = right_edge - MARGIN;
    sheet.text(&fit(title, TITLE, true, room), (MARGIN, 34.0), Type::plain(TITLE, INK).bold())?;
    sheet.text(note(comparison), (MARGIN, 66.0), Type::plain(NOTE, MUTED))?;
    sheet.text(
        weight_unit(units),
        (left - 10.0, FRAME.0 - 26.0),
        Type::plain(TICK, INK).anchored(HPos::Right),
    )?;
    for tick in &y_ticks {
        let (x, y) = frame.at(0.0, *tick);
        sheet.line(&[(x, y), (right, y)], GRID, 1.25)?;
        sheet.text(
            &tick_label(*tick),
            (x - 10.0, y),
            Type::plain(TICK, INK).anchored(HPos::Right),
        )?;
    }
    let (ticks, per_h, unit) = if last_h < SHORT_H {
        (minute_ticks(60.0 * last_h), 60.0, "minutes")
    } else {
        (hour_ticks(last_h), 1.0, "hours")
    };
    for tick in ticks {
        let (x, y) = frame.at(tick / per_h, 0.0);
        sheet.line(&[(x, y), (x, y + 6.0)], INK, 1.25)?;
        sheet.text(
            &tick_label(tick),
            (x, y + 22.0),
            Type::plain(TICK, INK).anchored(HPos::Center),
        )?;
    }
    sheet.text(
        &format!("{unit} from the start"),
        (0.5 * (left + right), FRAME.1 + 52.0),
        Type::plain(TICK, INK).anchored(HPos::Center),
    )?;

    // The heaviest plan is drawn last, on top.
    let drawn: Vec<_> = by_weight(comparison).into_iter().rev().collect();
    let mean_of = |plan: &PlanResult| -> Vec<Place> {
        let shown = plan.curve.iter().filter(|point| point.mean_kg.is_finite());
        shown.map(|point| frame.at(hours(point), axis(point.mean_kg))).collect()
    };
    let banded = if drawn.len() > BANDS { &drawn[drawn.len() - 1..] } else { &drawn[..] };
    let opacity = 0.24 / (banded.len().max(1) as f64).powf(0.65);
    for plan in banded {
        let hue = colour(place_of(comparison, plan));
        let edges =
            [(|point: &CurvePoint| point.p90_kg) as fn(&CurvePoint) -> f64, |point| point.p10_kg]
                .map(|of| edge(plan, of, |hours, kg| frame.at(hours, axis(kg))));
        let [high, low] = &edges;
        let outline: Vec<_> = high.iter().chain(low.iter().rev()).copied().collect();
        sheet.area(&outline, hue, opacity)?;
        sheet.faint_line(high, hue, 1.25, 0.5)?;
        sheet.faint_line(low, hue, 1.25, 0.5)?;
    }
    sheet.line(&[frame.at(0.0, 0.0), frame.at(last_h, 0.0)], INK, 1.5)?;
    for plan in &drawn {
        let hue = colour(place_of(comparison, plan));
        sheet.line(&mean_of(plan), hue, 3.0)?;
    }
    for (turn, plan) in drawn.iter().enumerate().filter(|_| drawn.len() <= MARKED) {
        let place = place_of(comparison, plan);
        for at in marks(plan, last_h, turn, drawn.len()) {
            let at = frame.at(hours(at), axis(at.mean_kg));
            sheet.mark(at, 5.0, outline(place), colour(place))?;
        }
    }
    draw_labels(sheet, &labels, &frame, (right, last_h))
}

/// What is said below the title.
fn note(comparison: &Comparison) -> &'static str {
    let plans = &comparison.plans;
    match plans.len() {
        0 => "No plan was fished.",
        _ if plans.iter().all(|plan| plan.weight_kg.mean <= 0.0) => "Nothing was caught.",
        count if count > BANDS => "Lines: means. Band: eight days in ten of the heaviest.",
        1 => "Line: mean. Band: eight days in ten lie in it.",
        _ => "Lines: means. Bands: eight days in ten lie in them.",
    }
}

/// An edge of a plan's band, smoothed; points without both deciles are left out.
fn edge(
    plan: &PlanResult,
    of: fn(&CurvePoint) -> f64,
    at: impl Fn(f64, f64) -> Place,
) -> Vec<Place> {
    let known = |point: &&CurvePoint| point.p10_kg.is_finite() && point.p90_kg.is_finite();
    let points: Vec<_> = plan.curve.iter().filter(known).collect();
    let widest = (SMOOTHED * points.len() as f64) as usize;
    (0..points.len())
        .map(|k| {
            // As many points on either side, so that a straight edge stays as it is.
            let reach = widest.min(k).min(points.len() - 1 - k);
            let near = &points[k - reach..=k + reach];
            let mean_kg = near.iter().map(|point| of(point)).sum::<f64>() / near.len() as f64;
            at(hours(points[k]), mean_kg)
        })
        .collect()
}

/// Hours from the start [h].
fn hours(point: &CurvePoint) -> f64 {
    match point.minute / 60.0 {
        hours if hours.is_finite() => hours.max(0.0),
        _ => 0.0,
    }
}

/// Points of a curve that carry its mark: three, clear of both ends, staggered so that marks of curves that
/// run together do not hide each other.
fn marks(plan: &PlanResult, last_h: f64, turn: usize, turns: usize) -> Vec<&CurvePoint> {
    let shift = (turn as f64 + 0.5) / turns as f64;
    (0..3)
        .filter_map(|k| {
            let wished_h = last_h * (0.2 + 0.72 * (f64::from(k) + shift) / 3.0);
            plan.curve.iter().find(|point| hours(point) >= wished_h)
        })
        .collect()
}

/// What is written beside the curves, in as much detail as there is room for.
fn labels(comparison: &Comparison, units: Units, room: f64) -> Vec<Label> {
    let ranked = by_weight(comparison);
    let written = |name_size: f64, name_lines: usize, with_weight: bool, shown: usize| {
        let mut labels: Vec<_> = ranked
            .iter()
            .take(shown)
            .map(|plan| {
                let end_kg = plan.curve.last().map_or(plan.weight_kg.mean, |point| point.mean_kg);
                let mut lines: Vec<_> = fold(&plan.name, name_size, WIDEST_LABEL, name_lines)
                    .into_iter()
                    .map(|line| (line, name_size))
                    .collect();
                if with_weight {
                    lines.push((weight(plan.weight_kg.mean, units), NOTE));
                }
                Label {
                    place: Some(place_of(comparison, plan)),
                    lines,
                    end: weight_on_axis(end_kg, units),
                }
            })
            .collect();
        if shown < ranked.len() {
            labels.push(Label {
                place: None,
                lines: vec![(format!("and {} more", ranked.len() - shown), name_size)],
                end: f64::NEG_INFINITY,
            });
        }
        labels
    };
    let height = |labels: &[Label]| labels.iter().map(Label::height).sum::<f64>();
    let all = ranked.len();
    let choices = [
        (NAME, 3, true),
        (NAME, 2, true),
        (NAME, 1, true),
        (NAME, 1, false),
        (SMALL_NAME, 1, false),
    ];
    choices
        .into_iter()
        .map(|(size, lines, with_weight)| written(size, lines, with_weight, all))
        .find(|labels| height(labels) <= room)
        .unwrap_or_else(|| {
            let each = 1.2 * SMALL_NAME + 6.0;
            let shown = ((room / each) as usize).saturating_sub(1);
            written(SMALL_NAME, 1, false, shown.min(all))
        })
}

/// Writes the labels, spread apart, each with a line to the end of its curve.
fn draw_labels(
    sheet: &Sheet<'_>,
    labels: &[Label],
    frame: &Frame,
    (right, last_h): (f64, f64),
) -> Drawn {
    let heights: Vec<_> = labels.iter().map(Label::height).collect();
    let ends: Vec<_> = labels.iter().map(|label| frame.at(last_h, label.end.max(0.0)).1).collect();
    // The note on plans left out stands last.
    let wished: Vec<_> = labels
        .iter()
        .zip(&ends)
        .map(|(label, end)| if label.place.is_some() { *end } else { f64::MAX })
        .collect();
    let centres = spread(&wished, &heights, FRAME.0 - 20.0, FRAME.1 + 40.0);
    // The heaviest, which is first, is drawn last, on top.
    let placed = || labels.iter().zip(ends.iter().zip(&centres)).rev();
    let marked = || placed().filter_map(|(label, ends)| label.place.map(|place| (place, ends)));
    for (place, (end, centre)) in marked() {
        let bend = (right + 8.0, *end);
        let to = (right + LEADER - MARK_GAP, *centre);
        sheet.line(&[(right, *end), bend, to], colour(place), 1.75)?;
    }
    for (place, (end, centre)) in marked() {
        let to = (right + LEADER - MARK_GAP, *centre);
        sheet.mark((right, *end), 6.0, outline(place), colour(place))?;
        sheet.mark(to, 5.0, outline(place), colour(place))?;
    }
    for (label, (_, centre)) in placed() {
        let mut y = centre - 0.5 * (label.height() - 6.0);
        for (at, (line, size)) in label.lines.iter().enumerate() {
            let last = at > 0 && at + 1 == label.lines.len();
            let ink = if last { MUTED } else { INK };
            let middle = y + 0.6 * size;
            sheet.text(line, (right + LEADER, middle), Type::plain(*size, ink))?;
            y += 1.2 * size;
        }
    }
    Ok(())
}
