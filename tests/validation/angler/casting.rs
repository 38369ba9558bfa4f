//! Where casts land: their error in both directions, in wind, and by the weight of the rig.

use sim::angler::{AnglerParams, cast};
use sim::engine::Dice;
use sim::scenario::read;
use sim::water::{Chart, Point};

use crate::evidence::{LargestScore, mean_is, within_z};
use crate::measured::measured;

const CASTS: usize = 40_000;

/// A water without features, wide enough that no cast leaves it.
fn open_water() -> Chart {
    const WATER: &str = r#"
        title = "An invented water without a feature"
        water.width = "200 m"
        water.length = "200 m"
        line.only.distance = "30 m"
        shoal.some.home = "only"
        plan.only.recast = "5 min"
    "#;
    read(WATER, "invented", &[]).expect("a valid scenario").chart
}

/// Errors along and across the cast, to a mark 30 m out and 10 m to the right [m].
fn errors(seed: u64, rig_kg: f64, wind_m_s: f64) -> (Vec<f64>, Vec<f64>) {
    let (mark, chart, params) =
        (Point { x_m: 10.0, y_m: 30.0 }, open_water(), AnglerParams::central());
    let (ux, uy) = (mark.x_m / 1000_f64.sqrt(), mark.y_m / 1000_f64.sqrt());
    let mut dice = Dice::from_key(&[seed]);
    (0..CASTS)
        .map(|_| {
            let at = cast(mark, rig_kg, wind_m_s, &chart, &params, &mut dice).at;
            let (dx, dy) = (at.x_m - mark.x_m, at.y_m - mark.y_m);
            (dx * ux + dy * uy, dy * ux - dx * uy)
        })
        .unzip()
}

/// V-170: a cast errs long as often as short and to either side, with the book's spread; wind adds to the spread in
/// proportion, and a rig of four times the weight halves what it adds.
///
/// Errors are normal, so the variance of n of them has a standard error of √(2/n) of itself.
#[test]
fn casts_err_both_ways_more_in_wind_and_less_with_a_heavy_rig() {
    let params = AnglerParams::central();
    let calm_m = params.cast_spread_share * 1000_f64.sqrt();
    let mut largest = LargestScore::default();
    for (seed, rig_kg, wind_m_s, wind_factor) in [
        (17_001, 0.03, 0.0, 0.0),
        (17_002, 0.12, 0.0, 0.0),
        (17_003, 0.03, 6.0, 1.0),
        (17_004, 0.03, 12.0, 2.0),
        (17_005, 0.12, 12.0, 1.0),
    ] {
        let spread_m = calm_m * (1.0 + params.wind_cast_s_per_m * 6.0 * wind_factor);
        let (along, across) = errors(seed, rig_kg, wind_m_s);
        for (what, errors) in [("along", along), ("across", across)] {
            let what = format!("V-170 {what}, {rig_kg} kg in {wind_m_s} m/s");
            largest.add(mean_is(&what, &errors, 0.0));
            let longer: Vec<f64> = errors.iter().map(|&m| f64::from(u8::from(m > 0.0))).collect();
            largest.add(mean_is(&format!("{what}: share beyond"), &longer, 0.5));
            let n = errors.len() as f64;
            let variance = errors.iter().map(|m| m * m).sum::<f64>() / n;
            let error = spread_m * spread_m * (2.0 / n).sqrt();
            let what = format!("{what}: variance [m²]");
            largest.add(within_z(&what, variance, spread_m * spread_m, error));
        }
    }
    measured!("V-170", "{largest}");
}
