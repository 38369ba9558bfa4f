//! Whether the times that a rule waits for are ever reached.

use crate::angler::{Phase, PlanRule, Rules};
use crate::scenario::schema::Dimension::Time;
use crate::scenario::schema::{KeySpec, rule as keys};
use crate::water::LineId;

/// A stretch of time in which one line is fished without a break [s].
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stay {
    pub(super) from_s: f64,
    pub(super) until_s: f64,
}

/// A time that is never reached.
pub(super) struct TimingProblem {
    /// The key with the time. `None` if single times are reached, but not together.
    pub(super) key: Option<KeySpec>,
    pub(super) problem: String,
    pub(super) fix: String,
}

/// Whether any rule changes to a line.
pub(super) fn is_changed_to(rules: &Rules, line: LineId) -> bool {
    rules.list.iter().any(|rule| rule.change.tackle.line == Some(line))
}

/// The stays in which a rule may act, from the phases alone.
///
/// If rules change the line too, the only certain stay is the session.
pub(super) fn stays(rule: &PlanRule, rules: &Rules, phases: &[Phase], session_s: f64) -> Vec<Stay> {
    let on_line = rule.condition.on_line;
    let depends_on_rules = match on_line {
        Some(line) => is_changed_to(rules, line),
        None => rules.list.iter().any(|rule| rule.change.tackle.line.is_some()),
    };
    if depends_on_rules {
        return vec![Stay { from_s: 0.0, until_s: session_s }];
    }
    let mut stays: Vec<(LineId, Stay)> = Vec::new();
    for phase in phases {
        match stays.last_mut() {
            Some((line, stay)) if *line == phase.tackle.line && stay.until_s >= phase.from_s => {
                stay.until_s = phase.until_s;
            }
            _ => {
                stays.push((
                    phase.tackle.line,
                    Stay { from_s: phase.from_s, until_s: phase.until_s },
                ));
            }
        }
    }
    let acts_on = |line: LineId| on_line.is_none_or(|on_line| on_line == line);
    stays.into_iter().filter(|&(line, _)| acts_on(line)).map(|(_, stay)| stay).collect()
}

/// One time that a rule waits for.
#[derive(Clone, Copy)]
struct Wait {
    key: KeySpec,
    time_s: f64,
    /// Whether it is counted from the start of the stay; otherwise from the start of the session.
    is_in_stay: bool,
}

impl Wait {
    /// When it is over, for a stay that begins at a time [s].
    fn over_s(&self, from_s: f64) -> f64 {
        if self.is_in_stay { from_s + self.time_s } else { from_s.max(self.time_s) }
    }

    fn is_over_in(&self, stay: Stay) -> bool {
        self.over_s(stay.from_s) < stay.until_s
    }

    fn problem(&self, stays: &[Stay]) -> TimingProblem {
        let key = Some(self.key);
        if self.is_in_stay {
            let lengths_s = stays.iter().map(|stay| stay.until_s - stay.from_s);
            let longest = Time.show(lengths_s.fold(0.0, f64::max));
            let problem = format!(
                "no line is fished for more than {longest} without a break, so the rule can never fire"
            );
            TimingProblem { key, problem, fix: format!("ask for less than {longest}") }
        } else {
            let last = Time.show(stays.iter().map(|stay| stay.until_s).fold(0.0, f64::max));
            let problem = format!(
                "the lines on which the rule may act are fished until {last}, so it can never fire"
            );
            TimingProblem { key, problem, fix: format!("use a time before {last}") }
        }
    }
}

/// The times that a rule waits for; `has_within` says whether the key `within` is written.
fn waits(rule: &PlanRule, has_within: bool, session_s: f64) -> Vec<Wait> {
    let when = &rule.condition;
    let window_key = if has_within {
        keys::WITHIN.spec()
    } else if when.max_bites.is_some() {
        keys::BITES_AT_MOST.spec()
    } else {
        keys::LANDED_AT_MOST.spec()
    };
    let at_most = when.max_bites.or(when.max_landed);
    let waits = [
        (keys::NO_BITE_FOR.spec(), when.no_bite_for_s, true),
        (window_key, at_most.map(|_| when.within_s), true),
        (keys::AFTER.spec(), when.after_s, false),
        (keys::TIME_LEFT.spec(), when.time_left_s.map(|left_s| session_s - left_s), false),
        (keys::TO_SUNSET.spec(), when.dusk.map(|dusk| dusk.since_start_s), false),
        (keys::CLOCK_FROM.spec(), when.clock.map(|clock| clock.since_start_s), false),
        (keys::RESTED_FOR.spec(), when.rested_for_s, false),
    ];
    let waits = waits
        .into_iter()
        .filter_map(|(key, time_s, is_in_stay)| Some(Wait { key, time_s: time_s?, is_in_stay }));
    waits.collect()
}

/// The first time that a rule waits for in vain. `None` if all are reached together in some stay.
pub(super) fn timing_problem(
    rule: &PlanRule,
    has_within: bool,
    stays: &[Stay],
    session_s: f64,
) -> Option<TimingProblem> {
    if stays.is_empty() {
        return None;
    }
    let waits = waits(rule, has_within, session_s);
    let never = waits.iter().find(|wait| !stays.iter().any(|&stay| wait.is_over_in(stay)));
    if let Some(wait) = never {
        return Some(wait.problem(stays));
    }
    let together = stays.iter().any(|stay| {
        waits.iter().map(|wait| wait.over_s(stay.from_s)).fold(stay.from_s, f64::max) < stay.until_s
    });
    (!together).then(|| TimingProblem {
        key: None,
        problem:
            "the times in its conditions are never reached together, so the rule can never fire"
                .to_owned(),
        fix: "ask for shorter or earlier times".to_owned(),
    })
}
