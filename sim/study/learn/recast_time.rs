//! How long a recast takes, and a bite in addition, as the log shows them.

use super::result::RecastTime;
use crate::catch_log::{CatchLog, LoggedCast, LoggedSession};
use crate::stats::quantile;

/// Fewest gaps from which a time is measured.
const MIN_GAPS: usize = 5;

/// How long a recast takes: as given, otherwise as measured from the log [s].
///
/// A gap is the time from the end of a cast to the next cast; the median is taken, so that a break for lunch does not
/// count. Casts that begin the moment the one before ended show no gap: the log then has only one time for both.
pub(super) fn recast_time(log: &CatchLog, given_s: Option<f64>) -> RecastTime {
    let (mut after_recast, mut after_bite) = (Vec::new(), Vec::new());
    for session in &log.sessions {
        let has_two_rods = overlaps(session);
        for (index, cast) in session.casts.iter().enumerate() {
            let Some(end) = &cast.end else { continue };
            let is_next = |next: &&LoggedCast| !has_two_rods || next.line == cast.line;
            let Some(next) = session.casts[index + 1..].iter().find(is_next) else { continue };
            let gap_s = next.cast_s - end.at_s;
            if gap_s > 0.0 {
                if cast.has_bite() { &mut after_bite } else { &mut after_recast }.push(gap_s);
            }
        }
    }
    let measured_s = median(&mut after_recast);
    let recast_s = given_s.or(measured_s);
    let bite_s = median(&mut after_bite).map_or(0.0, |s| (s - recast_s.unwrap_or(0.0)).max(0.0));
    RecastTime {
        recast_s,
        is_given: given_s.is_some(),
        recasts: after_recast.len() as u64,
        bite_s,
        bites: after_bite.len() as u64,
    }
}

/// Whether one bait was out while another was cast: the session was fished with more than one rod.
fn overlaps(session: &LoggedSession) -> bool {
    session.casts.iter().enumerate().any(|(index, cast)| {
        let next = session.casts.get(index + 1);
        next.zip(cast.end.as_ref()).is_some_and(|(next, end)| next.cast_s < end.at_s)
    })
}

/// Median of enough gaps [s].
fn median(gaps_s: &mut [f64]) -> Option<f64> {
    gaps_s.sort_by(f64::total_cmp);
    quantile(gaps_s, 0.5).filter(|_| gaps_s.len() >= MIN_GAPS)
}
