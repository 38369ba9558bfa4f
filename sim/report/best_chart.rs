//! The points of a search, setting by setting, and what each setting is worth.

use plotters::style::text_anchor::HPos;

use super::best::{key_shown, value, value_shown};
use super::marker::{colour, outline};
use super::measures::{weight_on_axis, weight_unit};
use super::sheet::{Drawn, Frame, GRID, INK, MUTED, Place, Sheet, Type, picture};
use super::ticks::{tick_label, ticks};
use super::typeface::{fit, width};
use crate::scenario::Units;
use crate::study::{Best, SettingFound, Wanted};

/// Width of the picture [points].
const WIDTH: u32 = 560;
/// Blank margin [points].
const MARGIN: f64 = 18.0;
/// Height of the head, and of one row of panels [points].
const HEAD: f64 = 104.0;
const ROW: f64 = 246.0;
/// What a panel keeps free above and below its frame [points].
const ABOVE: f64 = 30.0;
const BELOW: f64 = 44.0;
/// Sizes of type [points].
const TITLE: f64 = 22.0;
const NOTE: f64 = 15.5;
const TICK: f64 = 16.0;
/// Colours and marks: points tried, and the plan found.
const HUE: usize = 0;
const FOUND: usize = 1;

/// Every point tried against each setting, with the plan found and what comes of changing that setting alone, as
/// SVG.
#[must_use]
pub fn best_chart_svg(best: &Best, units: Units) -> String {
    let columns = best.settings.len().clamp(1, 2);
    let rows = best.settings.len().div_ceil(columns).max(1);
    let height = HEAD + ROW * rows as f64 + 6.0;
    let found = value(best, best.found.mean, units);
    let title = format!("{}: the search for the best setting", best.stamp.scenario);
    let says = format!("the plan found: {found}");
    picture((WIDTH, height as u32), &title, &says, |sheet| {
        sheet.text(
            &fit(&heading(best, &found), TITLE, true, f64::from(WIDTH) - 2.0 * MARGIN),
            (MARGIN, 26.0),
            Type::plain(TITLE, INK).bold(),
        )?;
        let note = Type::plain(NOTE, MUTED);
        sheet.text("Dots: plans tried, larger where on more days.", (MARGIN, 53.0), note)?;
        sheet.text(
            "Line: this setting alone changed, with 95 % whiskers. Mark: found.",
            (MARGIN, 74.0),
            note,
        )?;
        let y = Upright::new(best, units);
        for (place, setting) in best.settings.iter().enumerate() {
            let across = (f64::from(WIDTH) - 2.0 * MARGIN + 16.0) / columns as f64;
            let left = MARGIN + across * (place % columns) as f64;
            let top = HEAD + ROW * (place / columns) as f64;
            let panel = Panel { best, setting, place, y: &y };
            panel.draw(sheet, (left, left + across - 16.0), top)?;
        }
        Ok(())
    })
}

fn heading(best: &Best, found: &str) -> String {
    match best.wanted {
        Wanted::Weight => format!("Expected weight, {found} at best"),
        Wanted::Target { .. } => format!("Chance of the target, {found} at best"),
        Wanted::Win { .. } => format!("Chance to win the section, {found} at best"),
        Wanted::Frame { .. } => format!("Chance to frame, {found} at best"),
    }
}

/// The upright axis, which all panels share.
struct Upright {
    ticks: Vec<f64>,
    unit: &'static str,
    is_chance: bool,
    units: Units,
}

impl Upright {
    fn new(best: &Best, units: Units) -> Self {
        let mut axis = Self {
            ticks: Vec::new(),
            unit: if best.wanted.is_chance() { "%" } else { weight_unit(units) },
            is_chance: best.wanted.is_chance(),
            units,
        };
        let tried = best.tried.iter().map(|one| one.mean);
        let top = tried.chain([best.found.high95]).map(|mean| axis.of(mean)).fold(0.0, f64::max);
        axis.ticks = ticks(top);
        axis
    }

    /// A value in the unit of the axis.
    fn of(&self, value: f64) -> f64 {
        if self.is_chance { 100.0 * value } else { weight_on_axis(value, self.units) }
    }

    fn top(&self) -> f64 {
        self.ticks.last().copied().unwrap_or(1.0)
    }

    /// Room for the longest number.
    fn room(&self) -> f64 {
        self.ticks.iter().map(|tick| width(&tick_label(*tick), TICK, false)).fold(0.0, f64::max)
    }
}

/// One setting.
struct Panel<'a> {
    best: &'a Best,
    setting: &'a SettingFound,
    place: usize,
    y: &'a Upright,
}

impl Panel<'_> {
    fn level(&self, written: &str) -> Option<f64> {
        let at = self.setting.values.iter().position(|value| value == written)?;
        Some(at as f64)
    }

    fn draw(&self, sheet: &Sheet<'_>, (from, right): (f64, f64), top: f64) -> Drawn {
        let left = from + self.y.room() + 10.0;
        let (frame_top, frame_bottom) = (top + ABOVE, top + ROW - BELOW);
        let last = (self.setting.values.len() - 1).max(1) as f64;
        let pad = 0.06 * last;
        let frame = Frame::new(
            (left, right),
            (frame_top, frame_bottom),
            -pad..last + pad,
            0.0..self.y.top(),
        );
        let tick = Type::plain(TICK, INK);
        sheet.text(
            &fit(&key_shown(self.best, &self.setting.key), TICK, true, right - from),
            (from, top + 2.0),
            tick.bold(),
        )?;
        for value in &self.y.ticks {
            let (_, y) = frame.at(0.0, *value);
            sheet.line(&[(left, y), (right, y)], GRID, 1.0)?;
            let says = match *value {
                value if value >= self.y.top() => format!("{} {}", tick_label(value), self.y.unit),
                value => tick_label(value),
            };
            let is_top = *value >= self.y.top();
            let (at, how) = match is_top {
                true => ((from, y - 12.0), tick),
                false => ((left - 8.0, y), tick.anchored(HPos::Right)),
            };
            sheet.text(&says, at, how)?;
        }
        self.dots(sheet, &frame)?;
        self.alone(sheet, &frame)?;
        sheet.line(&[(left, frame_bottom), (right, frame_bottom)], INK, 1.25)?;
        self.values(sheet, &frame, (left, right), frame_bottom)
    }

    fn dots(&self, sheet: &Sheet<'_>, frame: &Frame) -> Drawn {
        for one in &self.best.tried {
            let Some(level) = one.values.get(self.place).and_then(|value| self.level(value)) else {
                continue;
            };
            let (x, y) = frame.at(level, self.y.of(one.mean).clamp(0.0, self.y.top()));
            let r = 0.8 + 0.42 * (one.days.max(1) as f64).ln();
            let round: Vec<Place> =
                outline(HUE).iter().map(|(dx, dy)| (x + r * dx, y + r * dy)).collect();
            sheet.area(&round, MUTED, 0.35)?;
        }
        Ok(())
    }

    /// What changing this setting alone comes to, and the value found.
    fn alone(&self, sheet: &Sheet<'_>, frame: &Frame) -> Drawn {
        let found = self.best.found.mean;
        let at =
            |level: f64, value: f64| frame.at(level, self.y.of(value).clamp(0.0, self.y.top()));
        let mut line: Vec<(f64, f64)> = (self.setting.worth.iter())
            .filter_map(|worth| Some((self.level(&worth.value)?, found + worth.ahead.mean)))
            .collect();
        let here = self.level(&self.setting.found).unwrap_or_default();
        line.push((here, found));
        line.sort_by(|a, b| a.0.total_cmp(&b.0));
        if self.setting.is_ordered {
            let places: Vec<Place> = line.iter().map(|&(level, value)| at(level, value)).collect();
            sheet.line(&places, colour(HUE), 2.25)?;
        }
        for worth in &self.setting.worth {
            let Some(level) = self.level(&worth.value) else { continue };
            sheet.mark(at(level, found + worth.ahead.mean), 3.5, outline(HUE), colour(HUE))?;
            let ends = [worth.ahead.low95, worth.ahead.high95].map(|end| at(level, found + end));
            sheet.line(&ends, INK, 1.5)?;
        }
        sheet.mark(at(here, found), 5.5, outline(FOUND), colour(FOUND))
    }

    /// The value found below the axis, and the ends where there is room beside it.
    fn values(
        &self,
        sheet: &Sheet<'_>,
        frame: &Frame,
        (left, right): (f64, f64),
        bottom: f64,
    ) -> Drawn {
        let values = &self.setting.values;
        let ends = values.first().into_iter().chain(values.last());
        let mut taken: Vec<(f64, f64)> = Vec::new();
        for written in [&self.setting.found].into_iter().chain(ends) {
            let x = frame.at(self.level(written).unwrap_or_default(), 0.0).0;
            sheet.line(&[(x, bottom), (x, bottom + 5.0)], INK, 1.25)?;
            let text = fit(&value_shown(self.setting, written), TICK, false, right - left);
            let half = 0.5 * width(&text, TICK, false);
            let middle = x.clamp((left + half - 12.0).min(right - half), right - half + 8.0);
            let (from, to) = (middle - half - 4.0, middle + half + 4.0);
            if taken.iter().all(|&(other, end)| to <= other || from >= end) {
                let how = Type::plain(TICK, INK).anchored(HPos::Center);
                sheet.text(&text, (middle, bottom + 19.0), how)?;
                taken.push((from, to));
            }
        }
        Ok(())
    }
}
