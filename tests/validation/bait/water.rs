//! The water's density, viscosity and return flow against published values.

use sim::water::{fluid_at, mean_layer_flow, return_flow_profile};

use crate::evidence::{as_printed, integral, near};
use crate::measured::measured;

/// Temperature [°C], density [kg/m³], dynamic viscosity [mPa·s], kinematic viscosity [mm²/s] at one
/// atmosphere: IAPWS-95 (Wagner & Pruss 2002, J. Phys. Chem. Ref. Data 31:387) and the IAPWS viscosity of
/// 2008 (Huber et al. 2009, J. Phys. Chem. Ref. Data 38:101), computed with an independent program.
const IAPWS: [[f64; 4]; 7] = [
    [0.01, 999.844, 1.7911, 1.7914],
    [5.0, 999.967, 1.5182, 1.5182],
    [10.0, 999.703, 1.3059, 1.3063],
    [15.0, 999.103, 1.1376, 1.1386],
    [20.0, 998.207, 1.0016, 1.0034],
    [25.0, 997.048, 0.8900, 0.8927],
    [30.0, 995.650, 0.7972, 0.8007],
];

/// V-11: to a ten-thousandth, as both formulas are fits to the same measurements.
#[test]
fn water_has_the_density_and_viscosity_of_iapws() {
    let mut largest = [0.0_f64; 3];
    for [temperature_c, density, dynamic, kinematic] in IAPWS {
        let fluid = fluid_at(temperature_c);
        let at = format!("V-11 at {temperature_c} °C");
        let off = [
            near(&format!("{at}, density"), fluid.density_kg_m3, density, 1e-4),
            near(&format!("{at}, viscosity"), fluid.viscosity_pa_s, 1e-3 * dynamic, 1e-4),
            near(&format!("{at}, kinematic"), fluid.kinematic_m2_s(), 1e-6 * kinematic, 1e-4),
        ];
        largest.iter_mut().zip(off).for_each(|(largest, off)| *largest = largest.max(off));
    }
    let [density, viscosity, kinematic] = largest;
    measured!(
        "V-11",
        "density within {density:.0e}, viscosity within {viscosity:.0e}, kinematic within {kinematic:.0e}"
    );
}

/// V-11: water is densest near 4 °C (3.98 °C, textbook value).
#[test]
fn water_is_densest_near_four_degrees() {
    let densest = (0..1_000)
        .map(|i| 0.01 * f64::from(i))
        .max_by(|a, b| fluid_at(*a).density_kg_m3.total_cmp(&fluid_at(*b).density_kg_m3));
    let densest_c = densest.unwrap_or(0.0);
    as_printed("V-11 temperature of greatest density", densest_c, 3.98, 1);
    measured!("V-11", "densest at {densest_c:.2} °C");
}

/// V-12: points of the published profile, and no net transport.
#[test]
fn the_return_flow_has_its_published_profile() {
    for (s, flow) in
        [(0.0, 1.0), (-1.0 / 3.0, 0.0), (-0.5, -0.25), (-2.0 / 3.0, -1.0 / 3.0), (-1.0, 0.0)]
    {
        assert!(
            (return_flow_profile(s) - flow).abs() < 1e-12,
            "V-12: {} at s = {s}, not {flow}",
            return_flow_profile(s)
        );
    }
    // The trapezoidal rule has an error of (b − a) f″ step²/12 = 0.5 · 10⁻⁸ for this parabola.
    let net = integral(-1.0, 0.0, 10_000, return_flow_profile);
    assert!(net.abs() < 6e-9, "V-12: net transport {net}");
}

/// V-12: the flow of a layer is the mean of the profile over it, integrated numerically.
#[test]
fn the_flow_of_a_layer_is_the_mean_of_the_profile() {
    for tenth in 1..=10 {
        let share = 0.1 * f64::from(tenth);
        let mean = integral(-1.0, share - 1.0, 10_000, return_flow_profile) / share;
        let flow = mean_layer_flow(share);
        assert!((flow - mean).abs() < 6e-9, "V-12: layer of {share}: {flow} against {mean}");
    }
}
