//! Sequential halving: all are tried, the better half is tried more, and so on until one is left.

use super::contender::{Contender, Point, Trials, rank, try_more};

/// For each round, how many contend in it and on how many days each of them is tried.
///
/// ⌈log₂ k⌉ rounds share the trials equally; the larger half of those at hand goes on.
///
/// - **Source** Karnin, Koren & Somekh 2013 (ICML 30); Lattimore & Szepesvári 2020, algorithm 21.
/// - **Checked by** V-92.
///
/// ```
/// assert_eq!(sim::stats::halving_schedule(8, 96), [(8, 4), (4, 8), (2, 16)]);
/// ```
#[must_use]
pub fn halving_schedule(contenders: usize, trials: u32) -> Vec<(usize, u32)> {
    let rounds = contenders.next_power_of_two().trailing_zeros();
    let mut left = contenders;
    (0..rounds)
        .map(|_| {
            let round = (left, (trials / rounds / left as u32).max(1));
            left = left.div_ceil(2);
            round
        })
        .collect()
}

/// Tries points from `first_day` on by the schedule for a number of trials, all of a round on the same days.
///
/// The winner comes first, then those that went furthest, each with all its values. Whatever was tried is
/// reported to `seen`, even where it was asked to stop and nothing comes back.
pub(super) fn halve(
    points: Vec<Point>,
    trials_at_most: u32,
    first_day: u32,
    trials: &mut impl Trials,
    seen: &mut Vec<Contender>,
) -> Option<Vec<Contender>> {
    let mut contenders: Vec<Contender> =
        points.into_iter().map(|point| Contender::new(point, first_day)).collect();
    let schedule = match contenders.len() {
        // A single one is tried all the same, to be known.
        1 => vec![(1, trials_at_most)],
        many => halving_schedule(many, trials_at_most),
    };
    for (left, days) in schedule {
        let tried = try_more(&mut contenders[..left], &vec![days; left], trials);
        if tried.is_none() {
            contenders.retain(|one| !one.values.is_empty());
            seen.append(&mut contenders);
            return None;
        }
        rank(&mut contenders[..left]);
    }
    seen.extend_from_slice(&contenders);
    Some(contenders)
}
