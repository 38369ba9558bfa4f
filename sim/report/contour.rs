//! Contours of a table of numbers, as short straight lines.

/// A place in the table: column and row.
type Spot = (f64, f64);

/// Lines along which the numbers, taken as straight between neighbours, are at `level`; each from one place to
/// another, by column and row.
///
/// By marching squares; where a square could be cut in two ways, the mean of its corners decides.
pub(super) fn contours(rows: &[Vec<f64>], level: f64) -> Vec<(Spot, Spot)> {
    let mut lines = Vec::new();
    for (y, two) in rows.windows(2).enumerate() {
        let columns = two[0].len().min(two[1].len());
        for x in 0..columns.saturating_sub(1) {
            let corners = [two[0][x], two[0][x + 1], two[1][x + 1], two[1][x]];
            square(corners, level, (x as f64, y as f64), &mut lines);
        }
    }
    lines
}

/// The lines within one square; corners from the first one round.
fn square(corners: [f64; 4], level: f64, (x, y): Spot, lines: &mut Vec<(Spot, Spot)>) {
    const ROUND: [Spot; 4] = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    if corners.iter().any(|corner| !corner.is_finite()) {
        return;
    }
    let above = corners.map(|corner| corner >= level);
    let crossing = |side: usize| {
        let (from, to) = (side, (side + 1) % 4);
        (above[from] != above[to]).then(|| {
            let share = (level - corners[from]) / (corners[to] - corners[from]);
            let along = |a: f64, b: f64| a + share * (b - a);
            (x + along(ROUND[from].0, ROUND[to].0), y + along(ROUND[from].1, ROUND[to].1))
        })
    };
    let crossings: Vec<Spot> = (0..4).filter_map(crossing).collect();
    match crossings[..] {
        [one, other] => lines.push((one, other)),
        [a, b, c, d] => {
            let middle_above = corners.iter().sum::<f64>() / 4.0 >= level;
            // Each line cuts off the two corners that are unlike the middle.
            if middle_above == above[0] {
                lines.extend([(a, b), (c, d)]);
            } else {
                lines.extend([(d, a), (b, c)]);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slope_has_straight_contours() {
        let rows: Vec<Vec<f64>> = (0..4).map(|_| (0..5).map(f64::from).collect()).collect();
        let lines = contours(&rows, 2.25);
        assert_eq!(lines.len(), 3, "one in each row of squares");
        for ((x, y), (to_x, to_y)) in lines {
            assert!((x - 2.25).abs() < 1e-12 && (to_x - 2.25).abs() < 1e-12, "{x} to {to_x}");
            assert!((to_y - y).abs() > 0.99, "{y} to {to_y}");
        }
    }

    #[test]
    fn a_hill_has_closed_contours() {
        // On x² + y² every place of a contour lies on a cell's edge, about as far from the middle.
        let at = |x: i32, y: i32| f64::from((x - 10).pow(2) + (y - 10).pow(2));
        let rows: Vec<Vec<f64>> = (0..21).map(|y| (0..21).map(|x| at(x, y)).collect()).collect();
        let lines = contours(&rows, 36.0);
        let mut ends: Vec<String> = lines
            .iter()
            .flat_map(|&(a, b)| [a, b])
            .map(|(x, y)| format!("{x:.9} {y:.9}"))
            .collect();
        ends.sort();
        // Every end is the end of another line too: the contour is closed.
        assert!(ends.len() > 40 && ends.chunks(2).all(|two| two[0] == two[1]), "{ends:?}");
        for (x, y) in lines.into_iter().flat_map(|(a, b)| [a, b]) {
            // Straight lines between squares of whole numbers stray by a quarter at most, in the square.
            let squared = (x - 10.0).powi(2) + (y - 10.0).powi(2);
            assert!((squared - 36.0).abs() <= 0.25 + 1e-9, "{squared}");
        }
    }

    #[test]
    fn a_saddle_is_cut_in_two() {
        assert_eq!(contours(&[vec![1.0, 0.0], vec![0.0, 1.0]], 0.6).len(), 2);
        assert_eq!(contours(&[vec![1.0, 0.0], vec![0.0, 1.0]], 0.4).len(), 2);
        assert!(contours(&[vec![1.0, f64::NAN], vec![0.0, 1.0]], 0.4).is_empty());
    }
}
