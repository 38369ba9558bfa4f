//! One puff of scent against its closed form: values, mass, and the largest distance at which it is noticed.

use std::f64::consts::{E, PI};

use sim::bait::{Mixing, Plume, Puff};
use sim::engine::Time;
use sim::water::Point;

use crate::evidence::{as_printed, near};
use crate::measured::measured;

/// A plume with one puff of zero size, released at the peg at the start.
fn one_puff(amount_mol: f64, layer_m: f64, diffusivity: f64, flow: (f64, f64), loss: f64) -> Plume {
    let mut plume = Plume::new(layer_m, diffusivity, flow, loss);
    let centre = Point::default();
    plume.release(Puff::round(amount_mol, centre, 0.0, Time::ZERO));
    plume
}

fn along_x(x_m: f64) -> Point {
    Point { x_m, y_m: 0.0 }
}

/// V-16: C = M/(4πKth) exp(−r²/(4Kt) − λt) (Fischer et al. 1979; Csanady 1973), values computed by us from the
/// textbook's form: M = 1, h = 1, K = 10⁻³ m²/s.
#[test]
fn a_puff_has_the_concentrations_of_its_closed_form() {
    for (t, r, loss, flow, value, decimals) in [
        (60.0, 0.0, 0.0, 0.0, 1.326_291_2, 7),
        (60.0, 1.0, 0.0, 0.0, 0.020_562_6, 7),
        (600.0, 0.0, 0.0, 0.0, 0.132_629_1, 7),
        (600.0, 1.0, 0.0, 0.0, 0.087_434_5, 7),
        (600.0, 5.0, 0.0, 0.0, 3.969_5e-6, 10),
        (3600.0, 0.0, 0.0, 0.0, 0.022_104_9, 7),
        (3600.0, 1.0, 0.0, 0.0, 0.020_621_9, 7),
        (3600.0, 5.0, 0.0, 0.0, 0.003_895_0, 7),
        (600.0, 1.0, 1e-4, 0.0, 0.082_342_7, 7),
        (300.0, 5.0, 0.0, 0.02, 0.115_280_8, 7),
    ] {
        let plume = one_puff(1.0, 1.0, 1e-3, (flow, 0.0), loss);
        let result = plume.concentration_mol_m3(along_x(r), Time::from_seconds(t));
        as_printed(&format!("V-16 at {t} s and {r} m"), result, value, decimals);
    }
}

/// V-16: a puff released with a size equals one of zero size released σ²/(2K) earlier.
#[test]
fn a_puff_with_a_size_equals_an_older_puff() {
    let plume = one_puff(2.0, 0.7, 2e-3, (0.01, -0.02), 1e-4);
    let earlier_s: f64 = 40.0;
    let mut sized = Plume::new(0.7, 2e-3, (0.01, -0.02), 1e-4);
    sized.release(Puff::round(
        2.0 * (-1e-4 * earlier_s).exp(),
        Point { x_m: 0.01 * earlier_s, y_m: -0.02 * earlier_s },
        2.0 * 2e-3 * earlier_s,
        Time::from_seconds(earlier_s),
    ));
    for (x_m, y_m, t) in [(0.0, 0.0, 60.0), (1.0, -1.0, 90.0), (2.0, -3.0, 300.0)] {
        let (place, now) = (Point { x_m, y_m }, Time::from_seconds(t));
        let whole = plume.concentration_mol_m3(place, now);
        near("V-16 older puff", sized.concentration_mol_m3(place, now), whole, 1e-9);
    }
}

/// V-144: the puff of a steady release has the amount, centre and second moments of many small puffs, released one
/// after another in the same time.
///
/// With n small puffs, released at the middles of n equal parts of the time, the variance along the path is (1 −
/// 1/n²) that of an even trail: 10⁻⁶ less for a thousand. The amount is exact. The loss makes the older end of the
/// trail thinner by λd = 1.2 %: the centre moves by up to λd/12 of the length, and the mean age, which determines
/// the spread, falls by up to λd/6. The model neglects both, so they are the tolerance.
#[test]
fn a_puff_of_a_steady_release_has_the_moments_of_many_small_puffs() {
    let (lasts_s, parts, variance_m2) = (120.0, 1000_u32, 0.25);
    let water =
        Mixing { layer_m: 0.7, diffusivity_m2_s: 2e-3, flow_m_s: (0.02, -0.01), loss_per_s: 1e-4 };
    let at = Point { x_m: 3.0, y_m: 20.0 };
    let until = Time::from_seconds(lasts_s);
    let one = Puff::from_steady_release(2.0, at, variance_m2, (Time::ZERO, until), &water);
    let (mut amount, mut x, mut y) = (0.0, 0.0, 0.0);
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for part in 0..parts {
        let age_s = lasts_s * (f64::from(part) + 0.5) / f64::from(parts);
        let mol = 2.0 / f64::from(parts) * (-water.loss_per_s * age_s).exp();
        let (dx, dy) = (water.flow_m_s.0 * age_s, water.flow_m_s.1 * age_s);
        let round_m2 = variance_m2 + 2.0 * water.diffusivity_m2_s * age_s;
        amount += mol;
        x += mol * dx;
        y += mol * dy;
        xx += mol * (dx * dx + round_m2);
        yy += mol * (dy * dy + round_m2);
        xy += mol * dx * dy;
    }
    let (x, y) = (x / amount, y / amount);
    let (xx, yy, xy) = (xx / amount - x * x, yy / amount - y * y, xy / amount - x * y);
    near("V-144 amount", one.amount_mol, amount, 1e-8);
    let lost = water.loss_per_s * lasts_s;
    let (length_x, length_y) = (water.flow_m_s.0 * lasts_s, water.flow_m_s.1 * lasts_s);
    let mut largest = 0.0_f64;
    for (what, result, truth, length_m) in
        [("x", one.centre.x_m, at.x_m + x, length_x), ("y", one.centre.y_m, at.y_m + y, length_y)]
    {
        largest = largest.max(((result - truth) / length_m).abs());
        assert!((result - truth).abs() < lost / 12.0 * length_m.abs() + 1e-6, "V-144 {what}");
    }
    for (what, result, truth) in [
        ("along x", one.variance_x_m2, xx),
        ("along y", one.variance_y_m2, yy),
        ("of both", one.covariance_m2, xy),
    ] {
        near(&format!("V-144 variance {what}"), result, truth, lost / 6.0);
    }
    measured!("V-144", "centre {largest:.3} of the length off at λd = {lost:.3}");
}

/// V-17: the integral of the concentration over the plane and the layer is the amount released, less the loss.
///
/// A Gaussian summed on a grid of a quarter of its σ is exact to far below what the plume leaves out beyond five
/// standard deviations, exp(−12.5) = 3.7·10⁻⁶ of the whole. The cells on that edge are counted whole or not at all,
/// half a cell either way of a ring that holds 5 · 3.7·10⁻⁶ to each σ: 2.3·10⁻⁶ more. Together 6·10⁻⁶, and always
/// too little, never too much.
#[test]
fn a_puff_keeps_its_mass_except_for_its_loss() {
    let (layer_m, diffusivity, flow, loss) = (0.75, 2e-3, (0.03, -0.01), 4e-4);
    let plume = one_puff(3.0, layer_m, diffusivity, flow, loss);
    let mut most = 0.0_f64;
    for t in [30.0, 600.0, 3600.0] {
        let now = Time::from_seconds(t);
        let sigma_m = (2.0 * diffusivity * t).sqrt();
        let step_m = 0.25 * sigma_m;
        let mut sum = 0.0;
        for i in -26..=26 {
            for j in -26..=26 {
                let place = Point {
                    x_m: flow.0 * t + step_m * f64::from(i),
                    y_m: flow.1 * t + step_m * f64::from(j),
                };
                sum += plume.concentration_mol_m3(place, now);
            }
        }
        let amount = sum * step_m * step_m * layer_m;
        let truth = 3.0 * (-loss * t).exp();
        let off = near(&format!("V-17 at {t} s [mol]"), amount, truth, 6e-6);
        assert!(amount < truth, "V-17: {amount} mol of {truth} mol");
        println!("V-17 at {t} s: {amount:.9} mol, off by {off:.1e}");
        near("V-17 the plume's own sum [mol]", plume.amount_mol(now), truth, 1e-12);
        most = most.max(1.0 - amount / truth);
    }
    measured!("V-17", "{most:.1e} too little");
}

/// The distance from its centre at which a puff falls to a concentration at time `t` [m]. Zero if it is weaker
/// everywhere.
fn reach_m(plume: &Plume, t: f64, threshold_mol_m3: f64) -> f64 {
    let now = Time::from_seconds(t);
    let exceeds = |r: f64| plume.concentration_mol_m3(along_x(r), now) >= threshold_mol_m3;
    if !exceeds(0.0) {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1e3);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if exceeds(middle) { low = middle } else { high = middle }
    }
    low
}

/// V-18: the largest distance at which a puff is noticed does not depend on the diffusivity.
///
/// r = √(M/(πehC)), reached at t = M/(4πeKhC). A millimole in 1.5 m at four thresholds [mol/L]: 0.28, 0.88, 2.79 and
/// 8.84 m, after 20 s, 195 s, 33 min and 5.4 h at K = 10⁻³ m²/s (computed by us). The test searches a thousand
/// times, 1.4 % apart; near its maximum the distance changes by about the square of that, so 10⁻⁴ is allowed.
#[test]
fn the_largest_reach_of_a_puff_does_not_depend_on_diffusivity() {
    let (amount_mol, layer_m) = (1e-3, 1.5);
    let mut largest = 0.0_f64;
    for (threshold_mol_l, printed_m, printed, unit_s, decimals) in [
        (1e-6, 0.28, 20.0, 1.0, 0),
        (1e-7, 0.88, 195.0, 1.0, 0),
        (1e-8, 2.79, 33.0, 60.0, 0),
        (1e-9, 8.84, 5.4, 3600.0, 1),
    ] {
        let threshold = 1e3 * threshold_mol_l;
        let closed_m = (amount_mol / (PI * E * layer_m * threshold)).sqrt();
        as_printed("V-18 closed form [m]", closed_m, printed_m, 2);
        for diffusivity in [2e-4, 1e-3, 5e-3] {
            let plume = one_puff(amount_mol, layer_m, diffusivity, (0.0, 0.0), 0.0);
            let closed_s = amount_mol / (4.0 * PI * E * diffusivity * layer_m * threshold);
            if diffusivity.to_bits() == 1e-3_f64.to_bits() {
                as_printed("V-18 when", closed_s / unit_s, printed, decimals);
            }
            let (reach, at_s) = (0..1_000)
                .map(|i| 1e-3 * closed_s * 1e6_f64.powf(f64::from(i) / 999.0))
                .map(|t| (reach_m(&plume, t, threshold), t))
                .fold((0.0, 0.0), |most, next| if next.0 > most.0 { next } else { most });
            let off = near("V-18 largest reach [m]", reach, closed_m, 1e-4);
            near("V-18 when it is reached [s]", at_s, closed_s, 0.03);
            println!("V-18 K = {diffusivity}: {reach:.5} m at {at_s:.1} s, off by {off:.1e}");
            largest = largest.max((reach / closed_m - 1.0).abs());
        }
    }
    measured!("V-18", "{largest:.1e} off at the most");
}
