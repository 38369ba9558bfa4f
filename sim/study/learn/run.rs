//! Learns from a log.

use super::group_by::GroupBy;
use super::groups::{all_casts, cast_groups};
use super::recast::recast_advice;
use super::recast_time::recast_time;
use super::result::{LearnResult, LogTotals};
use super::session_trend::{is_landed, is_landed_unknown, session_trend};
use super::waits::{difference, wait_group};
use crate::catch_log::{CatchLog, LoggedCast, LoggedSession};
use crate::study::stamp::Stamp;

/// What to learn.
#[derive(Clone, Debug, PartialEq)]
pub struct LearnSpec {
    /// Seed of the bootstrap.
    pub seed: u64,
    /// Columns by which casts are grouped.
    pub by: Vec<GroupBy>,
    /// Time of a recast [s]. `None` to measure it.
    pub recast_time_s: Option<f64>,
}

/// Learns from a log what it says alone, without any simulation.
#[must_use]
pub fn learn(log: &CatchLog, spec: &LearnSpec) -> LearnResult {
    let all = all_casts(log);
    let groups = cast_groups(log, &spec.by);
    let groups = if groups.len() > 1 { groups } else { Vec::new() };
    let recast_time = recast_time(log, spec.recast_time_s);
    let totals = totals(log);
    let advised = std::iter::once(&all).chain(&groups);
    LearnResult {
        format: LearnResult::FORMAT,
        stamp: Stamp::new(&log.name, &log.sha256, spec.seed),
        grouped_by: spec.by.iter().map(|by| by.name()).collect(),
        recast: advised.map(|group| recast_advice(group, &recast_time, spec.seed)).collect(),
        difference: difference(&groups, log.sessions.len()),
        session: session_trend(log, &totals),
        all: wait_group(&all),
        groups: groups.iter().map(wait_group).collect(),
        recast_time,
        totals,
    }
}

fn totals(log: &CatchLog) -> LogTotals {
    let weights = || {
        let catches = log.casts().filter_map(|cast| cast.end.as_ref()?.catch.as_ref());
        catches.filter_map(|catch| catch.weight_kg)
    };
    let bites = log.casts().filter(|cast| cast.has_bite()).count() as u64;
    let landed_unknown = log.casts().filter(|cast| is_landed_unknown(cast)).count() as u64;
    let landed = log.casts().filter(|cast| is_landed(cast)).count() as u64;
    LogTotals {
        sessions: log.sessions.len() as u64,
        casts: log.casts().count() as u64,
        still_out: log.casts().filter(|cast| cast.end.is_none()).count() as u64,
        bites,
        landed: (bites == 0 || landed_unknown < bites).then_some(landed),
        landed_unknown,
        weight_kg: weights().sum(),
        weighed: weights().count() as u64,
        fished_s: log.sessions.iter().map(fished_s).sum(),
        time_unit_s: log.time_unit_s,
    }
}

/// Time from the first cast of a session to the end of its last one [s].
fn fished_s(session: &LoggedSession) -> f64 {
    let start_s = session.casts.first().map_or(0.0, |cast| cast.cast_s);
    let ended_s =
        |cast: &LoggedCast| cast.end.as_ref().map(|end| end.wound_in_s.unwrap_or(end.at_s));
    session
        .casts
        .iter()
        .filter_map(ended_s)
        .fold(0.0, |last, ended_s| f64::max(last, ended_s - start_s))
}
