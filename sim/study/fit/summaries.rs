//! A log in a few numbers, the same for the log of an angler and for a simulated one.

use crate::catch_log::{LoggedCast, LoggedSession};
use crate::numerics::{exp, ln, square};
use crate::scenario::Scenario;

/// A line is summarised by itself if at least this share of the casts went there.
const MIN_LINE_SHARE: f64 = 0.1;
/// Largest number of lines that are summarised by themselves.
const MAX_LINES: usize = 3;
/// Largest number of hookbaits on a line that are summarised by themselves.
const MAX_BAITS: usize = 3;
/// Waits at which the hazard of a bite may change [s].
const WAIT_CUTS_S: [f64; 5] = [30.0, 60.0, 120.0, 240.0, 480.0];
/// Hazard is summarised where at least this share of all waiting was.
const MIN_WAITING_SHARE: f64 = 0.03;
/// Parts of a session.
const PARTS: usize = 3;
/// Fewest weighed fish for their weights to be summarised.
const MIN_WEIGHED: usize = 5;
pub(super) const HOUR_S: f64 = 3600.0;

/// Which summaries of a log are computed: those for which the angler's log has enough casts, bites and weights.
#[derive(Clone, Debug, PartialEq)]
pub struct SummaryFrame {
    lines: Vec<String>,
    /// Line and hookbait, on lines that were fished with several hookbaits.
    baits: Vec<[String; 2]>,
    /// Bins of waits: from, until [s].
    bins: Vec<[f64; 2]>,
    /// Start and end of each session, on the log's clock [s].
    sessions: Vec<[f64; 2]>,
    /// Bites an hour of waiting in the whole log: what a stretch without waiting is taken to have.
    usual_per_h: f64,
    /// Mean of the logarithm of weight, if enough fish were weighed [ln kg].
    usual_ln_kg: Option<f64>,
    /// Whether it is written down for nearly all bites whether the fish was landed.
    has_landed: bool,
}

/// The casts of one session.
pub(super) type Session<'a> = &'a [LoggedCast];

impl SummaryFrame {
    /// What the log of an angler allows to be summarised, on the water of a scenario; `starts_s` are the starts of its sessions on
    /// its clock [s].
    #[must_use]
    pub fn new(scenario: &Scenario, sessions: &[LoggedSession], starts_s: &[f64]) -> Self {
        let casts = || sessions.iter().flat_map(|session| &session.casts);
        let count = casts().count() as f64;
        let mut lines: Vec<(String, f64)> = Vec::new();
        for cast in casts() {
            match lines.iter_mut().find(|(name, _)| *name == cast.line) {
                Some((_, casts)) => *casts += 1.0,
                None => lines.push((cast.line.clone(), 1.0)),
            }
        }
        lines.retain(|(_, casts)| casts / count >= MIN_LINE_SHARE);
        lines.sort_by(|a, b| b.1.total_cmp(&a.1));
        lines.truncate(MAX_LINES);
        let waiting_s: f64 = casts().filter_map(LoggedCast::wait_s).sum();
        let edges: Vec<f64> = [0.0].into_iter().chain(WAIT_CUTS_S).chain([f64::INFINITY]).collect();
        let bins = edges.windows(2).map(|edge| [edge[0], edge[1]]);
        let bins = bins.filter(|&[from_s, until_s]| {
            let in_bin: f64 = casts().map(|cast| waiting_between_s(cast, from_s, until_s)).sum();
            in_bin >= MIN_WAITING_SHARE * waiting_s
        });
        let bites = casts().filter(|cast| cast.has_bite()).count() as f64;
        let landed = casts().filter(|cast| landed(cast).is_some()).count() as f64;
        let weights: Vec<f64> = casts().filter_map(weight_kg).map(ln).collect();
        let usual_ln_kg = (weights.len() >= MIN_WEIGHED)
            .then(|| weights.iter().sum::<f64>() / weights.len() as f64);
        let lines: Vec<String> = lines.into_iter().map(|(name, _)| name).collect();
        Self {
            baits: lines.iter().flat_map(|line| baits_on(scenario, sessions, line)).collect(),
            lines,
            bins: bins.collect(),
            sessions: sessions
                .iter()
                .zip(starts_s)
                .map(|(session, &start_s)| [start_s, last_s(&session.casts).max(start_s + 60.0)])
                .collect(),
            usual_per_h: ((bites + 0.5) / (waiting_s.max(60.0) / HOUR_S)).max(0.05),
            usual_ln_kg,
            has_landed: bites >= 5.0 && landed >= 0.8 * bites,
        }
    }

    /// The same summaries for a single session of a length [s].
    pub(in crate::study) fn for_one_session(mut self, length_s: f64) -> Self {
        self.sessions = vec![[0.0, length_s]];
        self
    }

    /// A summary as people read it: a rate and not its logarithm, a share and not its odds.
    #[must_use]
    pub fn readable(&self, place: usize, value: f64) -> f64 {
        let rates = self.lines.len() + self.baits.len() + self.bins.len() + PARTS + 1;
        let after_spread = rates + 1 + usize::from(self.sessions.len() > 1);
        let weight = after_spread + usize::from(self.has_landed);
        let is_weight = |place| place == weight || place > weight + 1;
        if place < rates || self.usual_ln_kg.is_some() && is_weight(place) {
            exp(value)
        } else if self.has_landed && place == after_spread {
            1.0 / (1.0 + exp(-value))
        } else {
            value
        }
    }

    /// What each summary is, in words.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<String> =
            self.lines.iter().map(|line| format!("bites an hour of waiting at {line}")).collect();
        names.extend(
            self.baits
                .iter()
                .map(|[line, bait]| format!("bites an hour of waiting at {line} with {bait}")),
        );
        names.extend(self.bins.iter().map(|[from_s, until_s]| {
            let from = from_s / 60.0;
            if until_s.is_finite() {
                format!("bites an hour from {from} to {} min of a cast", until_s / 60.0)
            } else {
                format!("bites an hour after {from} min of a cast")
            }
        }));
        let parts = ["first", "second", "last"];
        names.extend(parts.map(|part| format!("bites an hour in the {part} third")));
        names.push("number of casts".to_owned());
        names.push("how much more often a bite follows a bite than a blank".to_owned());
        if self.sessions.len() > 1 {
            names.push("spread of rates between sessions (of their logarithm)".to_owned());
        }
        if self.has_landed {
            names.push("share of bites that were landed".to_owned());
        }
        if self.usual_ln_kg.is_some() {
            names.push("typical weight of a fish in kg".to_owned());
            names.push("spread of weights (of their logarithm)".to_owned());
            let typical = |[line, bait]: &[String; 2]| {
                format!("typical weight of a fish at {line} with {bait} in kg")
            };
            names.extend(self.baits.iter().map(typical));
        }
        names
    }

    /// The summaries of a log, in the order of [`SummaryFrame::names`]. Rates are logarithms.
    #[must_use]
    pub fn summaries(&self, sessions: &[LoggedSession]) -> Vec<f64> {
        let all = || sessions.iter().flat_map(|session| &session.casts);
        let mut values = Vec::new();
        for line in &self.lines {
            let casts = all().filter(|cast| cast.line == *line);
            values.push(self.ln_rate(casts.map(|cast| (cast, 0.0, f64::INFINITY))));
        }
        for [line, bait] in &self.baits {
            let casts = all().filter(|cast| cast.line == *line && cast.bait == *bait);
            values.push(self.ln_rate(casts.map(|cast| (cast, 0.0, f64::INFINITY))));
        }
        for &[from_s, until_s] in &self.bins {
            values.push(self.ln_rate(all().map(|cast| (cast, from_s, until_s))));
        }
        for part in 0..PARTS {
            let parts =
                sessions.iter().zip(&self.sessions).flat_map(|(session, [start_s, end_s])| {
                    let length_s = (end_s - start_s) / PARTS as f64;
                    let from_s = start_s + part as f64 * length_s;
                    let is_inside = move |cast: &&LoggedCast| {
                        (from_s..from_s + length_s).contains(&cast.cast_s)
                    };
                    session.casts.iter().filter(is_inside)
                });
            values.push(self.ln_rate(parts.map(|cast| (cast, 0.0, f64::INFINITY))));
        }
        values.push(ln(all().count() as f64 + 0.5));
        values.push(bites_after_bites(sessions));
        if self.sessions.len() > 1 {
            let rates: Vec<f64> = sessions
                .iter()
                .map(|session| {
                    self.ln_rate(session.casts.iter().map(|cast| (cast, 0.0, f64::INFINITY)))
                })
                .collect();
            values.push(spread(&rates));
        }
        if self.has_landed {
            let count = |wanted| all().filter(|cast| landed(cast) == Some(wanted)).count() as f64;
            values.push(ln((count(true) + 0.5) / (count(false) + 0.5)));
        }
        if let Some(usual) = self.usual_ln_kg {
            let typical = |weights: &[f64]| {
                (weights.iter().sum::<f64>() + usual) / (weights.len() as f64 + 1.0)
            };
            let weights: Vec<f64> = all().filter_map(weight_kg).map(ln).collect();
            values.push(typical(&weights));
            values.push(spread(&weights));
            for [line, bait] in &self.baits {
                let casts = all().filter(|cast| cast.line == *line && cast.bait == *bait);
                let weights: Vec<f64> = casts.filter_map(weight_kg).map(ln).collect();
                values.push(typical(&weights));
            }
        }
        values
    }

    /// Logarithm of bites an hour of waiting, over parts of casts: cast, from, until [s of the cast].
    fn ln_rate<'a>(&self, parts: impl Iterator<Item = (&'a LoggedCast, f64, f64)>) -> f64 {
        let (mut bites, mut waiting_s) = (0.5, 0.5 / self.usual_per_h * HOUR_S);
        for (cast, from_s, until_s) in parts {
            waiting_s += waiting_between_s(cast, from_s, until_s);
            let bit_s = cast.wait_s().filter(|_| cast.has_bite());
            bites += f64::from(bit_s.is_some_and(|s| (from_s..until_s).contains(&s)));
        }
        ln(bites / (waiting_s / HOUR_S))
    }
}

/// The hookbaits with which a line was fished, if there are several, each with its line. A log may also name what is on the
/// feeder, which simulated logs do not.
fn baits_on(scenario: &Scenario, sessions: &[LoggedSession], line: &str) -> Vec<[String; 2]> {
    let casts = || sessions.iter().flat_map(|session| &session.casts);
    let count = casts().count() as f64;
    let mut baits: Vec<[String; 2]> = Vec::new();
    for hookbait in &scenario.hookbaits {
        let with_bait = casts().filter(|cast| cast.line == line && cast.bait == hookbait.name);
        if with_bait.count() as f64 >= MIN_LINE_SHARE * count {
            baits.push([line.to_owned(), hookbait.name.clone()]);
        }
    }
    baits.truncate(MAX_BAITS);
    if baits.len() > 1 { baits } else { Vec::new() }
}

/// When the last cast of a session ended, or was made if it has no end [s].
pub(super) fn last_s(casts: Session<'_>) -> f64 {
    let end_s = |cast: &LoggedCast| cast.end.as_ref().map_or(cast.cast_s, |end| end.at_s);
    casts.iter().map(end_s).fold(0.0, f64::max)
}

fn landed(cast: &LoggedCast) -> Option<bool> {
    cast.end.as_ref()?.catch.as_ref()?.landed
}

pub(super) fn weight_kg(cast: &LoggedCast) -> Option<f64> {
    cast.end.as_ref()?.catch.as_ref()?.weight_kg
}

/// How long a cast waited between two times of it [s].
fn waiting_between_s(cast: &LoggedCast, from_s: f64, until_s: f64) -> f64 {
    cast.wait_s().map_or(0.0, |wait_s| (wait_s.min(until_s) - from_s).max(0.0))
}

/// How much more often a bite follows a bite than a blank, as a difference of shares; zero if it cannot be seen.
fn bites_after_bites(sessions: &[LoggedSession]) -> f64 {
    let mut follows = [[0.0_f64; 2]; 2];
    for session in sessions {
        for pair in session.casts.windows(2) {
            follows[usize::from(pair[0].has_bite())][usize::from(pair[1].has_bite())] += 1.0;
        }
    }
    let share = |[blanks, bites]: [f64; 2]| (bites + 1.0) / (blanks + bites + 2.0);
    share(follows[1]) - share(follows[0])
}

fn spread(values: &[f64]) -> f64 {
    if values.len() < 2 {
        return 0.0;
    }
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let squares: f64 = values.iter().map(|value| square(value - mean)).sum();
    (squares / (values.len() - 1) as f64).sqrt()
}
