//! Statistics against published values.

use sim::stats::{
    Interval, Moments, Paired, Summary, histogram_quantile, mean_interval, quantile,
    quantile_position, t_quantile, wilson_interval,
};

use super::nist::{LEW, LOTTERY, MAVRO, MICHELSO};

fn assert_near(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}"
    );
}

/// V-45: Wilson's interval for a share.
#[test]
fn wilson_interval_gives_newcombes_table() {
    // Newcombe 1998, Statistics in Medicine 17:857-872, Table I, method 3; printed to four places.
    // Fagerland, Lydersen & Laake 2017, chapter 2, for 13 of 16.
    for (successes, n, low, high) in [
        (81.0, 263, 0.2553, 0.3662),
        (15.0, 148, 0.0624, 0.1605),
        (0.0, 20, 0.0000, 0.1611),
        (1.0, 29, 0.0061, 0.1718),
        (29.0, 29, 0.8830, 1.0000),
        (13.0, 16, 0.5699, 0.9341),
    ] {
        let Interval { low: got_low, high: got_high } =
            wilson_interval(successes, n, 0.95).expect("there are trials");
        assert_near(&format!("low end of {successes} of {n}"), got_low, low, 0.5e-4);
        assert_near(&format!("high end of {successes} of {n}"), got_high, high, 0.5e-4);
    }
    assert!(wilson_interval(0.0, 0, 0.95).is_none(), "without trials a share has no interval");
}

/// V-46: quantiles of Student's t.
#[test]
fn t_quantiles_are_as_tabulated() {
    // Two-sided 95 % points of Student's t; any table, here to six places (R's qt(0.975, df)).
    let table = [
        (1, 12.706_205),
        (2, 4.302_653),
        (9, 2.262_157),
        (30, 2.042_272),
        (99, 1.984_217),
        (399, 1.965_927),
        (1_000, 1.962_339),
        (10_000, 1.960_201),
        (1_000_000, 1.959_966),
    ];
    for (df, expected) in table {
        assert_near(&format!("t at {df} df"), t_quantile(0.95, df), expected, 0.6e-6);
    }
}

/// V-46: the table and the expansion of t agree where they meet.
#[test]
fn table_and_expansion_of_t_agree() {
    // t falls smoothly with its degrees of freedom: between 999 and 1000, by the first two terms of the expansion,
    // by 2.380e-6 and 4.939e-6. One per cent of that is what the ninth digit allows.
    for (level, fall) in [(0.95, 2.380e-6), (0.99, 4.939e-6)] {
        let step = t_quantile(level, 999) - t_quantile(level, 1000);
        assert_near(&format!("step at level {level}"), step, fall, 0.01 * fall);
    }
}

/// V-47: the paired interval.
#[test]
fn the_paired_t_interval_agrees_with_students_sleep_data() {
    // Student 1908; hours of extra sleep, in tenths, which makes them whole. R's t.test(paired = TRUE)
    // prints t = -4.0621 on 9 df and -2.4598858 to -0.7001142.
    let first = [7, -16, -2, -12, -1, 34, 37, 8, 0, 20];
    let second = [19, 8, 11, 1, -1, 44, 55, 16, 46, 34];
    let mut pairs = Paired::default();
    for (&a, &b) in first.iter().zip(&second) {
        pairs.add(a, b);
    }
    let interval = pairs.interval(0.95).expect("ten pairs");
    assert_near("low end [h]", 0.1 * interval.low, -2.459_885_8, 1e-7);
    assert_near("high end [h]", 0.1 * interval.high, -0.700_114_2, 1e-7);
    let differences = pairs.differences();
    let (mean, se) = (differences.mean().expect("ten"), differences.se().expect("ten"));
    assert_near("t", mean / se, -4.0621, 0.5e-4);
    assert_eq!((pairs.a_larger(), pairs.ties()), (0, 1));
    // R's cor() of the two columns.
    assert_near("correlation", pairs.correlation().expect("both vary"), 0.795_170_2, 1e-7);
}

/// V-47: a single value has no interval.
#[test]
fn interval_of_one_value_is_none() {
    assert!(mean_interval(3.0, 0.0, 1, 0.95).is_none(), "one day has no spread");
    let mut one = Moments::default();
    one.add(3);
    assert!(one.variance().is_none() && one.se().is_none());
}

/// NIST StRD, `NumAcc` sets by their rule: the mean, then 500 pairs on either side of it.
fn numacc(centre: f64, low: f64, high: f64) -> Vec<f64> {
    std::iter::once(centre).chain((0..500).flat_map(|_| [low, high])).collect()
}

fn of(values: &[f64]) -> Summary {
    let mut summary = Summary::default();
    values.iter().for_each(|&value| summary.add(value));
    summary
}

/// V-48: mean and standard deviation.
#[test]
fn summaries_agree_with_the_certified_values_of_nist() {
    // NIST Statistical Reference Datasets, univariate, NumAcc1 to NumAcc4: certified mean and standard deviation.
    // The last two bounds come from rounding 1000000.1 and 10000000.1 to a double (relative to the spread of 0.1
    // about 1e-9 and 1e-8), not from the summation.
    let sets: [(&str, Vec<f64>, f64, f64, f64); 4] = [
        ("NumAcc1", vec![10_000_001.0, 10_000_003.0, 10_000_002.0], 10_000_002.0, 1.0, 1e-14),
        ("NumAcc2", numacc(1.2, 1.1, 1.3), 1.2, 0.1, 1e-13),
        ("NumAcc3", numacc(1_000_000.2, 1_000_000.1, 1_000_000.3), 1_000_000.2, 0.1, 1e-9),
        ("NumAcc4", numacc(10_000_000.2, 10_000_000.1, 10_000_000.3), 10_000_000.2, 0.1, 1e-8),
    ];
    for (name, values, mean, sd, tolerance) in sets {
        let whole = of(&values);
        let mut merged = Summary::default();
        for part in values.chunks(values.len().div_ceil(7)) {
            merged.merge(&of(part));
        }
        for (way, summary) in [("whole", whole), ("merged", merged)] {
            assert_eq!(summary.n(), values.len() as u64);
            let got_mean = summary.mean().expect("values");
            let got_sd = summary.variance().expect("values").sqrt();
            assert_near(&format!("{name} {way}: mean / mean"), got_mean / mean, 1.0, 1e-14);
            assert_near(&format!("{name} {way}: sd / sd"), got_sd / sd, 1.0, tolerance);
        }
    }
}

/// V-48: the four sets of measurements, in floating point and, as whole numbers, exactly.
#[test]
fn summaries_agree_with_nists_certified_measurements() {
    // Certified mean and standard deviation to fifteen digits. Welford's recurrence reaches twelve digits of the
    // deviation where it is small compared with the mean (Mavro, Michelso), fifteen elsewhere.
    let whole = |of: &[i64]| of.to_vec();
    let sets = [
        ("Lew", whole(&LEW), 0.0, 1.0, -177.435, 277.332_168_044_316, 1e-13),
        ("Lottery", whole(&LOTTERY), 0.0, 1.0, 518.958_715_596_330, 291.699_727_470_969, 1e-13),
        ("Mavro", whole(&MAVRO), 2.0, 1e5, 2.001_856, 0.000_429_123_454_003_053, 1e-11),
        ("Michelso", whole(&MICHELSO), 299.0, 100.0, 299.8524, 0.079_010_547_819_051_8, 1e-11),
    ];
    for (name, counted, over, parts, mean, sd, tolerance) in sets {
        let mut exact = Moments::default();
        counted.iter().for_each(|&value| exact.add(value));
        // The printed numbers, read as a program would read them: 2.0018, 299.85.
        let base = (over * parts) as i64;
        let values: Vec<f64> = counted.iter().map(|&v| (base + v) as f64 / parts).collect();
        let whole = of(&values);
        let mut merged = Summary::default();
        for part in values.chunks(values.len().div_ceil(7)) {
            merged.merge(&of(part));
        }
        for (way, summary) in [("whole", whole), ("merged", merged)] {
            let got = (summary.mean().expect("values"), summary.variance().expect("values").sqrt());
            assert_near(&format!("{name} {way}: mean / mean"), got.0 / mean, 1.0, 1e-14);
            assert_near(&format!("{name} {way}: sd / sd"), got.1 / sd, 1.0, tolerance);
        }
        let exact_sd = exact.variance().expect("values").sqrt() / parts;
        assert_near(&format!("{name} exactly: sd / sd"), exact_sd / sd, 1.0, 1e-14);
        let exact_mean = over + exact.mean().expect("values") / parts;
        assert_near(&format!("{name} exactly: mean / mean"), exact_mean / mean, 1.0, 1e-14);
    }
}

/// V-49: whole numbers are summed exactly.
#[test]
fn whole_numbers_are_summed_exactly_in_any_order() {
    // NIST's NumAcc sets in tenths are whole numbers, so that nothing is lost.
    for centre in [12_i64, 10_000_002, 100_000_002] {
        let values: Vec<i64> = std::iter::once(centre)
            .chain((0..500).flat_map(|_| [centre - 1, centre + 1]))
            .collect();
        let (mut forward, mut backward) = (Moments::default(), Moments::default());
        values.iter().for_each(|&value| forward.add(value));
        for part in values.rchunks(143) {
            let mut moments = Moments::default();
            part.iter().for_each(|&value| moments.add(value));
            backward.merge(&moments);
        }
        assert_eq!(forward, backward, "sums about {centre} depend on the order");
        assert_near("variance in tenths", forward.variance().expect("values"), 1.0, 1e-15);
        assert_eq!(forward.sum(), 1001 * i128::from(centre));
    }
}

/// V-49: a plan compared with itself.
#[test]
fn a_plan_against_itself_has_correlation_one_and_difference_zero() {
    let mut pairs = Paired::default();
    let mut word = 1_u64;
    for _ in 0..1000 {
        word = word.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let weight_g = (word >> 44) as i64;
        pairs.add(weight_g, weight_g);
    }
    assert_eq!(pairs.differences().sum(), 0);
    assert_eq!(pairs.ties(), 1000);
    assert_eq!(pairs.correlation().map(f64::to_bits), Some(1.0_f64.to_bits()));
    let interval = pairs.interval(0.95).expect("a thousand pairs");
    assert!(interval.low.abs() + interval.high.abs() <= 0.0);
}

/// V-47: a constant has no correlation.
#[test]
fn correlation_with_a_constant_is_none() {
    let mut pairs = Paired::default();
    for b in 0..5 {
        pairs.add(7, b);
    }
    assert!(pairs.correlation().is_none());
}

/// V-50: quantiles of a sample.
#[test]
fn quantiles_are_of_type_7() {
    // Hyndman & Fan 1996, type 7, as R's quantile() defaults to: quantile(c(1, 2, 4, 8, 16), p).
    let sorted = [1.0, 2.0, 4.0, 8.0, 16.0];
    for (p, expected) in [(0.0, 1.0), (0.1, 1.4), (0.25, 2.0), (0.5, 4.0), (0.9, 12.8), (1.0, 16.0)]
    {
        assert_near(
            &format!("quantile {p}"),
            quantile(&sorted, p).expect("values"),
            expected,
            1e-12,
        );
    }
    assert_eq!(quantile::<f64>(&[], 0.5), None);
    let one = quantile(&[5.0], 0.9).expect("one value");
    assert_near("the quantile of one value", one, 5.0, 0.0);
}

/// V-50: quantiles of counted values.
#[test]
fn quantiles_of_counts_equal_those_of_the_values() {
    let values = [0_u32, 0, 1, 3, 3, 3, 7, 9, 9, 12];
    let mut counts = vec![0; 13];
    values.iter().for_each(|&value| counts[value as usize] += 1);
    for step in 0..=20 {
        let p = f64::from(step) / 20.0;
        let (one, other) = (quantile(&values, p), histogram_quantile(&counts, p));
        assert_eq!(one.map(f64::to_bits), other.map(f64::to_bits), "at p = {p}");
    }
    assert_eq!(histogram_quantile(&[], 0.5), None);
    assert_eq!(quantile_position(10, 1.0).above, 9, "the largest value has no neighbour above");
}
