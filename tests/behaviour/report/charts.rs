//! Charts: nothing is cut off, nothing overlaps, and every input can be drawn.

use std::path::Path;
use std::sync::Arc;

use resvg::usvg::fontdb::Database;
use resvg::usvg::{Group, Node, Options, Rect, Tree};
use sim::report::{BACKGROUND, ResponseCurve, png, response_curve_svg, weight_curve_svg};
use sim::scenario::Units::{Imperial, Metric};
use sim::stats::Interval;
use sim::study::Comparison;

use super::sample::{comparison, curve, four, plan, two, unbroken};

/// The chart, parsed with the embedded fonts only.
fn read(svg: &str) -> Tree {
    let mut fonts = Database::new();
    for name in ["DejaVuSans-subset.ttf", "DejaVuSans-Bold-subset.ttf"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sim/report/draw/font").join(name);
        fonts.load_font_data(std::fs::read(path).expect("the font is there"));
    }
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    Tree::from_str(svg, &options).unwrap_or_else(|error| panic!("{error}: {svg}"))
}

/// Every text with its bounding box.
fn texts(group: &Group, result: &mut Vec<(String, Rect)>) {
    for node in group.children() {
        match node {
            Node::Group(group) => texts(group, result),
            Node::Text(text) => {
                let texts: String = text.chunks().iter().map(|chunk| chunk.text()).collect();
                result.push((texts, text.abs_bounding_box()));
            }
            _ => {}
        }
    }
}

/// Panics if a text extends beyond the chart or overlaps another.
pub(crate) fn check_layout(what: &str, svg: &str) -> Vec<String> {
    let tree = read(svg);
    let mut result = Vec::new();
    texts(tree.root(), &mut result);
    for (texts, place) in &result {
        assert!(
            place.left() >= 0.0
                && place.top() >= 0.0
                && place.right() <= tree.size().width()
                && place.bottom() <= tree.size().height(),
            "{what}: {texts:?} at {place:?} extends beyond {:?}",
            tree.size()
        );
    }
    for (at, (a, place)) in result.iter().enumerate() {
        for (b, other) in &result[at + 1..] {
            // Boxes extend from ascender to descender; an overlap of a tenth of a point is rounding.
            let apart = place.right() <= other.left() + 0.1
                || other.right() <= place.left() + 0.1
                || place.bottom() <= other.top() + 0.1
                || other.bottom() <= place.top() + 0.1;
            assert!(apart, "{what}: {a:?} at {place:?} and {b:?} at {other:?} overlap");
        }
    }
    result.into_iter().map(|(texts, _)| texts).collect()
}

/// Comparisons that are hard to draw.
fn comparisons() -> Vec<(&'static str, Comparison)> {
    let same = |count: usize| {
        let plans = (0..count).map(|k| plan(&format!("same-{k}"), 7.0, 0.7, 1.3));
        comparison(plans.collect(), 1.0)
    };
    let long = "a-plan-with-a-name-that-goes-on-and-on-until-nobody-reads-on";
    let mut short = two();
    for plan in &mut short.plans {
        for point in &mut plan.curve {
            point.minute /= 10.0;
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

/// Curves that are hard to draw.
fn curves() -> Vec<(&'static str, ResponseCurve)> {
    let with = |change: fn(&mut ResponseCurve)| {
        let mut changed = curve(true);
        change(&mut changed);
        changed
    };
    vec![
        ("log", curve(true)),
        ("linear", curve(false)),
        (
            "seconds",
            with(|curve| {
                curve.axis = "plan.steady.recast [s]".to_owned();
                for point in &mut curve.points {
                    point.value *= 60.372_541;
                    point.label = format!("{} s", point.value);
                }
            }),
        ),
        ("one-point", with(|curve| curve.points.truncate(1))),
        ("no-point", with(|curve| curve.points.clear())),
        ("best-at-the-end", with(|curve| curve.points.truncate(4))),
        (
            "nothing-caught",
            with(|curve| {
                for point in &mut curve.points {
                    (point.mean_kg, point.p10_kg, point.p90_kg) = (0.0, 0.0, 0.0);
                    point.interval_kg = Some(Interval { low: 0.0, high: 0.0 });
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
                curve.points[2].interval_kg = None;
            }),
        ),
    ]
}

#[test]
fn texts_stay_inside_the_chart_and_do_not_overlap() {
    for (what, compared) in comparisons() {
        for units in [Imperial, Metric] {
            check_layout(what, &weight_curve_svg(&compared, units));
        }
    }
    for (what, curve) in curves() {
        for units in [Imperial, Metric] {
            check_layout(what, &response_curve_svg(&curve, units));
        }
    }
}

#[test]
fn every_plan_is_named_next_to_its_curve() {
    let texts = check_layout("four", &weight_curve_svg(&four(), Imperial));
    for name in
        ["one-minute", "two-minutes", "four-minutes", "ten-minutes", &unbroken("62 lb 13 oz")]
    {
        assert!(texts.iter().any(|text| text == name), "{name} is not in {texts:?}");
    }
    assert!(texts.iter().any(|text| text == "Expected weight, 400 days"), "{texts:?}");
    assert!(texts.iter().any(|text| text == "hours from the start"), "{texts:?}");
    assert!(texts.iter().any(|text| text == "lb"), "{texts:?}");
}

#[test]
fn long_names_are_whole_as_long_as_there_is_room_and_never_alike() {
    let named = |name: fn(usize) -> String, count: usize| {
        let plans = (0..count).map(|k| plan(&name(k), 7.0 + 0.01 * k as f64, 0.7, 1.3));
        check_layout("long names", &weight_curve_svg(&comparison(plans.collect(), 1.0), Metric))
    };
    let words = |texts: &[String]| texts.join("");
    let few = named(|k| format!("from-the-bar-to-the-margin-after-{k}-hours"), 8);
    for k in 0..8 {
        let name = format!("from-the-bar-to-the-margin-after-{k}-hours");
        assert!(words(&few).contains(&name), "{name} is not whole in {few:?}");
    }
    // No room for all of it: what tells the plans apart stands at the end or at the beginning, and is kept.
    for name in [
        |k: usize| format!("{}-after-{k}-h", "from-the-bar-to-the-margin".repeat(5)),
        |k: usize| format!("{k}-h-{}", "from-the-bar-to-the-margin".repeat(5)),
    ] {
        let texts = named(name, 12);
        for k in 0..12 {
            let kept = texts.iter().filter(|text| text.contains(&format!("{k}-h"))).count();
            assert!(kept >= 1, "nothing tells plan {k} apart in {texts:?}");
        }
    }
}

#[test]
fn more_than_two_bands_do_not_cover_each_other() {
    let bands = |compared: &Comparison| {
        let svg = weight_curve_svg(compared, Metric);
        svg.lines().filter(|line| line.starts_with("<polygon fill-opacity=\"0.")).count()
    };
    assert_eq!(bands(&two()), 2);
    assert_eq!(bands(&four()), 1);
}

#[test]
fn plans_left_without_a_label_are_counted() {
    let (_, many) = &comparisons()[4];
    let texts = check_layout("thirty", &weight_curve_svg(many, Metric));
    let labelled = texts.iter().filter(|text| text.starts_with("same-")).count();
    let rest = format!("and {} more", 30 - labelled);
    assert!(texts.contains(&rest), "{rest:?} is not in {texts:?}");
}

#[test]
fn an_empty_chart_says_why() {
    for (what, expected) in
        [("none", "No plan was fished."), ("nothing-caught", "Nothing was caught.")]
    {
        let all = comparisons();
        let (_, compared) = all.iter().find(|(name, _)| *name == what).expect("it is there");
        let texts = check_layout(what, &weight_curve_svg(compared, Imperial));
        assert!(texts.iter().any(|text| text == expected), "{what}: {texts:?}");
    }
    for (what, expected) in [
        ("no-point", "No value was fished."),
        ("nothing-caught", "Nothing was caught at any value."),
        ("no-effect", "This value makes no difference to this plan."),
    ] {
        let all = curves();
        let (_, curve) = all.iter().find(|(name, _)| *name == what).expect("it is there");
        let texts = check_layout(what, &response_curve_svg(curve, Imperial));
        assert!(texts.iter().any(|text| text == expected), "{what}: {texts:?}");
    }
}

#[test]
fn long_times_are_in_minutes_at_round_marks() {
    let all = curves();
    let (_, seconds) = all.iter().find(|(name, _)| *name == "seconds").expect("it is there");
    let texts = check_layout("seconds", &response_curve_svg(seconds, Imperial));
    for expected in ["recast [min]", "1", "2", "5", "10", "20"] {
        assert!(texts.iter().any(|text| text == expected), "{expected} is not in {texts:?}");
    }
    assert!(
        texts.iter().any(|text| text.starts_with(&unbroken("best mean: 2 min 31 s, "))),
        "{texts:?}"
    );
}

#[test]
fn a_short_session_is_in_minutes() {
    let all = comparisons();
    let (_, short) =
        all.iter().find(|(name, _)| *name == "half-hour-sessions").expect("it is there");
    let texts = check_layout("short", &weight_curve_svg(short, Metric));
    assert!(texts.iter().any(|text| text == "minutes from the start"), "{texts:?}");
    assert!(texts.iter().any(|text| text == "30"), "{texts:?}");
}

#[test]
fn a_point_without_deciles_leaves_the_band_unchanged() {
    let whole = two();
    let mut dented = two();
    dented.plans[1].curve[30].p90_kg = f64::NAN;
    // The band is the first area after the background; its lowest and highest points must not change.
    let reach = |compared: &Comparison| {
        let svg = weight_curve_svg(compared, Metric);
        let at = svg.find("<polygon").expect("a band");
        let points = svg[at..].split("points=\"").nth(1).and_then(|rest| rest.split('"').next());
        let places: Vec<f64> = points
            .expect("its places")
            .split_whitespace()
            .filter_map(|place| place.split(',').nth(1)?.parse().ok())
            .collect();
        assert!(places.len() > 50, "{places:?}");
        // The upper edge never falls, since it is a cumulative weight.
        let upper = &places[..places.len() / 2];
        assert!(upper.is_sorted_by(|a, b| a >= b), "{upper:?}");
    };
    reach(&whole);
    reach(&dented);
}

#[test]
fn names_are_escaped() {
    let odd = comparison(vec![plan("<script>&", 7.0, 0.7, 1.3)], 1.0);
    let svg = weight_curve_svg(&odd, Metric);
    assert!(!svg.contains("<script"), "an unescaped name");
    let texts = check_layout("odd", &svg);
    assert!(texts.iter().any(|text| text == "<script>&"), "{texts:?}");
}

#[test]
fn a_png_has_the_size_and_background_of_its_chart() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    for (what, compared) in comparisons() {
        let svg = weight_curve_svg(&compared, Imperial);
        write_pictures(&folder, &format!("weight-{what}"), &svg, [360, 720], 0.75);
    }
    for (what, curve) in curves() {
        let svg = response_curve_svg(&curve, Imperial);
        write_pictures(&folder, &format!("vary-{what}"), &svg, [360, 560], 420.0 / 560.0);
    }
}

/// Writes a chart as PNG in several widths for people to look at, and checks size and corner.
pub(crate) fn write_pictures(
    folder: &Path,
    name: &str,
    svg: &str,
    widths_px: [u32; 2],
    shape: f64,
) {
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
fn a_chart_that_cannot_be_drawn_is_an_error() {
    assert!(png("not a picture", 100).is_err());
    let svg = weight_curve_svg(&two(), Metric);
    for width_px in [0, 1_000_000] {
        let error = png(&svg, width_px).expect_err("no such size");
        assert!(error.to_string().contains("px wide"), "{error}");
    }
}

#[test]
fn equal_input_gives_equal_charts() {
    assert_eq!(weight_curve_svg(&four(), Metric), weight_curve_svg(&four(), Metric));
}
