//! Procedures that select the best of several, against their published constants and worked examples.

use sim::stats::{
    dunnett_quantile, halving_schedule, kim_nelson_eta, ocba_shares, rinott_constant, round_shares,
    t_quantile,
};

use crate::evidence::as_printed;

/// V-89: quantiles of Dunnett.
#[test]
fn dunnett_quantiles_are_as_tabulated() {
    // With infinite degrees of freedom √2 d is the constant of Bechhofer 1954, Table I; k = 2, 3, 4, 5, 10.
    for (level, printed) in [
        (0.90, [1.8124, 2.2302, 2.4516, 2.5997, 2.9829]),
        (0.95, [2.3262, 2.7101, 2.9162, 3.0552, 3.4182]),
        (0.75, [0.9539, 1.4338, 1.6822, 1.8463, 2.2637]),
    ] {
        for (k, printed) in [2, 3, 4, 5, 10].into_iter().zip(printed) {
            // A hundred million degrees of freedom change the fourth decimal by far less than half a unit.
            let constant = std::f64::consts::SQRT_2 * dunnett_quantile(k, 100_000_000, level);
            as_printed(&format!("Bechhofer, {k} at {level}"), constant, printed, 4);
        }
    }
    // Dunnett 1955, Table 1a (one-sided, 5 %), 20 degrees of freedom, 1 to 9 others (from memory).
    let printed = [1.72, 2.03, 2.19, 2.30, 2.39, 2.46, 2.51, 2.56, 2.60];
    for (k, printed) in (2..=10).zip(printed) {
        as_printed(&format!("Dunnett, {k} at 20 df"), dunnett_quantile(k, 20, 0.95), printed, 2);
    }
    // Against one other it is Student's t.
    for df in [5, 20, 399] {
        let t = t_quantile(0.90, df);
        as_printed(
            &format!("t at {df} df"),
            dunnett_quantile(2, df, 0.95),
            (1e4 * t).round() / 1e4,
            4,
        );
    }
}

/// V-90: Rinott's constant.
#[test]
fn rinott_constants_are_the_published_ones() {
    // Test values of the Kotlin library KSL for 50 degrees of freedom, from the Fortran of Bechhofer, Santner &
    // Goldsman 1995, table 2.13. Its 32 Laguerre nodes lose the third decimal at a thousand plans, so a unit of it
    // is allowed there.
    as_printed("10 at .975", rinott_constant(10, 50, 0.975), 4.045, 3);
    for (level, printed) in [(0.975, 6.057), (0.90, 5.488)] {
        let h = rinott_constant(1000, 50, level);
        assert!((h - printed).abs() < 1.5e-3, "1000 at {level}: {h}, printed {printed}");
    }
    // For two plans Rinott's constant is that of Dudewicz & Dalal 1975: table in Law & Kelton, chapter on
    // selection, first column; 20 and 40 first trials.
    for (level, first, printed) in
        [(0.90, 20, 1.896), (0.90, 40, 1.852), (0.95, 20, 2.452), (0.95, 40, 2.386)]
    {
        as_printed(
            &format!("2 of {first} at {level}"),
            rinott_constant(2, first - 1, level),
            printed,
            3,
        );
    }
    // Computed separately from this code, by Gauss-Legendre: 10, 20 and 50 first trials; 5 and 100 plans.
    for (level, first, k, computed) in [
        (0.90, 10, 5, 3.137),
        (0.95, 10, 100, 6.010),
        (0.90, 20, 100, 4.793),
        (0.95, 20, 5, 3.385),
        (0.95, 50, 100, 4.833),
        (0.95, 50, 5, 3.242),
    ] {
        as_printed(
            &format!("{k} of {first} at {level}"),
            rinott_constant(k, first - 1, level),
            computed,
            3,
        );
    }
}

/// V-91: optimal allocation.
#[test]
fn optimal_shares_agree_with_the_worked_example() {
    // Chen & Lee 2011, page 49: means 1 to 5, the smallest is best, variances 1, 1, 9, 9, 4; fifty trials.
    let shares = ocba_shares(&[-1.0, -2.0, -3.0, -4.0, -5.0], &[1.0, 1.0, 9.0, 9.0, 4.0], 50.0);
    assert_eq!(round_shares(&shares), [11, 9, 19, 9, 2]);
    // The same computed to four decimals, and ten plans of equal variance.
    for (share, computed) in shares.iter().zip([11.2049, 8.6211, 19.3975, 8.6211, 2.1553]) {
        as_printed("share", *share, computed, 4);
    }
    let means: Vec<f64> = (0..10).map(|i| -f64::from(i)).collect();
    let shares = ocba_shares(&means, &[36.0; 10], 1000.0);
    let computed = [403.17, 387.61, 96.90, 43.07, 24.23, 15.50, 10.77, 7.91, 6.06, 4.79];
    for (share, computed) in shares.iter().zip(computed) {
        as_printed("share", *share, computed, 2);
    }
}

/// V-91: shares stay finite and add up where plans are equal.
#[test]
fn all_trials_are_allocated_where_plans_are_equal() {
    for (means, variances) in [
        (vec![3.0; 4], vec![2.0; 4]),
        (vec![3.0; 4], vec![0.0; 4]),
        (vec![1.0, 2.0], vec![0.0, 5.0]),
    ] {
        let shares = ocba_shares(&means, &variances, 101.0);
        assert!(shares.iter().all(|share| share.is_finite()), "{shares:?}");
        assert_eq!(round_shares(&shares).iter().sum::<u32>(), 101, "{shares:?}");
    }
}

/// V-92: the schedule of sequential halving.
#[test]
fn halving_divides_trials_equally_among_its_rounds() {
    assert_eq!(halving_schedule(8, 96), [(8, 4), (4, 8), (2, 16)]);
    // ⌈log₂ k⌉ rounds of ⌊T/(L k)⌋ trials: 5 continue as 3 and 2; never more than T unless a round would be empty.
    assert_eq!(halving_schedule(5, 90), [(5, 6), (3, 10), (2, 15)]);
    for (k, trials) in [(2, 2), (64, 5000), (256, 6000), (500, 9001)] {
        let schedule = halving_schedule(k, trials);
        let spent: u32 = schedule.iter().map(|&(left, days)| left as u32 * days).sum();
        assert!(spent <= trials, "{k} points spend {spent} of {trials}");
        assert_eq!(schedule.last().map(|&(left, _)| left), Some(2), "{schedule:?}");
    }
}

/// V-93: the constants of Kim and Nelson.
#[test]
fn kim_and_nelsons_constants_follow_their_formula() {
    // Computed separately from this code from η = ½ ((2α/(k−1))^(−2/(n₀−1)) − 1), h² = 2 η (n₀ − 1).
    for (k, first, eta, h_squared) in [
        (2, 10, 0.334_050, 6.012_905),
        (5, 10, 0.634_967, 11.429_411),
        (10, 10, 0.859_083, 15.463_502),
        (10, 20, 0.302_934, 11.511_485),
        (100, 20, 0.533_475, 20.272_054),
        (500, 20, 0.725_304, 27.561_541),
    ] {
        let constant = kim_nelson_eta(k, first, 0.05);
        as_printed("eta", constant, eta, 6);
        as_printed("h²", 2.0 * constant * f64::from(first - 1), h_squared, 6);
    }
}
