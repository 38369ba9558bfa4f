//! A session so far in a few numbers.

use crate::catch_log::{CastEnd, CatchLog, EndKind, LoggedCast, LoggedSession};
use crate::numerics::ln;

/// The last part of the session so far counts by itself [s].
const RECENT_S: f64 = 2400.0;
const HOUR_S: f64 = 3600.0;

/// What happened so far in a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SoFar {
    pub(super) casts: u32,
    pub(super) bites: u32,
    pub(super) landed: u32,
    /// Whether it is written down of any bite whether the fish was landed, or there was no bite.
    pub(super) says_landed: bool,
    /// Time that baits waited [s].
    pub(super) waited_s: f64,
    /// Weight of the fish that were weighed [kg].
    pub(super) weighed_kg: f64,
    /// How many that were.
    pub(super) weighed: u32,
}

impl SoFar {
    pub(super) fn new(session: &LoggedSession) -> Self {
        let casts = || session.casts.iter();
        let catches = || casts().filter_map(|cast| cast.end.as_ref()?.catch.as_ref());
        let weights = || catches().filter_map(|catch| catch.weight_kg);
        Self {
            casts: session.casts.len() as u32,
            bites: casts().filter(|cast| cast.has_bite()).count() as u32,
            landed: catches().filter(|catch| catch.landed == Some(true)).count() as u32,
            says_landed: !casts().any(LoggedCast::has_bite)
                || catches().any(|catch| catch.landed.is_some()),
            waited_s: casts().filter_map(LoggedCast::wait_s).sum(),
            weighed_kg: weights().sum(),
            weighed: weights().count() as u32,
        }
    }

    /// Weight in the net; a landed fish that was not weighed counts as the mean of those that were, or as `usual_kg` [kg].
    pub(super) fn weight_kg(&self, usual_kg: f64) -> f64 {
        let mean_kg =
            if self.weighed > 0 { self.weighed_kg / f64::from(self.weighed) } else { usual_kg };
        self.weighed_kg + f64::from(self.landed.saturating_sub(self.weighed)) * mean_kg
    }
}

/// Whether a bait is out at a time of the log [s].
pub(super) fn is_bait_out(session: &LoggedSession, now_s: f64) -> bool {
    let last = session.casts.iter().rev().find(|cast| cast.cast_s <= now_s);
    last.is_some_and(|cast| cast.end.as_ref().is_none_or(|end| end.at_s > now_s))
}

/// The session up to a time of its log [s]: a bait that is still out has waited until then.
pub(super) fn until(session: &LoggedSession, now_s: f64) -> LoggedSession {
    let mut session = session.clone();
    session.casts.retain(|cast| cast.cast_s <= now_s);
    for cast in &mut session.casts {
        if cast.end.as_ref().is_none_or(|end| end.at_s > now_s) {
            let end =
                CastEnd { kind: EndKind::WoundIn, at_s: now_s, wound_in_s: None, catch: None };
            cast.end = Some(end);
        }
    }
    session
}

/// Numbers by which sessions so far are compared: rates as logarithms, counts and weights as roots.
///
/// What was landed is compared only if `says_landed`; `lines` are compared each by itself; `usual_per_h` is what a line without
/// waiting is taken to have.
pub(super) fn comparable(
    session: &LoggedSession,
    says_landed: bool,
    lines: &[String],
    now_s: f64,
    usual_per_h: f64,
) -> Vec<f64> {
    let so_far = SoFar::new(session);
    let rate = |casts: &mut dyn Iterator<Item = &LoggedCast>| {
        let (mut bites, mut waited_s) = (0.5, 0.5 / usual_per_h * HOUR_S);
        for cast in casts {
            bites += f64::from(u8::from(cast.has_bite()));
            waited_s += cast.wait_s().unwrap_or(0.0);
        }
        ln(bites / (waited_s / HOUR_S))
    };
    let bites_s = session.casts.iter().filter(|cast| cast.has_bite());
    let last_s = bites_s.filter_map(|cast| Some(cast.end.as_ref()?.at_s)).fold(0.0, f64::max);
    let mut values = vec![
        rate(&mut session.casts.iter()),
        rate(&mut session.casts.iter().filter(|cast| cast.cast_s > now_s - RECENT_S)),
    ];
    if says_landed {
        values.extend([so_far.weighed_kg.sqrt(), f64::from(so_far.landed).sqrt()]);
    }
    values.push((now_s - last_s).clamp(0.0, RECENT_S).sqrt());
    if lines.len() > 1 {
        values.extend(
            lines
                .iter()
                .map(|line| rate(&mut session.casts.iter().filter(|cast| cast.line == *line))),
        );
    }
    values
}

/// The last time in a log [s].
#[must_use]
pub fn last_time_s(log: &CatchLog) -> f64 {
    let times = log.casts().flat_map(|cast| {
        let end = cast.end.as_ref();
        let ended_s = end.map(|end| end.wound_in_s.unwrap_or(end.at_s));
        [Some(cast.cast_s), ended_s]
    });
    times.flatten().fold(0.0, f64::max)
}
