//! Colours of plans: different in every kind of colour vision.

use sim::report::{BACKGROUND, HEAT_RAMP, PALETTE};

/// Lightness and colour as perceived (CIE L*a*b*, D65), from linear light.
fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
    let f =
        |t: f64| if t > 216.0 / 24_389.0 { t.cbrt() } else { (24_389.0 / 27.0 * t + 16.0) / 116.0 };
    let x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
    let y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
    let z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// Linear light of a colour.
fn linear((r, g, b): (u8, u8, u8)) -> [f64; 3] {
    [r, g, b].map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    })
}

/// The change of linear light by each kind of colour vision.
///
/// Machado, Oliveira and Fernandes (2009), full severity; rows give red, green, blue.
const EYES: [(&str, [[f64; 3]; 3]); 4] = [
    ("full", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protan",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deutan",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritan",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

#[test]
fn the_colours_of_a_map_grow_lighter_in_every_kind_of_colour_vision() {
    for (eye, matrix) in EYES {
        let lightness = HEAT_RAMP.map(|colour| {
            let light = linear(colour);
            let seen = matrix.map(|row| row.iter().zip(light).map(|(m, l)| m * l).sum::<f64>());
            lab(seen.map(|part| part.clamp(0.0, 1.0)))[0]
        });
        // A difference of about 2 is just visible side by side.
        let rises = lightness.windows(2).all(|two| two[1] - two[0] > 4.0);
        assert!(rises, "{eye}: {lightness:?}");
    }
}

#[test]
fn colours_of_plans_differ_in_every_kind_of_colour_vision() {
    for (eye, matrix) in EYES {
        let seen: Vec<[f64; 3]> = PALETTE
            .iter()
            .chain([&BACKGROUND])
            .map(|&colour| {
                let light = linear(colour);
                lab(matrix.map(|row| {
                    let sum: f64 = row.iter().zip(light).map(|(m, l)| m * l).sum();
                    sum.clamp(0.0, 1.0)
                }))
            })
            .collect();
        for (a, one) in seen.iter().enumerate() {
            for (b, other) in seen.iter().enumerate().skip(a + 1) {
                let gap: f64 = one.iter().zip(other).map(|(p, q)| (p - q).powi(2)).sum();
                // A difference of about 2 is just visible side by side; five times that is needed between thin
                // lines.
                assert!(
                    gap.sqrt() > 10.0,
                    "{eye}: colours {a} and {b} are {:.1} apart",
                    gap.sqrt()
                );
            }
        }
    }
}
