//! How casts end: bites, snags, robbed baits and moves compete with each other.

use super::groups::CastGroup;
use super::result::EndShare;
use super::thresholds::LEVEL;
use crate::catch_log::EndKind;
use crate::stats::{CompetingTime, CumulativeIncidence};

/// The share of casts that had ended in each way by a time [s]; ways that never happened are left out.
pub(super) fn ends(group: &CastGroup, until_s: f64) -> Vec<EndShare> {
    let times: Vec<CompetingTime> = group.waits.iter().map(|wait| wait.time).collect();
    let incidence = CumulativeIncidence::from_times(&times, EndKind::COMPETING.len());
    EndKind::COMPETING
        .iter()
        .enumerate()
        .filter_map(|(cause, kind)| {
            let count = times.iter().filter(|time| time.cause == Some(cause)).count() as u64;
            let share = incidence.incidence(cause, until_s)?;
            let interval = incidence.interval(cause, until_s, LEVEL);
            (count > 0).then(|| EndShare {
                end: kind.word(),
                count,
                share,
                low95: interval.map(|interval| interval.low),
                high95: interval.map(|interval| interval.high),
            })
        })
        .collect()
}
