//! Casts as waits, and sorted into groups.

use std::collections::BTreeMap;

use super::group_by::GroupBy;
use crate::catch_log::{CatchLog, EndKind, LoggedCast};
use crate::stats::CompetingTime;

/// A cast that has ended, as a wait.
#[derive(Clone, Copy, Debug)]
pub(super) struct LoggedWait {
    /// Session, counted from 0.
    pub(super) session: usize,
    /// Wait and how it ended: an index into [`EndKind::COMPETING`], or `None` if it was wound in.
    pub(super) time: CompetingTime,
}

/// Casts that belong together.
#[derive(Clone, Debug)]
pub(super) struct CastGroup {
    pub(super) name: String,
    /// In ascending order of time.
    pub(super) waits: Vec<LoggedWait>,
}

impl CastGroup {
    pub(super) fn new(name: &str, mut waits: Vec<LoggedWait>) -> Self {
        waits.sort_by(|a, b| a.time.time.total_cmp(&b.time.time));
        Self { name: name.to_owned(), waits }
    }

    pub(super) fn bites(&self) -> u64 {
        self.waits.iter().filter(|wait| wait.time.cause == Some(0)).count() as u64
    }

    /// The sessions with a cast of the group, in order, each once.
    pub(super) fn sessions(&self) -> Vec<usize> {
        let mut sessions: Vec<usize> = self.waits.iter().map(|wait| wait.session).collect();
        sessions.sort_unstable();
        sessions.dedup();
        sessions
    }
}

/// The wait of a cast [s]. `None` if its bait is still out.
///
/// A bite as soon as the bait is in falls somewhere in the first unit of time; it counts as half of it.
pub(super) fn wait(log: &CatchLog, session: usize, cast: &LoggedCast) -> Option<LoggedWait> {
    let end = cast.end.as_ref()?;
    let time = cast.wait_s()?.max(0.5 * log.time_unit_s);
    let cause = EndKind::COMPETING.iter().position(|&kind| kind == end.kind);
    Some(LoggedWait { session, time: CompetingTime { time, cause } })
}

/// All casts that have ended.
pub(super) fn all_casts(log: &CatchLog) -> CastGroup {
    let waits = log.sessions.iter().enumerate().flat_map(|(index, session)| {
        session.casts.iter().filter_map(move |cast| wait(log, index, cast))
    });
    CastGroup::new("all casts", waits.collect())
}

/// The groups by some columns, most casts first, then by name.
pub(super) fn cast_groups(log: &CatchLog, by: &[GroupBy]) -> Vec<CastGroup> {
    let mut groups: BTreeMap<String, Vec<LoggedWait>> = BTreeMap::new();
    for (index, session) in log.sessions.iter().enumerate() {
        for cast in &session.casts {
            let values: Vec<String> =
                by.iter().map(|by| by.value(cast)).filter(|value| !value.is_empty()).collect();
            let name =
                if values.is_empty() { "not written down".to_owned() } else { values.join(", ") };
            groups.entry(name).or_default().extend(wait(log, index, cast));
        }
    }
    groups.retain(|_, waits| !waits.is_empty());
    let mut groups: Vec<CastGroup> =
        groups.into_iter().map(|(name, waits)| CastGroup::new(&name, waits)).collect();
    groups.sort_by_key(|group| std::cmp::Reverse(group.waits.len()));
    groups
}
