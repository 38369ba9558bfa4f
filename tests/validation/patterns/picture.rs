//! One page that shows the main patterns: `tests/pictures/patterns.svg`.

use std::fs;
use std::ops::Range;

use plotters::prelude::*;
use sim::session::Event;

use super::appetite::eaten_kg;
use super::gathering::shares;
use super::sessions::{days, watched, weights_kg};
use crate::demo::demo;
use crate::evidence::{mean, standard_error};

/// The drawing is this many times finer than it is shown, since its coordinates are whole numbers.
const FINE: u32 = 4;
const WIDTH: u32 = 900;
const HEIGHT: u32 = 960;
const INK: RGBColor = RGBColor(32, 36, 40);
const GRID: RGBColor = RGBColor(222, 220, 214);
const PAPER: RGBColor = RGBColor(252, 251, 248);
const LINE: RGBColor = RGBColor(20, 92, 128);
const FONT: &str = "DejaVu Sans";

/// A point with its 95 % interval.
type Measured = (f64, f64, f64);

/// The content of one panel.
struct Panel {
    title: &'static str,
    across: &'static str,
    up: &'static str,
    x: Range<f64>,
    y: Range<f64>,
    /// Whether x is the logarithm to base 2 of its label.
    doubling: bool,
    points: Vec<Measured>,
    /// A straight line for comparison, by its ends.
    beside: Option<[(f64, f64); 2]>,
    bars: bool,
}

fn measured(x: f64, sample: &[f64]) -> Measured {
    (x, mean(sample), 1.96 * standard_error(sample))
}

fn weights(plan: &str, key: &str, unit: &str, values: &[f64]) -> Vec<Measured> {
    values
        .iter()
        .map(|value| {
            let water = demo(&[&format!("plan.{plan}.{key}={value} {unit}")]);
            measured(value.log2(), &weights_kg(&water, plan, 200))
        })
        .collect()
}

/// Takes in each half-minute after the load began to open, averaged over days.
fn bite_times() -> Vec<Measured> {
    let water = demo(&[]);
    let plan = water.plans.iter().position(|plan| plan.name == "ten-minutes").expect("a plan");
    let of_days = days(&water, 200, |day| {
        let (mut opened_s, mut bites) = (0.0, [0.0; 20]);
        for (at, event) in watched(&water, plan, day).0 {
            match event {
                Event::LoadOpens { .. } => opened_s = at.seconds(),
                Event::FishTakes { .. } => {
                    let bin = ((at.seconds() - opened_s) / 30.0) as usize;
                    bites[bin.min(19)] += 1.0;
                }
                _ => {}
            }
        }
        bites
    });
    let bin = |bin: usize| of_days.iter().map(|bites| bites[bin]).collect::<Vec<f64>>();
    (0..16).map(|n| measured(0.5 * n as f64, &bin(n))).collect()
}

fn panels() -> Vec<Panel> {
    let matching = [1.0, 2.0, 4.0, 9.0]
        .map(|ratio| {
            let (left, right): (Vec<f64>, Vec<f64>) = shares(ratio, 200).into_iter().unzip();
            let relative = |side: &[f64]| standard_error(side) / mean(side);
            let error = 1.96 * relative(&left).hypot(relative(&right)) / f64::ln(2.0);
            (f64::log2(ratio), (mean(&left) / mean(&right)).log2(), error)
        })
        .to_vec();
    let dome = [4.0, 7.0, 10.0, 13.0, 16.0, 19.0, 22.0, 25.0, 28.0, 31.0, 34.0]
        .map(|c| measured(c, &eaten_kg(c)))
        .to_vec();
    let panel = |title, across, up, x: Range<f64>, y: Range<f64>, points| Panel {
        title,
        across,
        up,
        x,
        y,
        doubling: true,
        points,
        beside: None,
        bars: false,
    };
    vec![
        Panel {
            doubling: false,
            bars: true,
            ..panel(
                "Bites come soon after the load opens",
                "minutes since it began to open",
                "bites a session",
                0.0..8.0,
                0.0..10.0,
                bite_times(),
            )
        },
        panel(
            "Near cover: recast every …",
            "minutes",
            "kg a session",
            -1.2..4.2,
            0.0..50.0,
            weights(
                "two-minutes",
                "recast",
                "min",
                &[0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 8.0, 14.0],
            ),
        ),
        panel(
            "Open water: recast every …",
            "minutes",
            "kg a session",
            -0.2..5.0,
            0.0..30.0,
            weights(
                "open-pellets",
                "recast",
                "min",
                &[1.0, 1.5, 2.5, 4.0, 6.0, 8.0, 12.0, 18.0, 28.0],
            ),
        ),
        panel(
            "Open water: loose feed every 3 min of …",
            "grams",
            "kg a session",
            -1.2..7.2,
            0.0..30.0,
            weights(
                "open-pellets",
                "feed.open.amount",
                "g",
                &[0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0],
            ),
        ),
        Panel {
            beside: Some([(0.0, 0.0), (3.4, 3.4)]),
            ..panel(
                "Two lines fed r : 1 (line: as 1 : 1 would match)",
                "r",
                "fish, left over right",
                -0.2..3.5,
                -0.3..3.5,
                matching,
            )
        },
        Panel {
            doubling: false,
            ..panel(
                "Feed eaten with plenty there",
                "water, °C",
                "kg a session",
                2.0..36.0,
                0.0..4.5,
                dome,
            )
        },
    ]
}

fn draw(area: &DrawingArea<SVGBackend<'_>, plotters::coord::Shift>, panel: &Panel) {
    let size = |px: u32| (px * FINE) as i32;
    let style = |px: u32| (FONT, f64::from(px * FINE)).into_font().color(&INK);
    let mut chart = ChartBuilder::on(area)
        .caption(panel.title, style(15))
        .margin(size(10))
        .x_label_area_size(size(38))
        .y_label_area_size(size(50))
        .build_cartesian_2d(panel.x.clone(), panel.y.clone())
        .expect("a panel has room");
    let written = |doubling: bool, x: f64| {
        if !doubling {
            return format!("{x:.0}");
        }
        let value = x.exp2();
        if value < 1.0 { format!("{value:.1}") } else { format!("{value:.0}") }
    };
    let plain_y = panel.beside.is_none();
    chart
        .configure_mesh()
        .x_desc(panel.across)
        .y_desc(panel.up)
        .x_labels(if panel.doubling { 7 } else { 9 })
        .y_labels(6)
        .x_label_formatter(&|x| written(panel.doubling, *x))
        .y_label_formatter(&|y| written(!plain_y, *y))
        .label_style(style(12))
        .axis_desc_style(style(12))
        .axis_style(INK.stroke_width(FINE))
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID.stroke_width(FINE))
        .draw()
        .expect("a mesh");
    if let Some(ends) = panel.beside {
        chart.draw_series(LineSeries::new(ends, INK.stroke_width(FINE))).expect("a line");
    }
    if panel.bars {
        let bars = panel
            .points
            .iter()
            .map(|&(x, y, _)| Rectangle::new([(x + 0.04, 0.0), (x + 0.46, y)], LINE.filled()));
        chart.draw_series(bars).expect("bars");
        return;
    }
    let line = panel.points.iter().map(|&(x, y, _)| (x, y));
    chart.draw_series(LineSeries::new(line, LINE.stroke_width(2 * FINE))).expect("a line");
    let spans = panel.points.iter().map(|&(x, y, error)| {
        PathElement::new([(x, y - error), (x, y + error)], LINE.stroke_width(FINE))
    });
    chart.draw_series(spans).expect("intervals");
    let dots = panel.points.iter().map(|&(x, y, _)| Circle::new((x, y), 3 * FINE, LINE.filled()));
    chart.draw_series(dots).expect("points");
}

/// `cargo test --release --test validation picture -- --ignored` draws it; 200 days a point of the patterns' seed.
#[test]
#[ignore = "draws tests/pictures/patterns.svg"]
fn picture_of_the_main_patterns() {
    let mut svg = String::new();
    {
        let root =
            SVGBackend::with_string(&mut svg, (WIDTH * FINE, HEIGHT * FINE)).into_drawing_area();
        root.fill(&PAPER).expect("paper");
        for (area, panel) in root.split_evenly((3, 2)).iter().zip(panels()) {
            draw(area, &panel);
        }
        root.present().expect("a picture");
    }
    let fine = format!("width=\"{}\" height=\"{}\"", WIDTH * FINE, HEIGHT * FINE);
    assert!(svg.contains(&fine), "{}", &svg[..200]);
    let svg = svg.replacen(&fine, &format!("width=\"{WIDTH}\" height=\"{HEIGHT}\""), 1);
    fs::create_dir_all("tests/pictures").expect("a folder");
    fs::write("tests/pictures/patterns.svg", svg).expect("a file");
}
