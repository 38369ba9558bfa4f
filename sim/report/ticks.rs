//! Round numbers along an axis.

/// Most steps along an axis.
const MOST: usize = 6;

/// Round numbers from nought to the first that is not below `top`, in steps of 1, 2 or 5 times a power of
/// ten, seven at most; the last of them is where the axis ends.
pub(super) fn ticks(top: f64) -> Vec<f64> {
    let top = if top.is_finite() && top > 0.0 { top } else { 1.0 };
    let power = 10_f64.powf((top / MOST as f64).log10().floor());
    let step = [1.0, 2.0, 5.0]
        .map(|digit| digit * power)
        .into_iter()
        .find(|step| top / step <= MOST as f64)
        .unwrap_or(10.0 * power);
    let last = (top / step * (1.0 - 1e-9)).ceil().max(1.0);
    multiples(step, last * step)
}

/// Hours from nought up to `top_h`: whole hours, or halves and quarters of a short session.
pub(super) fn hour_ticks(top_h: f64) -> Vec<f64> {
    let step = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 24.0]
        .into_iter()
        .find(|step| top_h / step < MOST as f64 + 0.5);
    let step = step.unwrap_or_else(|| (top_h / MOST as f64).ceil());
    multiples(step, top_h)
}

/// Minutes from nought up to `top_min` of a session too short for hours.
pub(super) fn minute_ticks(top_min: f64) -> Vec<f64> {
    let step = [1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0]
        .into_iter()
        .find(|step| top_min / step < MOST as f64 + 0.5);
    multiples(step.unwrap_or(30.0), top_min)
}

/// Round numbers from `low` to `high`, both above nought, for a logarithmic axis: 1, 2 and 5 times powers of
/// ten, or what a plain axis would have where fewer than three of these lie within.
pub(super) fn log_ticks(low: f64, high: f64) -> Vec<f64> {
    let (from, to) = (low.log10().floor() as i32, high.log10().ceil() as i32);
    let within: Vec<f64> = (from..=to)
        .flat_map(|power| [1.0, 2.0, 5.0].map(|digit| digit * 10_f64.powi(power)))
        .filter(|tick| (low..=high).contains(tick))
        .collect();
    if within.len() < 3 { ticks_between(low, high) } else { within }
}

/// Round numbers from `low` to `high`, in steps of 1, 2 or 5 times a power of ten, seven at most.
pub(super) fn ticks_between(low: f64, high: f64) -> Vec<f64> {
    if high.partial_cmp(&low) != Some(std::cmp::Ordering::Greater) {
        return vec![low];
    }
    let steps = ticks(high - low);
    let step = steps.get(1).copied().unwrap_or(1.0);
    let (first, last) = ((low / step - 1e-9).ceil(), (high / step + 1e-9).floor());
    (0..=MOST).map(|k| first + k as f64).take_while(|k| *k <= last).map(|k| k * step).collect()
}

/// Nought, `step`, twice `step` … up to `top`.
fn multiples(step: f64, top: f64) -> Vec<f64> {
    let last = (top / step * (1.0 + 1e-9)).floor() as u32;
    (0..=last).map(|k| f64::from(k) * step).collect()
}

/// A mark's number without needless noughts: `20`, `0.5`.
pub(super) fn tick_label(value: f64) -> String {
    let rounded = (value * 1e6).round() / 1e6 + 0.0;
    format!("{rounded}").replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_round_and_few() {
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
    fn marks_stay_few_over_many_sizes() {
        for size in 1..5000 {
            let (low, high) = (f64::from(size) * 0.013, f64::from(size) * 0.017 + 3.1);
            for found in
                [ticks_between(low, high), ticks(high), hour_ticks(high), minute_ticks(high)]
            {
                assert!((1..=8).contains(&found.len()), "{found:?} for {low} to {high}");
                assert!(found.is_sorted_by(|a, b| a < b), "{found:?}");
            }
        }
    }
}
