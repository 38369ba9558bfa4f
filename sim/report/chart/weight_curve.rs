//! Expected weight against time, with a curve and a band for each plan.

use plotters::style::text_anchor::HPos;

use super::layout::{LABEL_GAP, LARGE};
use crate::numerics::powf;
use crate::report::draw::{
    Canvas, DrawResult, INK, MUTED, PlotArea, Position, TextStyle, colour, hour_ticks,
    minute_ticks, outline, picture, spread_apart, text_width, ticks, wrap_name,
};
use crate::report::format::{
    counted, day_range_kg, weight, weight_on_axis, weight_range, weight_unit,
};
use crate::report::view::{index_among, plans_by_weight};
use crate::scenario::Units;
use crate::study::{Comparison, CurvePoint, PlanResult, WatersComparison};

/// Height of the picture [points].
const HEIGHT: f64 = 540.0;
/// Upper and lower edge of the plot area [points].
const PLOT_Y: (f64, f64) = (124.0, 462.0);
/// Font size of names, and of names when there is little room [points].
const NAME: f64 = LARGE.tick;
const SMALL_NAME: f64 = 17.0;
const MAX_LABEL_WIDTH: f64 = 224.0;
/// From the end of a curve to its label [points].
const LEADER: f64 = 48.0;
/// From the mark of a label to its text [points].
const MARK_GAP: f64 = 13.0;
/// All bands are drawn for up to this many plans; for more, only that of the heaviest, since many bands hide each other.
const MAX_BANDS: usize = 2;
/// The edges of a band are smoothed over this share of the session on either side.
const SMOOTHED_SHARE: f64 = 0.05;
/// Sessions shorter than this have an axis in minutes [h].
const SHORT_SESSION_H: f64 = 1.25;
/// Maximum number of plans whose curves carry marks along their way.
const MAX_MARKED: usize = 12;

/// A label next to the end of a curve.
struct Label {
    /// Its plan's index in the scenario; `None` for the note that some plans are left out.
    plan: Option<usize>,
    /// Lines of text with their font sizes.
    lines: Vec<(String, f64)>,
    /// The weight at which its curve ends, on the axis.
    end: f64,
    /// Whether the name is not whole.
    is_cut: bool,
    /// Whether the last line is the weight.
    has_weight: bool,
}

impl Label {
    /// Height with some space around it [points].
    fn height(&self) -> f64 {
        self.lines.iter().map(|(_, size)| 1.2 * size).sum::<f64>() + 6.0
    }
}

/// Expected weight against time for every plan, with the band in which eight days in ten lie, as SVG.
///
/// Curves are labelled at their right ends; each plan has its own colour and mark. The edges of the bands are deciles of
/// some hundreds of days, which rise in steps of a fish; they are smoothed over a tenth of the session, less and less
/// towards its end, where they are exact.
pub fn weight_curve_svg(comparison: &Comparison, units: Units) -> String {
    let title = format!("Expected weight, {}", counted(comparison.days, "day"));
    curves_svg(&title, &comparison.plans, &DETAILS, units)
}

/// The same picture for the plans of several waters; the curve of a session that ends before others stays level from there.
pub fn water_curves_svg(waters: &WatersComparison, units: Units) -> String {
    let title = format!("Expected weight, {} on each water", counted(waters.days, "day"));
    let plans_of = |water: &Comparison| {
        let name = water.stamp.scenario.clone();
        let named = move |plan: &PlanResult| PlanResult {
            name: format!("{name}: {}", plan.name),
            ..plan.clone()
        };
        water.plans.iter().map(named).collect::<Vec<_>>()
    };
    let mut plans: Vec<PlanResult> = waters.waters.iter().flat_map(plans_of).collect();
    let ends = plans.iter().filter_map(|plan| plan.curve.last());
    let last_minute = ends.map(|point| point.minute).fold(0.0, f64::max);
    for plan in &mut plans {
        if let Some(&end) = plan.curve.last().filter(|end| end.minute < last_minute) {
            plan.curve.push(CurvePoint { minute: last_minute, ..end });
        }
    }
    curves_svg(&title, &plans, &WATER_DETAILS, units)
}

/// A curve and a band for each of some plans.
fn curves_svg(title: &str, plans: &[PlanResult], details: &[Detail], units: Units) -> String {
    let description: Vec<_> = plans_by_weight(plans)
        .iter()
        .map(|plan| {
            let (low_kg, high_kg) = day_range_kg(plan);
            format!(
                "{}: {} on average, {} on eight days in ten",
                plan.name,
                weight(plan.weight_kg.mean, units),
                weight_range(low_kg, high_kg, units)
            )
        })
        .collect();
    picture(LARGE.size(HEIGHT), title, &description.join("; "), |canvas| {
        LARGE.head(canvas, title, &[&note(plans)])?;
        draw(canvas, plans, details, units)
    })
}

fn draw(canvas: &Canvas<'_>, plans: &[PlanResult], details: &[Detail], units: Units) -> DrawResult {
    let points = || plans.iter().flat_map(|plan| &plan.curve);
    let axis = |kg: f64| weight_on_axis(kg, units);
    let highest = |plan: &PlanResult| {
        let points = plan.curve.iter();
        points.map(|p| axis(plan.day_range_kg(p).1).max(axis(p.mean_kg))).fold(0.0, f64::max)
    };
    let top = plans.iter().map(highest).fold(0.0, f64::max);
    let last_h = points().map(hours).fold(0.0, f64::max);
    let last_h = if last_h > 0.0 { last_h } else { 1.0 };
    let weight_ticks = ticks(top);
    let top = weight_ticks.last().copied().unwrap_or(1.0);
    let labels = labels(plans, details, units, PLOT_Y.1 - PLOT_Y.0 + 60.0);
    let label_lines = labels.iter().flat_map(|label| &label.lines);
    let label_width =
        label_lines.map(|(line, size)| text_width(line, *size, false)).fold(0.0, f64::max);
    let left = LARGE.margin + LARGE.widest_tick(&weight_ticks) + LABEL_GAP;
    let right = LARGE.right() - label_width - LEADER;
    let area = PlotArea::new((left, right), PLOT_Y, 0.0..last_h, 0.0..top);

    let unit = LARGE.tick_style().anchored(HPos::Right);
    canvas.text(weight_unit(units), (left - LABEL_GAP, PLOT_Y.0 - 26.0), unit)?;
    LARGE.horizontal_grid(canvas, &area, &weight_ticks, (left, right))?;
    draw_time_axis(canvas, &area, last_h, 0.5 * (left + right))?;
    draw_curves(canvas, plans, &WeightCurvePlot { area: &area, last_h, units })?;
    draw_labels(canvas, &labels, &area, (right, last_h))
}

/// Draws the axis of time, in hours or, for a short session, in minutes.
fn draw_time_axis(canvas: &Canvas<'_>, area: &PlotArea, last_h: f64, middle: f64) -> DrawResult {
    let (ticks, per_h, unit) = if last_h < SHORT_SESSION_H {
        (minute_ticks(60.0 * last_h), 60.0, "minutes")
    } else {
        (hour_ticks(last_h), 1.0, "hours")
    };
    for tick in ticks {
        LARGE.tick_below(canvas, area.position(tick / per_h, 0.0), tick)?;
    }
    let caption = LARGE.tick_style().anchored(HPos::Center);
    canvas.text(&format!("{unit} from the start"), (middle, PLOT_Y.1 + 52.0), caption)
}

/// The axes of the plot.
struct WeightCurvePlot<'a> {
    area: &'a PlotArea,
    last_h: f64,
    units: Units,
}

impl WeightCurvePlot<'_> {
    /// The position of a weight at a time.
    fn position(&self, hours: f64, kg: f64) -> Position {
        self.area.position(hours, weight_on_axis(kg, self.units))
    }
}

/// Draws the bands, then the curves of means, then their marks; the heaviest plan on top.
fn draw_curves(
    canvas: &Canvas<'_>,
    plans: &[PlanResult],
    plot: &WeightCurvePlot<'_>,
) -> DrawResult {
    let ranked: Vec<_> = plans_by_weight(plans).into_iter().rev().collect();
    let hue = |plan: &PlanResult| colour(index_among(plans, plan));
    let banded = if ranked.len() > MAX_BANDS { &ranked[ranked.len() - 1..] } else { &ranked[..] };
    let opacity = 0.24 / powf(banded.len().max(1) as f64, 0.65);
    for plan in banded {
        let high = band_edge(plan, |point| plan.day_range_kg(point).1, plot);
        let low = band_edge(plan, |point| plan.day_range_kg(point).0, plot);
        let outline: Vec<_> = high.iter().chain(low.iter().rev()).copied().collect();
        canvas.polygon(&outline, hue(plan), opacity)?;
        canvas.translucent_line(&high, hue(plan), 1.25, 0.5)?;
        canvas.translucent_line(&low, hue(plan), 1.25, 0.5)?;
    }
    canvas.line(&[plot.position(0.0, 0.0), plot.position(plot.last_h, 0.0)], INK, 1.5)?;
    for plan in &ranked {
        let points = plan.curve.iter().filter(|point| point.mean_kg.is_finite());
        let curve: Vec<Position> =
            points.map(|point| plot.position(hours(point), point.mean_kg)).collect();
        canvas.line(&curve, hue(plan), 3.0)?;
    }
    for (turn, plan) in ranked.iter().enumerate().filter(|_| ranked.len() <= MAX_MARKED) {
        for point in marked_points(plan, plot.last_h, turn, ranked.len()) {
            let centre = plot.position(hours(point), point.mean_kg);
            canvas.mark(centre, 5.0, outline(index_among(plans, plan)), hue(plan))?;
        }
    }
    Ok(())
}

/// The note below the title.
fn note(plans: &[PlanResult]) -> String {
    let is_known = plans.iter().all(|plan| plan.known_water.is_some());
    let water = if is_known { "if one knew the fish" } else { "unknowns included" };
    match plans.len() {
        0 => "No plan was fished.".to_owned(),
        _ if plans.iter().all(|plan| plan.weight_kg.mean <= 0.0) => {
            "Nothing was caught.".to_owned()
        }
        count if count > MAX_BANDS => {
            format!("Band: eight days in ten of the heaviest, {water}.")
        }
        1 => format!("Mean. Band: eight days in ten, {water}."),
        _ => format!("Means. Bands: eight days in ten, {water}."),
    }
}

/// An edge of a plan's band, smoothed; points without both deciles are left out.
fn band_edge(
    plan: &PlanResult,
    kg: impl Fn(&CurvePoint) -> f64,
    plot: &WeightCurvePlot<'_>,
) -> Vec<Position> {
    let is_known = |point: &&CurvePoint| point.p10_kg.is_finite() && point.p90_kg.is_finite();
    let points: Vec<_> = plan.curve.iter().filter(is_known).collect();
    let max_reach = (SMOOTHED_SHARE * points.len() as f64) as usize;
    (0..points.len())
        .map(|k| {
            // As many points on either side, so that a straight edge stays straight.
            let reach = max_reach.min(k).min(points.len() - 1 - k);
            let near = &points[k - reach..=k + reach];
            let mean_kg = near.iter().map(|point| kg(point)).sum::<f64>() / near.len() as f64;
            plot.position(hours(points[k]), mean_kg)
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

/// The three points of a curve that carry its mark, staggered so that marks of nearby curves do not hide each other.
fn marked_points(plan: &PlanResult, last_h: f64, turn: usize, turns: usize) -> Vec<&CurvePoint> {
    let shift = (turn as f64 + 0.5) / turns as f64;
    (0..3)
        .filter_map(|k| {
            let from_h = last_h * (0.2 + 0.72 * (f64::from(k) + shift) / 3.0);
            plan.curve.iter().find(|point| hours(point) >= from_h)
        })
        .collect()
}

/// How much a label shows.
struct Detail {
    /// Font size of the name.
    size: f64,
    /// Maximum number of lines of the name.
    lines: usize,
    /// Whether the weight is shown.
    has_weight: bool,
}

/// Details in order of preference.
const DETAILS: [Detail; 7] = [
    Detail { size: NAME, lines: 3, has_weight: true },
    Detail { size: NAME, lines: 2, has_weight: true },
    Detail { size: NAME, lines: 1, has_weight: true },
    Detail { size: NAME, lines: 1, has_weight: false },
    Detail { size: SMALL_NAME, lines: 3, has_weight: false },
    Detail { size: SMALL_NAME, lines: 2, has_weight: false },
    Detail { size: SMALL_NAME, lines: 1, has_weight: false },
];

/// Details for plans of several waters, whose names have two parts: rather small letters than a cut name.
const WATER_DETAILS: [Detail; 4] = [
    Detail { size: NAME, lines: 3, has_weight: true },
    Detail { size: SMALL_NAME, lines: 3, has_weight: true },
    Detail { size: SMALL_NAME, lines: 2, has_weight: false },
    Detail { size: SMALL_NAME, lines: 1, has_weight: false },
];

/// The labels of the curves, in as much detail as there is room for.
fn labels(plans: &[PlanResult], details: &[Detail], units: Units, room: f64) -> Vec<Label> {
    let all = plans.len();
    let height = |labels: &[Label]| labels.iter().map(Label::height).sum::<f64>();
    let mut fitting = details
        .iter()
        .map(|detail| labels_in_detail(plans, units, detail, all))
        .filter(|labels| height(labels) <= room)
        .collect::<Vec<_>>();
    // A whole name says more than large letters or a weight.
    let cut = |labels: &[Label]| labels.iter().filter(|label| label.is_cut).count();
    let least = fitting.iter().enumerate().min_by_key(|(_, labels)| cut(labels));
    least.map(|(index, _)| index).map(|index| fitting.swap_remove(index)).unwrap_or_else(|| {
        let label_height = 1.2 * SMALL_NAME + 6.0;
        let shown = ((room / label_height) as usize).saturating_sub(1);
        labels_in_detail(plans, units, &details[details.len() - 1], shown.min(all))
    })
}

/// Labels of the `shown` heaviest plans, and a note if some are left out.
fn labels_in_detail(
    plans: &[PlanResult],
    units: Units,
    detail: &Detail,
    shown: usize,
) -> Vec<Label> {
    let ranked = plans_by_weight(plans);
    let label = |plan: &&PlanResult| {
        let end_kg = plan.curve.last().map_or(plan.weight_kg.mean, |point| point.mean_kg);
        let name = wrap_name(&plan.name, detail.size, MAX_LABEL_WIDTH, detail.lines);
        let is_cut = name.iter().any(|line| line.contains('…'));
        let mut lines: Vec<_> = name.into_iter().map(|line| (line, detail.size)).collect();
        if detail.has_weight {
            lines.push((weight(plan.weight_kg.mean, units), LARGE.note));
        }
        let end = weight_on_axis(end_kg, units);
        Label {
            plan: Some(index_among(plans, plan)),
            lines,
            end,
            is_cut,
            has_weight: detail.has_weight,
        }
    };
    let mut labels: Vec<_> = ranked.iter().take(shown).map(label).collect();
    if shown < ranked.len() {
        let note = format!("and {} more", ranked.len() - shown);
        let lines = vec![(note, detail.size)];
        labels.push(Label {
            plan: None,
            lines,
            end: f64::NEG_INFINITY,
            is_cut: true,
            has_weight: false,
        });
    }
    labels
}

/// Draws the labels, moved apart, each with a line to the end of its curve.
fn draw_labels(
    canvas: &Canvas<'_>,
    labels: &[Label],
    area: &PlotArea,
    (right, last_h): (f64, f64),
) -> DrawResult {
    let heights: Vec<_> = labels.iter().map(Label::height).collect();
    let end = |label: &Label| area.position(last_h, label.end.max(0.0)).1;
    let ends: Vec<_> = labels.iter().map(end).collect();
    // The note on plans left out comes last.
    let wished: Vec<_> = labels
        .iter()
        .zip(&ends)
        .map(|(label, end)| if label.plan.is_some() { *end } else { f64::MAX })
        .collect();
    let centres = spread_apart(&wished, &heights, PLOT_Y.0 - 20.0, PLOT_Y.1 + 40.0);
    // The heaviest, which is first, is drawn last, on top.
    let placed = || labels.iter().zip(ends.iter().zip(&centres)).rev();
    let marked = || placed().filter_map(|(label, ends)| label.plan.map(|plan| (plan, ends)));
    for (plan, (end, centre)) in marked() {
        let bend = (right + 8.0, *end);
        let to = (right + LEADER - MARK_GAP, *centre);
        canvas.line(&[(right, *end), bend, to], colour(plan), 1.75)?;
    }
    for (plan, (end, centre)) in marked() {
        let to = (right + LEADER - MARK_GAP, *centre);
        canvas.mark((right, *end), 6.0, outline(plan), colour(plan))?;
        canvas.mark(to, 5.0, outline(plan), colour(plan))?;
    }
    for (label, (_, centre)) in placed() {
        let mut y = centre - 0.5 * (label.height() - 6.0);
        for (number, (line, size)) in label.lines.iter().enumerate() {
            let is_weight = label.has_weight && number + 1 == label.lines.len();
            let ink = if is_weight { MUTED } else { INK };
            let middle = y + 0.6 * size;
            canvas.text(line, (right + LEADER, middle), TextStyle::plain(*size, ink))?;
            y += 1.2 * size;
        }
    }
    Ok(())
}
