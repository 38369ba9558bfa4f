//! Exact quantiles of more numbers than memory should hold: found in two passes over them.

use super::quantile::{Place, place, quantile};

/// Up to this many numbers are simply sorted.
const FEW: u64 = 1 << 16;
/// Numbers that share their upper half.
const HALF: usize = 1 << 16;

/// The quantiles `ps` of `n` numbers, by the rule of [`quantile`](super::quantile()), in memory that does not
/// grow with n; none of no numbers.
///
/// `pass` hands every number to the function it is given, in any order, and may be called twice. Where there
/// are many, the first pass counts the numbers by their upper sixteen bits, the second those wanted by their
/// lower ones: exact, and four megabytes at most for three quantiles.
///
/// ```
/// use sim::stats::quantiles_in_passes;
/// let found = quantiles_in_passes(4, &[0.5], |take| {
///     [4, 1, 3, 2].into_iter().for_each(take);
///     Ok::<(), std::convert::Infallible>(())
/// });
/// assert_eq!(found, Ok(vec![2.5]));
/// ```
///
/// # Errors
///
/// The first error of `pass`.
///
/// # Panics
///
/// If a `p` is not within 0 to 1, or `pass` hands over fewer than `n` numbers.
pub fn quantiles_in_passes<E>(
    n: u64,
    ps: &[f64],
    mut pass: impl FnMut(&mut dyn FnMut(u32)) -> Result<(), E>,
) -> Result<Vec<f64>, E> {
    if n == 0 {
        return Ok(Vec::new());
    }
    if n <= FEW {
        let mut sorted = Vec::new();
        pass(&mut |number| sorted.push(number))?;
        sorted.sort_unstable();
        return Ok(ps.iter().filter_map(|&p| quantile(&sorted, p)).collect());
    }
    let places: Vec<Place> = ps.iter().map(|&p| place(n, p)).collect();
    let mut upper = vec![0_u64; HALF];
    pass(&mut |number| upper[number as usize >> 16] += 1)?;
    let mut drawers: Vec<Drawer> = Vec::new();
    for rank in places.iter().flat_map(|at| [at.below, at.above]) {
        let (half, before) = find(&upper, rank);
        if !drawers.iter().any(|drawer| drawer.half == half) {
            drawers.push(Drawer { half, before, lower: vec![0; HALF] });
        }
    }
    pass(&mut |number| {
        let half = number as usize >> 16;
        if let Some(drawer) = drawers.iter_mut().find(|drawer| drawer.half == half) {
            drawer.lower[number as usize & (HALF - 1)] += 1;
        }
    })?;
    let of = |rank: u64| {
        let (half, _) = find(&upper, rank);
        let drawer = drawers.iter().find(|drawer| drawer.half == half);
        let drawer = drawer.expect("a drawer was opened for each rank");
        let (lower, _) = find(&drawer.lower, rank - drawer.before);
        (half << 16 | lower) as f64
    };
    Ok(places.iter().map(|at| at.between(of(at.below), of(at.above))).collect())
}

/// Numbers that share their upper half, counted by the lower.
struct Drawer {
    half: usize,
    /// Numbers below all of these.
    before: u64,
    lower: Vec<u64>,
}

/// Where the number of a rank lies among counts, and how many lie before that place.
fn find(counts: &[u64], rank: u64) -> (usize, u64) {
    let mut before = 0;
    for (at, &count) in counts.iter().enumerate() {
        if before + count > rank {
            return (at, before);
        }
        before += count;
    }
    panic!("a rank below the number of values is met");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_passes_give_what_sorting_gives() {
        // Weights like a session's, with many equal ones, and more of them than are sorted.
        let number = |i: u64| (i.wrapping_mul(6_364_136_223_846_793_005) >> 33) as u32 % 90_000;
        for n in [FEW + 1, 3 * FEW + 5] {
            let ps = [0.0, 0.1, 0.5, 0.9, 1.0];
            let found = quantiles_in_passes(n, &ps, |take| {
                (0..n).map(number).for_each(take);
                Ok::<(), ()>(())
            });
            let mut sorted: Vec<u32> = (0..n).map(number).collect();
            sorted.sort_unstable();
            let plain: Vec<f64> = ps.iter().filter_map(|&p| quantile(&sorted, p)).collect();
            assert_eq!(found, Ok(plain), "{n} numbers");
        }
    }

    #[test]
    fn nothing_has_no_quantile() {
        assert_eq!(quantiles_in_passes(0, &[0.5], |_| Ok::<(), ()>(())), Ok(Vec::new()));
    }
}
