//! Weight against time, added up at fixed times of the session.

use hdrhistogram::Histogram;

use super::plan_result::{CurvePoint, WeightKg};
use crate::session::Outcome;
use crate::stats::quantile_position;
use crate::study::units::kg;

/// Approximate number of steps of a curve, where they are not shorter than a minute.
const STEPS: f64 = 150.0;

/// Times at which curves are recorded [s]: the start, a regular step of whole minutes that gives about 150 of
/// them, and the end.
///
/// ```
/// let five_hours = sim::study::curve_times_s(5.0 * 3600.0);
/// assert_eq!(five_hours.len(), 151);
/// assert_eq!((five_hours[1], five_hours[150]), (120.0, 18_000.0));
/// ```
#[must_use]
pub fn curve_times_s(session_s: f64) -> Vec<f64> {
    let step_s = 60.0 * (session_s / STEPS / 60.0).round().max(1.0);
    let before_end = (session_s / step_s).ceil().max(1.0) as u32;
    (0..before_end).map(|step| step_s * f64::from(step)).chain([session_s]).collect()
}

/// Weight of one plan so far at each recorded time, over all days.
///
/// Means come from whole grams and are exact. Deciles before the end come from histograms with two significant
/// digits, whose memory does not grow with the number of days: they are within 0.5 % of the exact ones. Deciles at
/// the end are exact.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    knots_s: Vec<f64>,
    sums_g: Vec<u64>,
    /// Number of days by weight, at each time except the last.
    histograms_g: Vec<Histogram<u32>>,
}

impl Curve {
    /// A curve without days.
    pub(super) fn new(session_s: f64) -> Self {
        let knots_s = curve_times_s(session_s);
        let empty = Histogram::new(2).expect("two digits are within what a histogram can have");
        Self {
            sums_g: vec![0; knots_s.len()],
            histograms_g: vec![empty; knots_s.len() - 1],
            knots_s,
        }
    }

    /// Adds one session.
    pub(super) fn add(&mut self, outcome: &Outcome) {
        let mut weight_g = 0;
        let mut catches = outcome.catches.iter().peekable();
        for (knot, histogram) in self.histograms_g.iter_mut().enumerate() {
            while let Some(landed) = catches.next_if(|next| next.at_s <= self.knots_s[knot]) {
                weight_g += u64::from(landed.mass_g);
            }
            self.sums_g[knot] += weight_g;
            histogram.record(weight_g).expect("a histogram grows to any weight of fish");
        }
        if let Some(at_end_g) = self.sums_g.last_mut() {
            *at_end_g += outcome.weight_g;
        }
    }

    /// Curve over `days` sessions; its last point is the weight at the scales, `at_end`.
    pub(super) fn points(&self, days: u64, at_end: &WeightKg) -> Vec<CurvePoint> {
        let decile_kg = |knot: usize, p, end_kg: f64| {
            let decile = self.histograms_g.get(knot).and_then(|histogram| decile_g(histogram, p));
            // Weight never falls during a day, so no decile exceeds the one at the end. The rounding of a histogram
            // could make it do so.
            decile.map_or(end_kg, |decile_g| kg(decile_g).min(end_kg))
        };
        let point = |(knot, (&knot_s, &sum_g)): (usize, (&f64, &u64))| CurvePoint {
            minute: knot_s / 60.0,
            mean_kg: kg(sum_g as f64 / days as f64),
            p10_kg: decile_kg(knot, 0.1, at_end.p10),
            p50_kg: decile_kg(knot, 0.5, at_end.p50),
            p90_kg: decile_kg(knot, 0.9, at_end.p90),
        };
        self.knots_s.iter().zip(&self.sums_g).enumerate().map(point).collect()
    }
}

/// Quantile `p` of a histogram, from the middles of its steps [g]. `None` if it is empty.
fn decile_g(histogram: &Histogram<u32>, p: f64) -> Option<f64> {
    (!histogram.is_empty()).then(|| {
        let position = quantile_position(histogram.len(), p);
        let mut seen = 0;
        let (mut below_g, mut above_g) = (0.0, 0.0);
        for step in histogram.iter_recorded() {
            let middle_g = histogram.median_equivalent(step.value_iterated_to()) as f64;
            if seen <= position.below {
                below_g = middle_g;
            }
            above_g = middle_g;
            seen += u64::from(step.count_at_value());
            if seen > position.above {
                break;
            }
        }
        position.interpolate(below_g, above_g)
    })
}
