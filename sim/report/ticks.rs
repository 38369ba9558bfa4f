//! Round numbers along an axis.

/// Most marks along an axis.
const MOST: usize = 6;

/// Round numbers from nought up to `top`, six or fewer, in steps of 1, 2 or 5 times a power of ten.
pub(super) fn ticks(top: f64) -> Vec<f64> {
    steps(top, |power| [1.0, 2.0, 5.0].map(|digit| digit * power))
}

/// Hours from nought up to `top_h`: whole hours, or halves and quarters of a short session.
pub(super) fn hour_ticks(top_h: f64) -> Vec<f64> {
    let step = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 24.0]
        .into_iter()
        .find(|step| top_h / step < MOST as f64 + 0.5);
    step.map_or_else(|| ticks(top_h), |step| multiples(step, top_h))
}

/// Multiples of the smallest step that gives few enough.
fn steps(top: f64, of_power: impl Fn(f64) -> [f64; 3]) -> Vec<f64> {
    if !(top.is_finite() && top > 0.0) {
        return vec![0.0];
    }
    let power = 10_f64.powf((top / MOST as f64).log10().floor());
    let step =
        of_power(power).into_iter().find(|step| top / step < MOST as f64).unwrap_or(10.0 * power);
    multiples(step, top)
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
