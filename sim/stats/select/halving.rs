//! Sequential halving: all candidates are simulated, then the better half on more days, until one is left.

use super::candidate::{Candidate, GridPoint, Simulator, extend, rank};

/// Schedule by round: the number of candidates, and the days for each of them.
///
/// ⌈log₂ k⌉ rounds have equal shares of the trials. The better half goes on, rounded up.
///
/// - **Source** Karnin, Koren & Somekh 2013 (ICML 30); Lattimore & Szepesvári 2020, algorithm 21.
/// - **Checked by** V-92.
///
/// ```
/// assert_eq!(sim::stats::halving_schedule(8, 96), [(8, 4), (4, 8), (2, 16)]);
/// ```
pub fn halving_schedule(candidates: usize, trials: u32) -> Vec<(usize, u32)> {
    let rounds = candidates.next_power_of_two().trailing_zeros();
    let mut left = candidates;
    (0..rounds)
        .map(|_| {
            let round = (left, (trials / rounds / left as u32).max(1));
            left = left.div_ceil(2);
            round
        })
        .collect()
}

/// Simulates points from `first_day` on by the halving schedule, all of a round on the same days. `None` if it was
/// stopped.
///
/// The winner comes first, then those that stayed longest, each with all its values. All candidates with values are
/// added to `simulated`, even if it was stopped.
pub(super) fn halve(
    points: Vec<GridPoint>,
    max_trials: u32,
    first_day: u32,
    simulator: &mut impl Simulator,
    simulated: &mut Vec<Candidate>,
) -> Option<Vec<Candidate>> {
    let mut candidates: Vec<Candidate> =
        points.into_iter().map(|point| Candidate::new(point, first_day)).collect();
    let schedule = match candidates.len() {
        // A single point is simulated too, so that its value is known.
        1 => vec![(1, max_trials)],
        count => halving_schedule(count, max_trials),
    };
    for (left, days) in schedule {
        let extended = extend(&mut candidates[..left], &vec![days; left], simulator);
        if extended.is_none() {
            candidates.retain(|candidate| !candidate.values.is_empty());
            simulated.append(&mut candidates);
            return None;
        }
        rank(&mut candidates[..left]);
    }
    simulated.extend_from_slice(&candidates);
    Some(candidates)
}
