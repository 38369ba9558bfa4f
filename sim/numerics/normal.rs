//! The standard normal distribution.

use super::exponential::{exp, ln};

/// Density φ(z) of the standard normal.
pub fn normal_density(z: f64) -> f64 {
    exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt()
}

/// Distribution function Φ(z) of the standard normal.
pub fn normal_cumulative(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Coefficients of the quotients of polynomials below, in ascending powers.
#[expect(clippy::excessive_precision, reason = "as they were published")]
mod coefficients {
    pub(super) const MIDDLE: [[f64; 8]; 2] = [
        [
            3.387_132_872_796_366_608_0,
            1.331_416_678_917_843_774_5e2,
            1.971_590_950_306_551_442_7e3,
            1.373_169_376_550_946_112_5e4,
            4.592_195_393_154_987_145_7e4,
            6.726_577_092_700_870_085_3e4,
            3.343_057_558_358_812_810_5e4,
            2.509_080_928_730_122_672_7e3,
        ],
        [
            1.0,
            4.231_333_070_160_091_125_2e1,
            6.871_870_074_920_579_083_0e2,
            5.394_196_021_424_751_107_7e3,
            2.121_379_430_158_659_586_7e4,
            3.930_789_580_009_271_061_0e4,
            2.872_908_573_572_194_267_4e4,
            5.226_495_278_852_854_561_0e3,
        ],
    ];
    pub(super) const SHOULDER: [[f64; 8]; 2] = [
        [
            1.423_437_110_749_683_577_34,
            4.630_337_846_156_545_295_90,
            5.769_497_221_460_691_405_50,
            3.647_848_324_763_204_605_04,
            1.270_458_252_452_368_382_58,
            2.417_807_251_774_506_117_70e-1,
            2.272_384_498_926_918_458_33e-2,
            7.745_450_142_783_414_076_40e-4,
        ],
        [
            1.0,
            2.053_191_626_637_758_821_87,
            1.676_384_830_183_803_849_40,
            6.897_673_349_851_000_045_50e-1,
            1.481_039_764_274_800_745_90e-1,
            1.519_866_656_361_645_719_66e-2,
            5.475_938_084_995_344_946_00e-4,
            1.050_750_071_644_416_843_24e-9,
        ],
    ];
    pub(super) const TAIL: [[f64; 8]; 2] = [
        [
            6.657_904_643_501_103_777_20,
            5.463_784_911_164_114_369_90,
            1.784_826_539_917_291_335_80,
            2.965_605_718_285_048_912_30e-1,
            2.653_218_952_657_612_309_30e-2,
            1.242_660_947_388_078_438_60e-3,
            2.711_555_568_743_487_578_15e-5,
            2.010_334_399_292_288_132_65e-7,
        ],
        [
            1.0,
            5.998_322_065_558_879_376_90e-1,
            1.369_298_809_227_358_053_10e-1,
            1.487_536_129_085_061_485_25e-2,
            7.868_691_311_456_132_591_00e-4,
            1.846_318_317_510_054_681_80e-5,
            1.421_511_758_316_445_888_70e-7,
            2.044_263_103_389_939_785_64e-15,
        ],
    ];
}

/// Quotient of two polynomials at `x`.
#[inline]
fn quotient([over, under]: &[[f64; 8]; 2], x: f64) -> f64 {
    let horner = |c: &[f64; 8]| c.iter().rev().fold(0.0, |sum, c| sum * x + c);
    horner(over) / horner(under)
}

/// Quantile of the standard normal: Φ of it is `p`. −∞ at 0 and ∞ at 1; not a number outside.
///
/// - **Source** Wichura 1988, The percentage points of the normal distribution, Applied Statistics 37:477, algorithm
///   AS 241 (relative error about 1 in 10¹⁶).
pub fn normal_quantile(p: f64) -> f64 {
    let from_middle = p - 0.5;
    if from_middle.abs() <= 0.425 {
        return from_middle
            * quotient(&coefficients::MIDDLE, 0.180_625 - from_middle * from_middle);
    }
    let outside = if from_middle < 0.0 { p } else { 1.0 - p };
    let size = match (-ln(outside)).sqrt() {
        r if r <= 5.0 => quotient(&coefficients::SHOULDER, r - 1.6),
        r if r.is_finite() => quotient(&coefficients::TAIL, r - 5.0),
        r => r,
    };
    if from_middle < 0.0 { -size } else { size }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_those_of_tables() {
        // Wichura 1988, and NIST's tables for the last two.
        for (p, z) in [
            (0.25, -0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_813_5),
            (1e-20, -9.262_340_089_798_408),
            (0.975, 1.959_963_984_540_054),
            (0.995, 2.575_829_303_548_901),
        ] {
            let quantile = normal_quantile(p);
            assert!((quantile / z - 1.0).abs() < 1e-15, "p = {p}: {quantile} instead of {z}");
        }
        assert_eq!(normal_quantile(0.5).to_bits(), 0.0_f64.to_bits());
        assert!(normal_quantile(0.0) == f64::NEG_INFINITY && normal_quantile(1.0) == f64::INFINITY);
        assert!(normal_quantile(-0.1).is_nan() && normal_quantile(1.1).is_nan());
    }

    #[test]
    fn quantile_and_distribution_are_inverse() {
        for k in 1..2000 {
            let z = f64::from(k) * -0.01;
            let back = normal_quantile(normal_cumulative(z));
            assert!((back / z - 1.0).abs() < 1e-13, "{z} came back as {back}");
        }
        for k in 1..800 {
            let z = f64::from(k) * 0.01;
            let sum = normal_cumulative(z) + normal_cumulative(-z);
            assert!((sum - 1.0).abs() < 1e-15, "{z}: {sum}");
        }
    }

    #[test]
    fn density_is_the_slope_of_the_distribution() {
        for k in -40..40 {
            let (z, step) = (f64::from(k) * 0.1, 1e-5);
            let slope = (normal_cumulative(z + step) - normal_cumulative(z - step)) / (2.0 * step);
            assert!((slope - normal_density(z)).abs() < 1e-9, "{z}: {slope}");
        }
    }
}
