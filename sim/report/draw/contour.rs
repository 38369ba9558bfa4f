//! Contour lines of a table of numbers, as short straight pieces.

/// A position in the table: column and row.
type Cell = (f64, f64);

/// Pieces of the contour at `level`, each from one position to another, with linear interpolation between neighbours.
///
/// By marching squares; if a square can be cut in two ways, the mean of its corners decides.
pub(crate) fn contours(rows: &[Vec<f64>], level: f64) -> Vec<(Cell, Cell)> {
    let mut lines = Vec::new();
    for (y, pair) in rows.windows(2).enumerate() {
        let columns = pair[0].len().min(pair[1].len());
        for x in 0..columns.saturating_sub(1) {
            let corners = [pair[0][x], pair[0][x + 1], pair[1][x + 1], pair[1][x]];
            square(corners, level, (x as f64, y as f64), &mut lines);
        }
    }
    lines
}

/// Adds the pieces within one square; `corners` are in order around it.
fn square(corners: [f64; 4], level: f64, (x, y): Cell, lines: &mut Vec<(Cell, Cell)>) {
    const CORNERS: [Cell; 4] = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    if corners.iter().any(|corner| !corner.is_finite()) {
        return;
    }
    let above = corners.map(|corner| corner >= level);
    let crossing = |side: usize| {
        let (from, to) = (side, (side + 1) % 4);
        (above[from] != above[to]).then(|| {
            let share = (level - corners[from]) / (corners[to] - corners[from]);
            let along = |a: f64, b: f64| a + share * (b - a);
            (x + along(CORNERS[from].0, CORNERS[to].0), y + along(CORNERS[from].1, CORNERS[to].1))
        })
    };
    let crossings: Vec<Cell> = (0..4).filter_map(crossing).collect();
    match crossings[..] {
        [start, end] => lines.push((start, end)),
        [a, b, c, d] => {
            let middle_above = corners.iter().sum::<f64>() / 4.0 >= level;
            // Each piece cuts off one of the two corners that differ from the middle.
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
        // On x² + y² all points of a contour are at about the same distance from the middle.
        let height = |x: i32, y: i32| f64::from((x - 10).pow(2) + (y - 10).pow(2));
        let rows: Vec<Vec<f64>> =
            (0..21).map(|y| (0..21).map(|x| height(x, y)).collect()).collect();
        let lines = contours(&rows, 36.0);
        let mut ends: Vec<String> = lines
            .iter()
            .flat_map(|&(a, b)| [a, b])
            .map(|(x, y)| format!("{x:.9} {y:.9}"))
            .collect();
        ends.sort();
        // Each end belongs to two pieces: the contour is closed.
        assert!(ends.len() > 40 && ends.chunks(2).all(|pair| pair[0] == pair[1]), "{ends:?}");
        for (x, y) in lines.into_iter().flat_map(|(a, b)| [a, b]) {
            // Linear interpolation between squares of whole numbers is off by 1/4 at most.
            let (from_x, from_y) = (x - 10.0, y - 10.0);
            let squared = from_x * from_x + from_y * from_y;
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
