//! Figures of a log that are only looked at after the fit.

use super::summaries::{HOUR_S, Session, last_s, weight_kg};
use crate::catch_log::LoggedSession;

/// Figures of a log that are not used for the fit, to look at afterwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckFigures {
    /// Longest run of casts without a bite.
    pub longest_blank_run: f64,
    /// Time from the start of a session to its first bite, mean over sessions, in minutes.
    pub first_bite_min: f64,
    /// Most bites in any half hour.
    pub best_half_hour: f64,
    /// Heaviest fish [kg]; zero without a weight.
    pub heaviest_kg: f64,
}

impl CheckFigures {
    /// The figures of a log whose sessions start at `starts_s` on its clock [s].
    #[must_use]
    pub fn new(sessions: &[LoggedSession], starts_s: &[f64]) -> Self {
        let casts = || sessions.iter().flat_map(|session| &session.casts);
        let firsts: Vec<f64> = sessions
            .iter()
            .zip(starts_s)
            .map(|(session, start_s)| {
                let first_s = bite_times_s(&session.casts).next();
                (first_s.unwrap_or_else(|| last_s(&session.casts)) - start_s) / 60.0
            })
            .collect();
        Self {
            longest_blank_run: sessions
                .iter()
                .map(|session| longest_blank_run(&session.casts))
                .fold(0.0, f64::max),
            first_bite_min: firsts.iter().sum::<f64>() / firsts.len().max(1) as f64,
            best_half_hour: sessions
                .iter()
                .map(|session| best_half_hour(&session.casts))
                .fold(0.0, f64::max),
            heaviest_kg: casts().filter_map(weight_kg).fold(0.0, f64::max),
        }
    }

    /// Each figure with its name and unit.
    #[must_use]
    pub fn named(&self) -> [(&'static str, f64); 4] {
        [
            ("longest run of casts without a bite", self.longest_blank_run),
            ("first bite after [min]", self.first_bite_min),
            ("most bites in half an hour", self.best_half_hour),
            ("heaviest fish [kg]", self.heaviest_kg),
        ]
    }
}

fn longest_blank_run(casts: Session<'_>) -> f64 {
    let (mut run, mut longest) = (0, 0);
    for cast in casts {
        run = if cast.has_bite() { 0 } else { run + 1 };
        longest = longest.max(run);
    }
    f64::from(longest)
}

fn best_half_hour(casts: Session<'_>) -> f64 {
    let times: Vec<f64> = bite_times_s(casts).collect();
    let in_half_hour =
        |from: &f64| times.iter().filter(|at| (*from..from + 0.5 * HOUR_S).contains(*at)).count();
    times.iter().map(in_half_hour).max().unwrap_or(0) as f64
}

fn bite_times_s(casts: Session<'_>) -> impl Iterator<Item = f64> {
    casts.iter().filter(|cast| cast.has_bite()).filter_map(|cast| Some(cast.end.as_ref()?.at_s))
}
