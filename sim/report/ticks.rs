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

/// Nought, `step`, twice `step` … up to `top`.
fn multiples(step: f64, top: f64) -> Vec<f64> {
    let last = (top / step * (1.0 + 1e-9)).floor() as u32;
    (0..=last).map(|k| f64::from(k) * step).collect()
}

/// A mark's number without needless noughts: `20`, `0.5`.
pub(super) fn tick_label(value: f64) -> String {
    let rounded = (value * 1e6).round() / 1e6;
    format!("{rounded}").replace('-', "−")
}
