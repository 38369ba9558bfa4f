//! Colours and marks that tell plans apart, also without colour.

use plotters::style::RGBColor;

/// Colours of plans, in the order of the scenario; told apart with every common kind of colour blindness.
///
/// The first seven are those of Okabe and Ito without their yellow, which is lost on a light ground; black is
/// softened, and violet stands for the yellow.
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

/// Shades of what plans are made up of, such as shoals; none of them is the colour of a plan.
pub(super) const SHADES: [(u8, u8, u8); 4] =
    [(38, 70, 83), (120, 152, 162), (196, 212, 216), (82, 96, 62)];

/// The shade of the part at `place`; after four they come round again.
pub(super) fn shade(place: usize) -> RGBColor {
    let (r, g, b) = SHADES[place % SHADES.len()];
    RGBColor(r, g, b)
}

/// Outlines of marks round the origin, each of about the same area as a circle of radius one.
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
    // Triangle on its head.
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

/// The colour of the plan at `place` in the scenario; after eight they come round again, with other marks.
pub(super) fn colour(place: usize) -> RGBColor {
    let (r, g, b) = PALETTE[place % PALETTE.len()];
    RGBColor(r, g, b)
}

/// The outline of the mark of the plan at `place`; seven marks with eight colours make 56 pairs.
pub(super) fn outline(place: usize) -> &'static [(f64, f64)] {
    OUTLINES[place % OUTLINES.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_fifty_six_plans_are_told_apart() {
        let of = |place| {
            let RGBColor(r, g, b) = colour(place);
            (r, g, b, outline(place).as_ptr())
        };
        for one in 0..56 {
            for other in 0..one {
                assert_ne!(of(one), of(other), "plans {other} and {one}");
            }
        }
    }

    #[test]
    fn the_first_seven_plans_are_told_apart_without_colour() {
        for one in 0..OUTLINES.len() {
            for other in 0..one {
                assert!(!std::ptr::eq(outline(one), outline(other)), "plans {other} and {one}");
            }
        }
    }
}
