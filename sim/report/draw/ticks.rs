//! Ticks: round numbers along an axis.

use crate::numerics::{log10, powi};

/// Maximum number of steps along an axis.
const MAX_STEPS: usize = 6;

/// Ticks from zero to the first round number that is not below `top`, where the axis ends.
///
/// At most seven, in steps of 1, 2 or 5 times a power of ten.
pub(crate) fn ticks(top: f64) -> Vec<f64> {
    let top = if top.is_finite() && top > 0.0 { top } else { 1.0 };
    let power = powi(10.0, log10(top / MAX_STEPS as f64).floor() as i32);
    let step = [1.0, 2.0, 5.0]
        .map(|digit| digit * power)
        .into_iter()
        .find(|step| top / step <= MAX_STEPS as f64)
        .unwrap_or(10.0 * power);
    let last = (top / step * (1.0 - 1e-9)).ceil().max(1.0);
    multiples(step, last * step)
}

/// Ticks in hours from zero to `top_h`: whole hours, or halves and quarters for a short session.
pub(crate) fn hour_ticks(top_h: f64) -> Vec<f64> {
    let step = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 24.0]
        .into_iter()
        .find(|step| top_h / step < MAX_STEPS as f64 + 0.5);
    let step = step.unwrap_or_else(|| (top_h / MAX_STEPS as f64).ceil());
    multiples(step, top_h)
}

/// Ticks in minutes from zero to `top_min`, for a session too short for hours.
pub(crate) fn minute_ticks(top_min: f64) -> Vec<f64> {
    let step = [1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0]
        .into_iter()
        .find(|step| top_min / step < MAX_STEPS as f64 + 0.5);
    multiples(step.unwrap_or(30.0), top_min)
}

/// Ticks of a logarithmic axis from `low` to `high`, both above zero: 1, 2 and 5 times powers of ten.
///
/// The ticks of a linear axis if fewer than three of these lie in the range.
pub(crate) fn log_ticks(low: f64, high: f64) -> Vec<f64> {
    let (from, to) = (log10(low).floor() as i32, log10(high).ceil() as i32);
    let within: Vec<f64> = (from..=to)
        .flat_map(|power| [1.0, 2.0, 5.0].map(|digit| digit * powi(10.0, power)))
        .filter(|tick| (low..=high).contains(tick))
        .collect();
    if within.len() < 3 { ticks_between(low, high) } else { within }
}

/// Ticks from `low` to `high`, at most seven, in steps of 1, 2 or 5 times a power of ten.
pub(crate) fn ticks_between(low: f64, high: f64) -> Vec<f64> {
    if high.partial_cmp(&low) != Some(std::cmp::Ordering::Greater) {
        return vec![low];
    }
    let steps = ticks(high - low);
    let step = steps.get(1).copied().unwrap_or(1.0);
    let (first, last) = ((low / step - 1e-9).ceil(), (high / step + 1e-9).floor());
    (0..=MAX_STEPS).map(|k| first + k as f64).take_while(|k| *k <= last).map(|k| k * step).collect()
}

/// Zero, `step`, twice `step` … up to `top`.
fn multiples(step: f64, top: f64) -> Vec<f64> {
    let last = (top / step * (1.0 + 1e-9)).floor() as u32;
    (0..=last).map(|k| f64::from(k) * step).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_few() {
        assert_eq!(ticks(163.0), [0.0, 50.0, 100.0, 150.0, 200.0]);
        assert_eq!(log_ticks(8.0, 120.0), [10.0, 20.0, 50.0, 100.0]);
        assert_eq!(log_ticks(0.5, 20.0), [0.5, 1.0, 2.0, 5.0, 10.0, 20.0]);
        // One, two and five times a power of ten are too few here.
        assert_eq!(log_ticks(55.0, 95.0), [60.0, 70.0, 80.0, 90.0]);
        assert_eq!(ticks_between(-3.0, 12.0), [0.0, 5.0, 10.0]);
        assert_eq!(ticks_between(4.0, 4.0), [4.0]);
        assert_eq!(minute_ticks(30.0), [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0]);
    }

    #[test]
    fn ticks_stay_few_over_many_sizes() {
        for size in 1..5000 {
            let (low, high) = (f64::from(size) * 0.013, f64::from(size) * 0.017 + 3.1);
            for ticks in
                [ticks_between(low, high), ticks(high), hour_ticks(high), minute_ticks(high)]
            {
                assert!((1..=8).contains(&ticks.len()), "{ticks:?} for {low} to {high}");
                assert!(ticks.is_sorted_by(|a, b| a < b), "{ticks:?}");
            }
        }
    }
}
