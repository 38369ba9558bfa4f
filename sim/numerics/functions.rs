//! Functions from `libm`, a translation of C sources into plain Rust, and powers by multiplication.
//!
//! `libm` uses no instruction that only some processors have, except a fused multiplication, which gives the same bits
//! when it is computed without one.

#[cfg(test)]
use super::exponential::{exp, exp2, ln, powf};

/// exp(x) − 1, with all digits near zero.
pub fn exp_m1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Logarithm to the base 2.
pub fn log2(x: f64) -> f64 {
    libm::log2(x)
}

/// Logarithm to the base 10.
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// `x` squared.
#[inline]
pub fn square(x: f64) -> f64 {
    x * x
}

/// `x` cubed.
#[inline]
pub fn cube(x: f64) -> f64 {
    x * x * x
}

/// `x` to a whole power, by repeated squaring; a negative power is one divided by the positive one.
pub fn powi(x: f64, power: i32) -> f64 {
    let (mut left, mut factor, mut product) = (power.unsigned_abs(), x, 1.0);
    while left > 0 {
        if left & 1 == 1 {
            product *= factor;
        }
        factor *= factor;
        left >>= 1;
    }
    if power < 0 { 1.0 / product } else { product }
}

/// Cube root.
pub fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}

/// √(x² + y²), without overflow.
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

/// Sine of an angle [rad].
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle [rad].
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Sine and cosine of an angle [rad].
pub fn sin_cos(x: f64) -> (f64, f64) {
    libm::sincos(x)
}

/// Tangent of an angle [rad].
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// Angle with this sine [rad].
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}

/// Angle with this cosine [rad].
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}

/// Angle of the point (x, y) from the x axis [rad].
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// Natural logarithm of the gamma function, for `x` above zero.
pub fn ln_gamma(x: f64) -> f64 {
    libm::lgamma(x)
}

#[cfg(test)]
#[expect(
    clippy::disallowed_methods,
    reason = "the system's functions are what these are compared with"
)]
mod tests {
    use super::*;

    /// 4,000 numbers between two ends, the same on every machine.
    fn arguments(low: f64, high: f64) -> impl Iterator<Item = f64> {
        (0..4000).map(move |k| low + (high - low) * ((f64::from(k) * 0.618_033_988_749_895) % 1.0))
    }

    /// Fails unless a function agrees with the system's to a few units in the last place.
    fn agrees(name: &str, (low, high): (f64, f64), ours: fn(f64) -> f64, system: fn(f64) -> f64) {
        for x in arguments(low, high) {
            let (ours, system) = (ours(x), system(x));
            let apart = (ours - system).abs() / system.abs().max(f64::MIN_POSITIVE);
            assert!(apart < 4.5e-16, "{name}({x}): {ours} and {system}");
        }
    }

    #[test]
    fn functions_agree_with_those_of_the_system() {
        agrees("exp", (-700.0, 700.0), exp, f64::exp);
        agrees("exp2", (-1000.0, 1000.0), exp2, f64::exp2);
        agrees("exp_m1", (-30.0, 2.0), exp_m1, f64::exp_m1);
        agrees("ln", (1e-6, 1e6), ln, f64::ln);
        agrees("log2", (1e-6, 1e6), log2, f64::log2);
        agrees("log10", (1e-6, 1e6), log10, f64::log10);
        agrees("cbrt", (-1e3, 1e3), cbrt, f64::cbrt);
        agrees("sin", (-3.0, 3.0), sin, f64::sin);
        agrees("cos", (-1.5, 1.5), cos, f64::cos);
        agrees("tan", (-1.5, 1.5), tan, f64::tan);
        agrees("asin", (-1.0, 1.0), asin, f64::asin);
        agrees("acos", (-1.0, 1.0), acos, f64::acos);
        agrees("hypot", (-9.0, 9.0), |x| hypot(x, 2.0), |x| x.hypot(2.0));
        agrees("atan2", (-9.0, 9.0), |x| atan2(x, 2.0), |x| x.atan2(2.0));
        for x in arguments(1e-6, 1e6) {
            let (ours, system) = (powf(x, 1.7), x.powf(1.7));
            // ln x and y ln x are each rounded by half a unit, and the exponential by one.
            let bound = f64::EPSILON * (1.0 + (1.7 * x.ln()).abs());
            assert!((ours / system - 1.0).abs() < bound, "{x}: {ours} and {system}");
        }
        for x in arguments(-9.0, 9.0) {
            let (sine, cosine) = sin_cos(x);
            assert_eq!((sine.to_bits(), cosine.to_bits()), (sin(x).to_bits(), cos(x).to_bits()));
        }
    }

    #[test]
    fn exp_and_ln_are_right_to_the_last_place() {
        // Near 1 a logarithm is small, and must keep its digits all the same.
        agrees("ln", (0.99, 1.01), ln, f64::ln);
        agrees("ln", (0.6, 1.5), ln, f64::ln);
        agrees("ln", (1e-307, 1e-300), ln, f64::ln);
        agrees("ln", (1e300, 1e308), ln, f64::ln);
        agrees("exp", (-1e-3, 1e-3), exp, f64::exp);
        agrees("exp", (-2.0, 2.0), exp, f64::exp);
        for (x, value) in [
            (0.0, 1.0),
            (1.0, std::f64::consts::E),
            (f64::NEG_INFINITY, 0.0),
            (f64::INFINITY, f64::INFINITY),
            (800.0, f64::INFINITY),
            (-800.0, 0.0),
        ] {
            assert_eq!(exp(x).to_bits(), f64::to_bits(value), "exp({x})");
        }
        for (x, value) in [
            (1.0, 0.0),
            (2.0, std::f64::consts::LN_2),
            (0.0, f64::NEG_INFINITY),
            (f64::INFINITY, f64::INFINITY),
        ] {
            assert_eq!(ln(x).to_bits(), f64::to_bits(value), "ln({x})");
        }
        assert!(exp(f64::NAN).is_nan() && ln(f64::NAN).is_nan() && ln(-1.0).is_nan());
        assert!((exp(-720.0) / (-720.0_f64).exp() - 1.0).abs() < 1e-10, "below the normal numbers");
        assert!((exp2(-10.0) - 1.0 / 1024.0).abs() == 0.0 && exp2(-2000.0) == 0.0);
        assert!(
            powf(0.0, 0.5) == 0.0
                && powf(0.0, -1.0).is_infinite()
                && powf(5.0, 0.0).to_bits() == 1.0_f64.to_bits()
        );
        assert!(powf(-1.0, 0.5).is_nan());
    }

    #[test]
    fn whole_powers_of_ten_and_two_are_exact() {
        for power in 0..=22 {
            let ten: f64 = format!("1e{power}").parse().expect("a number");
            assert_eq!(powi(10.0, power).to_bits(), ten.to_bits());
            assert_eq!(log10(ten).to_bits(), f64::from(power).to_bits());
            assert_eq!(powi(2.0, -power).to_bits(), (1.0 / f64::from(1 << power)).to_bits());
        }
        assert_eq!(powi(-1.5, 3).to_bits(), (-3.375_f64).to_bits());
        assert_eq!(powi(7.0, 0).to_bits(), 1.0_f64.to_bits());
    }

    /// The bits of a function at all arguments, in one number.
    fn digest(low: f64, high: f64, function: fn(f64) -> f64) -> u64 {
        arguments(low, high).fold(0, |hash: u64, x| {
            (hash ^ function(x).to_bits()).wrapping_mul(0x9e37_79b9_7f4a_7c15).rotate_left(29)
        })
    }

    #[test]
    fn bits_are_those_of_every_machine() {
        let digests = [
            ("exp", digest(-20.0, 3.0, exp)),
            ("exp2", digest(-20.0, 3.0, exp2)),
            ("exp_m1", digest(-20.0, 3.0, exp_m1)),
            ("ln", digest(1e-3, 1e3, ln)),
            ("log2", digest(1e-3, 1e3, log2)),
            ("log10", digest(1e-3, 1e3, log10)),
            ("powf", digest(1e-3, 1e3, |x| powf(x, 0.73))),
            ("cbrt", digest(1e-3, 1e3, cbrt)),
            ("hypot", digest(-9.0, 9.0, |x| hypot(x, 2.0))),
            ("sin", digest(-9.0, 9.0, sin)),
            ("cos", digest(-9.0, 9.0, cos)),
            ("tan", digest(-1.5, 1.5, tan)),
            ("asin", digest(-1.0, 1.0, asin)),
            ("acos", digest(-1.0, 1.0, acos)),
            ("atan2", digest(-9.0, 9.0, |x| atan2(x, 2.0))),
            ("ln_gamma", digest(0.1, 90.0, ln_gamma)),
        ];
        let pinned: [(&str, u64); 16] = [
            ("exp", 0x3754_0456_6605_9c76),
            ("exp2", 0x954a_9c88_4bad_c730),
            ("exp_m1", 0xe66b_a8b1_5a8b_70da),
            ("ln", 0xee0d_82de_0082_5bd8),
            ("log2", 0x6c9f_6844_1a3d_76d4),
            ("log10", 0x7e0e_222d_1179_dc96),
            ("powf", 0x1672_4cff_1790_5854),
            ("cbrt", 0x9394_b06c_e3b0_30f9),
            ("hypot", 0xc367_8382_627c_0b26),
            ("sin", 0xe6fb_1eb2_b57d_4d3f),
            ("cos", 0x79f6_e981_dc27_c1d2),
            ("tan", 0x7849_806a_aa71_14d7),
            ("asin", 0x5901_bbd7_b47e_aec5),
            ("acos", 0xc2f9_2f1c_b32c_6a02),
            ("atan2", 0x65ab_b256_9416_38ac),
            ("ln_gamma", 0x1986_a57a_b5da_768e),
        ];
        assert_eq!(digests, pinned, "{digests:#x?}");
    }
}
