//! Colours and marks that distinguish plans, also for readers who see no colours.

use plotters::style::RGBColor;

/// Colours of plans, in the order of the scenario, distinct under every common kind of colour blindness.
///
/// The first seven are those of Okabe and Ito without yellow, which does not show on a light background; black is
/// softened, and violet replaces the yellow.
pub const PALETTE: [(u8, u8, u8); 8] = [
    (0, 114, 178),
    (213, 94, 0),
    (0, 158, 115),
    (204, 121, 167),
    (34, 34, 34),
    (230, 159, 0),
    (86, 180, 233),
    (126, 47, 210),
];

/// Shades for the parts of a catch, such as shoals; none of them is the colour of a plan.
pub(crate) const SHADES: [(u8, u8, u8); 4] =
    [(38, 70, 83), (120, 152, 162), (196, 212, 216), (82, 96, 62)];

/// The shade of part `index`; the four shades repeat.
pub(crate) fn shade(index: usize) -> RGBColor {
    let (r, g, b) = SHADES[index % SHADES.len()];
    RGBColor(r, g, b)
}

/// Outlines of marks around the origin, each with about the area of a circle of radius one.
const OUTLINES: [&[(f64, f64)]; 7] = [
    // A circle, as a polygon of sixteen sides.
    &[
        (1.0, 0.0),
        (0.92, 0.38),
        (0.71, 0.71),
        (0.38, 0.92),
        (0.0, 1.0),
        (-0.38, 0.92),
        (-0.71, 0.71),
        (-0.92, 0.38),
        (-1.0, 0.0),
        (-0.92, -0.38),
        (-0.71, -0.71),
        (-0.38, -0.92),
        (0.0, -1.0),
        (0.38, -0.92),
        (0.71, -0.71),
        (0.92, -0.38),
    ],
    // Square.
    &[(0.89, 0.89), (-0.89, 0.89), (-0.89, -0.89), (0.89, -0.89)],
    // Triangle.
    &[(0.0, -1.3), (1.2, 0.8), (-1.2, 0.8)],
    // Diamond.
    &[(0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)],
    // Triangle, upside down.
    &[(0.0, 1.3), (-1.2, -0.8), (1.2, -0.8)],
    // Plus.
    &[
        (-0.42, -1.25),
        (0.42, -1.25),
        (0.42, -0.42),
        (1.25, -0.42),
        (1.25, 0.42),
        (0.42, 0.42),
        (0.42, 1.25),
        (-0.42, 1.25),
        (-0.42, 0.42),
        (-1.25, 0.42),
        (-1.25, -0.42),
        (-0.42, -0.42),
    ],
    // Star of four points.
    &[
        (0.0, -1.5),
        (0.5, -0.5),
        (1.5, 0.0),
        (0.5, 0.5),
        (0.0, 1.5),
        (-0.5, 0.5),
        (-1.5, 0.0),
        (-0.5, -0.5),
    ],
];

/// The colour of plan `index` in the scenario; the eight colours repeat, with other marks.
pub(crate) fn colour(index: usize) -> RGBColor {
    let (r, g, b) = PALETTE[index % PALETTE.len()];
    RGBColor(r, g, b)
}

/// The outline of the mark of plan `index`; seven marks and eight colours make 56 pairs.
pub(crate) fn outline(index: usize) -> &'static [(f64, f64)] {
    OUTLINES[index % OUTLINES.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_fifty_six_plans_look_different() {
        let look = |index| {
            let RGBColor(r, g, b) = colour(index);
            (r, g, b, outline(index).as_ptr())
        };
        for first in 0..56 {
            for other in 0..first {
                assert_ne!(look(first), look(other), "plans {other} and {first}");
            }
        }
    }

    #[test]
    fn the_first_seven_plans_look_different_without_colour() {
        for first in 0..OUTLINES.len() {
            for other in 0..first {
                assert!(!std::ptr::eq(outline(first), outline(other)), "plans {other} and {first}");
            }
        }
    }
}
