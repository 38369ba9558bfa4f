//! Weight against time, added up at fixed moments of the session.

use hdrhistogram::Histogram;

use super::result::{CurvePoint, WeightKg};
use super::weights::kg;
use crate::session::Outcome;
use crate::stats::place;

/// Moments between the start and the end at which a curve is taken, at most.
const STEPS: f64 = 150.0;

/// Moments at which curves are taken [s]: the start, every whole number of minutes that gives about 150
/// of them, and the end.
///
/// ```
/// let five_hours = sim::study::knots_s(5.0 * 3600.0);
/// assert_eq!(five_hours.len(), 151);
/// assert_eq!((five_hours[1], five_hours[150]), (120.0, 18_000.0));
/// ```
#[must_use]
pub fn knots_s(session_s: f64) -> Vec<f64> {
    let step_s = 60.0 * (session_s / STEPS / 60.0).round().max(1.0);
    let before_end = (session_s / step_s).ceil().max(1.0) as u32;
    (0..before_end).map(|step| step_s * f64::from(step)).chain([session_s]).collect()
}

/// One plan's weight so far at each moment, over all days.
///
/// Means come from whole grams and are exact. Deciles before the end come from histograms of two
/// digits, so that memory does not grow with days: they are within 0.5 % of the exact ones. At the end
/// they are exact.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    knots_s: Vec<f64>,
    sums_g: Vec<u64>,
    /// How often each weight occurred, at each moment but the last.
    histograms_g: Vec<Histogram<u32>>,
}

impl Curve {
    /// A curve without days.
    pub(super) fn new(session_s: f64) -> Self {
        let knots_s = knots_s(session_s);
        let empty = Histogram::new(2).expect("two digits are within what a histogram can have");
        Self {
            sums_g: vec![0; knots_s.len()],
            histograms_g: vec![empty; knots_s.len() - 1],
            knots_s,
        }
    }

    /// Takes in one session.
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

    /// The curve of `days` sessions, its end as the weights at the scales have it.
    pub(super) fn points(&self, days: u64, at_end: &WeightKg) -> Vec<CurvePoint> {
        let decile_kg = |knot: usize, p, end_kg: f64| {
            let decile = self.histograms_g.get(knot).and_then(|histogram| decile_g(histogram, p));
            // A day's weight never falls, so no decile lies above the one at the end; a histogram's
            // may, by its rounding.
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

/// The quantile `p` of what a histogram holds, from the middles of its steps [g]; none of nothing.
fn decile_g(histogram: &Histogram<u32>, p: f64) -> Option<f64> {
    (!histogram.is_empty()).then(|| {
        let place = place(histogram.len(), p);
        let mut seen = 0;
        let (mut below_g, mut above_g) = (0.0, 0.0);
        for step in histogram.iter_recorded() {
            let middle_g = histogram.median_equivalent(step.value_iterated_to()) as f64;
            if seen <= place.below {
                below_g = middle_g;
            }
            above_g = middle_g;
            seen += u64::from(step.count_at_value());
            if seen > place.above {
                break;
            }
        }
        place.between(below_g, above_g)
    })
}
