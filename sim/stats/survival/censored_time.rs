//! Times until an event, possibly cut short, and how many were at risk at each event.

/// A time until an event, or a time after which observation ended without it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CensoredTime {
    /// The time, in any unit; not negative.
    pub time: f64,
    /// Whether the event happened at this time; otherwise the time is censored.
    pub is_event: bool,
}

impl CensoredTime {
    /// A time at which the event happened.
    pub fn event(time: f64) -> Self {
        Self { time, is_event: true }
    }

    /// A time until which the event had not happened.
    pub fn censored(time: f64) -> Self {
        Self { time, is_event: false }
    }
}

/// A time until one of several kinds of event, or a time after which observation ended without any.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompetingTime {
    /// The time, in any unit; not negative.
    pub time: f64,
    /// Which kind of event ended it, counted from 0. `None` if the time is censored.
    pub cause: Option<usize>,
}

impl CompetingTime {
    /// The same time with only one kind of event; the other kinds count as censored.
    pub fn for_cause(&self, cause: usize) -> CensoredTime {
        CensoredTime { time: self.time, is_event: self.cause == Some(cause) }
    }
}

/// An event time with the number of events and of times that were still running just before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct RiskSet {
    pub(super) time: f64,
    pub(super) at_risk: u64,
    pub(super) events: u64,
}

/// The risk sets at all event times, in order. Times censored at an event time are still at risk then.
pub(super) fn risk_sets(times: &[CensoredTime]) -> Vec<RiskSet> {
    let mut sorted = times.to_vec();
    sorted.sort_by(|a, b| a.time.total_cmp(&b.time));
    let mut at_risk = sorted.len() as u64;
    let mut sets = Vec::new();
    for tied in sorted.chunk_by(|a, b| a.time.total_cmp(&b.time).is_eq()) {
        let events = tied.iter().filter(|time| time.is_event).count() as u64;
        if events > 0 {
            sets.push(RiskSet { time: tied[0].time, at_risk, events });
        }
        at_risk -= tied.len() as u64;
    }
    sets
}
