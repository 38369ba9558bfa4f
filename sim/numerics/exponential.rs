//! `exp`, `ln` and powers, which the model calls most: a table and a short polynomial, without a division.
//!
//! - **Source** The method of Tang 1989 and 1990 (ACM Transactions on Mathematical Software 15:144 and 16:378).

use super::tables::{LN_2_HIGH, LN_2_LOW, LOGARITHMS, LOWEST, POWERS, STEPS};

/// Adding this number rounds a small one to a whole number, which then stands in the last bits.
const ROUNDS: f64 = 6_755_399_441_055_744.0;

/// 2^(k/128) · e^r for a small r [−0.003, 0.003].
#[inline]
const fn scaled(k: i64, r: f64) -> f64 {
    let (power, lacking) = POWERS[k as usize % STEPS];
    let squared = r * r;
    let series = r
        + squared * (0.5 + r * (1.0 / 6.0))
        + squared * squared * (1.0 / 24.0 + r * (1.0 / 120.0));
    let value = power + power * (lacking + series);
    f64::from_bits(value.to_bits().wrapping_add(((k >> 7) as u64) << 52))
}

/// e to the power of `x`, within 0.6 units in the last place.
#[inline]
pub fn exp(x: f64) -> f64 {
    // Beyond, and for what is not a number, the result is not a normal number.
    if x.abs() < 708.0 { normal_exp(x) } else { rare_exp(x) }
}

/// [`exp`] of other numbers: rare, so out of the way of the others.
#[cold]
#[inline(never)]
fn rare_exp(x: f64) -> f64 {
    libm::exp(x)
}

/// [`exp`] where the result is a normal number, that is for |x| below 708; a `const fn`, for tables made at compile time.
#[inline]
pub const fn normal_exp(x: f64) -> f64 {
    let shifted = x * (STEPS as f64 * std::f64::consts::LOG2_E) + ROUNDS;
    let k = shifted - ROUNDS;
    let step = k * (1.0 / STEPS as f64);
    scaled((shifted.to_bits() as i64) << 16 >> 16, (x - step * LN_2_HIGH) - step * LN_2_LOW)
}

/// 2 to the power of `x`, within 0.6 units in the last place.
#[inline]
pub fn exp2(x: f64) -> f64 {
    if x.is_nan() || x.abs() >= 1021.0 {
        return libm::exp2(x);
    }
    let shifted = x * STEPS as f64 + ROUNDS;
    let rest = x - (shifted - ROUNDS) * (1.0 / STEPS as f64);
    scaled((shifted.to_bits() as i64) << 16 >> 16, rest * std::f64::consts::LN_2)
}

/// Natural logarithm, within one unit in the last place.
#[inline]
pub fn ln(x: f64) -> f64 {
    // Zero, negative, infinite, not a number, or too small to have all its digits.
    if (f64::MIN_POSITIVE..=f64::MAX).contains(&x) { normal_ln(x) } else { rare_ln(x) }
}

/// [`ln`] of other numbers: rare, so out of the way of the others.
#[cold]
#[inline(never)]
fn rare_ln(x: f64) -> f64 {
    libm::log(x)
}

/// [`ln`] of a normal number above zero; a `const fn`, for tables made at compile time.
#[inline]
pub const fn normal_ln(x: f64) -> f64 {
    // x = 2^k z with z from 0.704 to 1.407.
    let above = x.to_bits().wrapping_sub(0.704_f64.to_bits());
    let k = (above as i64) >> 52;
    let z = f64::from_bits(x.to_bits().wrapping_sub((k as u64) << 52));
    // c is the nearest 128th, so that z − c is exact.
    let shifted = z * 128.0 + ROUNDS;
    let c = (shifted - ROUNDS) * (1.0 / 128.0);
    let index = (shifted.to_bits() as i32 - LOWEST) as usize % STEPS;
    let (inverse, ln_high, ln_low) = LOGARITHMS[index];
    let r = (z - c) * inverse;
    let (squared, k) = (r * r, k as f64);
    let series = squared * (-0.5 + r * (1.0 / 3.0))
        + squared * squared * ((-0.25 + r * 0.2) + squared * (-1.0 / 6.0 + r * (1.0 / 7.0)));
    let high = k * LN_2_HIGH + ln_high;
    let near = high + r;
    near + ((high - near + r) + (k * LN_2_LOW + ln_low) + series)
}

/// `x` to the power of `y`, as exp(y ln x). Its relative error is at most 2.2 · 10⁻¹⁶ (1 + |y ln x|).
///
/// Not a number below zero. For a whole power take [`powi`](super::powi), which is exact where it can be.
#[inline]
pub fn powf(x: f64, y: f64) -> f64 {
    match (x, y) {
        (_, 0.0) => 1.0,
        (0.0, y) => {
            if y > 0.0 {
                0.0
            } else {
                f64::INFINITY
            }
        }
        _ => exp(y * ln(x)),
    }
}
