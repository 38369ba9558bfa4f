//! Pictures: nothing is cut, nothing overlaps, nothing breaks.

use std::path::Path;
use std::sync::Arc;

use resvg::usvg::fontdb::Database;
use resvg::usvg::{Group, Node, Options, Rect, Tree};
use sim::report::{BACKGROUND, PALETTE, VaryCurve, png, vary_chart_svg, weight_curve_svg};
use sim::scenario::Units::{Imperial, Metric};
use sim::study::Comparison;

use super::sample::{comparison, curve, four, plan, two};

/// The picture read with the embedded fonts alone.
fn read(svg: &str) -> Tree {
    let mut fonts = Database::new();
    for name in ["DejaVuSans-subset.ttf", "DejaVuSans-Bold-subset.ttf"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sim/report/font").join(name);
        fonts.load_font_data(std::fs::read(path).expect("the font is there"));
    }
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    Tree::from_str(svg, &options).unwrap_or_else(|error| panic!("{error}: {svg}"))
}

/// Every text with its box.
fn texts(group: &Group, found: &mut Vec<(String, Rect)>) {
    for node in group.children() {
        match node {
            Node::Group(group) => texts(group, found),
            Node::Text(text) => {
                let says: String = text.chunks().iter().map(|chunk| chunk.text()).collect();
                found.push((says, text.abs_bounding_box()));
            }
            _ => {}
        }
    }
}

/// Panics if a text reaches out of the picture or into another.
fn holds_together(what: &str, svg: &str) -> Vec<String> {
    let tree = read(svg);
    let mut found = Vec::new();
    texts(tree.root(), &mut found);
    for (says, place) in &found {
        assert!(
            place.left() >= 0.0
                && place.top() >= 0.0
                && place.right() <= tree.size().width()
                && place.bottom() <= tree.size().height(),
            "{what}: {says:?} at {place:?} reaches out of {:?}",
            tree.size()
        );
    }
    for (at, (a, place)) in found.iter().enumerate() {
        for (b, other) in &found[at + 1..] {
            // Boxes reach from ascender to descender; a tenth of a point of overlap is rounding.
            let apart = place.right() <= other.left() + 0.1
                || other.right() <= place.left() + 0.1
                || place.bottom() <= other.top() + 0.1
                || other.bottom() <= place.top() + 0.1;
            assert!(apart, "{what}: {a:?} at {place:?} and {b:?} at {other:?} overlap");
        }
    }
    found.into_iter().map(|(says, _)| says).collect()
}

/// Comparisons that try a picture.
fn comparisons() -> Vec<(&'static str, Comparison)> {
    let same = |count: usize| {
        let plans = (0..count).map(|k| plan(&format!("same-{k}"), 7.0, 0.7, 1.3));
        comparison(plans.collect(), 1.0)
    };
    let long = "a-plan-with-a-name-that-goes-on-and-on-until-nobody-reads-on";
    let mut short = two();
    for plan in &mut short.plans {
        for point in &mut plan.curve {
            point.minute /= 6.0;
        }
    }
    let mut broken = two();
    broken.plans[0].curve.clear();
    broken.plans[1].curve[30].p90_kg = f64::NAN;
    let mut spread = same(8);
    for (k, plan) in spread.plans.iter_mut().enumerate() {
        for point in &mut plan.curve {
            let scale = 0.3 + 0.1 * k as f64;
            point.mean_kg *= scale;
            point.p10_kg *= scale;
            point.p90_kg *= scale;
        }
    }
    vec![
        ("two", two()),
        ("four", four()),
        ("eight-same", same(8)),
        ("eight-apart", spread),
        ("thirty-same", same(30)),
        ("one", same(1)),
        ("none", same(0)),
        ("half-hour-sessions", short),
        ("broken-curves", broken),
        (
            "nothing-caught",
            comparison((0..3).map(|k| plan(&format!("blank-{k}"), 0.0, 0.7, 1.0)).collect(), 0.0),
        ),
        ("huge", comparison(vec![plan("a", 900.0, 0.9, 12.0), plan("b", 800.0, 0.9, 12.0)], 9.0)),
        (
            "long-names",
            comparison(
                vec![
                    plan(long, 7.0, 0.7, 1.3),
                    plan(&"w".repeat(60), 6.9, 0.7, 1.3),
                    plan(
                        "long words and many of them so that a label has to be folded",
                        3.0,
                        0.7,
                        1.3,
                    ),
                ],
                1.0,
            ),
        ),
        (
            "odd-names",
            comparison(
                vec![
                    plan("<b>&\"'</b>", 7.0, 0.7, 1.3),
                    plan("żółw Ωμέγα карп", 6.0, 0.7, 1.3),
                    plan("鯉 🐟", 5.0, 0.7, 1.3),
                    plan("two\nlines\u{1}", 4.0, 0.7, 1.3),
                    plan("", 3.0, 0.7, 1.3),
                ],
                1.0,
            ),
        ),
    ]
}

/// Curves that try a picture.
fn curves() -> Vec<(&'static str, VaryCurve)> {
    let with = |change: fn(&mut VaryCurve)| {
        let mut changed = curve(true);
        change(&mut changed);
        changed
    };
    vec![
        ("log", curve(true)),
        ("linear", curve(false)),
        ("one-point", with(|curve| curve.points.truncate(1))),
        ("no-point", with(|curve| curve.points.clear())),
        ("best-at-the-end", with(|curve| curve.points.truncate(4))),
        (
            "nothing-caught",
            with(|curve| {
                for point in &mut curve.points {
                    (point.mean_kg, point.p10_kg, point.p90_kg) = (0.0, 0.0, 0.0);
                    (point.low95_kg, point.high95_kg) = (0.0, 0.0);
                }
            }),
        ),
        (
            "no-effect",
            with(|curve| {
                for point in &mut curve.points {
                    point.mean_kg = 20.0;
                }
            }),
        ),
        ("log-of-nought", with(|curve| curve.points[0].value = 0.0)),
        (
            "equal-values",
            with(|curve| {
                for point in &mut curve.points {
                    point.value = 3.0;
                }
            }),
        ),
        (
            "odd-names",
            with(|curve| {
                curve.plan = "<&> a plan with a name of sixty characters, more or less so".into();
                curve.axis =
                    "an axis whose words are far too many to stand in one line of it [min]".into();
                curve.points[4].label =
                    "a label that is longer than the picture is wide, or nearly".into();
                curve.points[2].low95_kg = f64::NAN;
            }),
        ),
    ]
}

#[test]
fn texts_stay_inside_the_picture_and_clear_of_each_other() {
    for (what, compared) in comparisons() {
        for units in [Imperial, Metric] {
            holds_together(what, &weight_curve_svg(&compared, units));
        }
    }
    for (what, curve) in curves() {
        for units in [Imperial, Metric] {
            holds_together(what, &vary_chart_svg(&curve, units));
        }
    }
}

#[test]
fn every_plan_is_named_beside_its_curve() {
    let says = holds_together("four", &weight_curve_svg(&four(), Imperial));
    for name in ["one-minute", "two-minutes", "four-minutes", "ten-minutes", "62 lb 13 oz"] {
        assert!(says.iter().any(|text| text == name), "{name} is not in {says:?}");
    }
    assert!(says.iter().any(|text| text == "Expected weight, 400 days"), "{says:?}");
    assert!(says.iter().any(|text| text == "hours from the start"), "{says:?}");
    assert!(says.iter().any(|text| text == "lb"), "{says:?}");
}

#[test]
fn plans_left_without_a_label_are_counted() {
    let (_, many) = &comparisons()[4];
    let says = holds_together("thirty", &weight_curve_svg(many, Metric));
    let labelled = says.iter().filter(|text| text.starts_with("same-")).count();
    let rest = format!("and {} more", 30 - labelled);
    assert!(says.contains(&rest), "{rest:?} is not in {says:?}");
}

#[test]
fn names_are_escaped() {
    let odd = comparison(vec![plan("<script>&", 7.0, 0.7, 1.3)], 1.0);
    let svg = weight_curve_svg(&odd, Metric);
    assert!(!svg.contains("<script"), "an unescaped name");
    let says = holds_together("odd", &svg);
    assert!(says.iter().any(|text| text == "<script>&"), "{says:?}");
}

#[test]
fn a_picture_has_the_size_and_ground_it_says() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    for (what, compared) in comparisons() {
        let svg = weight_curve_svg(&compared, Imperial);
        look_at(&folder, &format!("weight-{what}"), &svg, [360, 720], 0.75);
    }
    for (what, curve) in curves() {
        let svg = vary_chart_svg(&curve, Imperial);
        look_at(&folder, &format!("vary-{what}"), &svg, [360, 560], 420.0 / 560.0);
    }
}

/// Leaves a picture at two widths for people to look at, and checks its size and corner.
fn look_at(folder: &Path, name: &str, svg: &str, widths_px: [u32; 2], shape: f64) {
    std::fs::write(folder.join(format!("{name}.svg")), svg).expect("a picture is kept");
    for width_px in widths_px {
        let bytes = png(svg, width_px).expect("a sound picture");
        let image = resvg::tiny_skia::Pixmap::decode_png(&bytes).expect("a sound PNG");
        let height_px = (f64::from(width_px) * shape).round() as u32;
        assert_eq!((image.width(), image.height()), (width_px, height_px), "{name}");
        let corner = image.pixel(0, 0).expect("a corner");
        let corner = (corner.red(), corner.green(), corner.blue(), corner.alpha());
        let (r, g, b) = BACKGROUND;
        assert_eq!(corner, (r, g, b, 255), "{name}");
        std::fs::write(folder.join(format!("{name}-{width_px}.png")), bytes).expect("kept");
    }
}

#[test]
fn a_picture_that_cannot_be_made_is_an_error() {
    assert!(png("not a picture", 100).is_err());
    let svg = weight_curve_svg(&two(), Metric);
    for width_px in [0, 1_000_000] {
        let error = png(&svg, width_px).expect_err("no such size");
        assert!(error.to_string().contains("px wide"), "{error}");
    }
}

#[test]
fn equal_input_gives_equal_pictures() {
    assert_eq!(weight_curve_svg(&four(), Metric), weight_curve_svg(&four(), Metric));
}

/// Lightness and colour as the eye sees them (CIE L*a*b*, D65) from linear light.
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

#[test]
fn colours_are_told_apart_by_every_eye() {
    // Machado, Oliveira and Fernandes (2009), full severity, on linear light; rows give red, green, blue.
    let eyes = [
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
    for (eye, matrix) in eyes {
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
                // A difference of about 2 is just seen side by side; five times that between thin lines.
                assert!(
                    gap.sqrt() > 10.0,
                    "{eye}: colours {a} and {b} are {:.1} apart",
                    gap.sqrt()
                );
            }
        }
    }
}
