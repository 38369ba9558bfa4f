//! A sweep in words: what it will cost, how far it is, and its best point so far.

use std::io::{Write as _, stdout};
use std::path::Path;

use anyhow::anyhow;

use super::cost::time_in_words;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::{BestPoint, MeanAndError, SweepStatusDocument};
use crate::cli::output::json_document;
use crate::report::{counted, duration, grouped, setting_name, weight};
use crate::scenario::Units;
use crate::study::{BestSoFar, Store, SweepDefinition, is_untouched};

/// Size of a session in the store [bytes], about: four for its weight, and its part of a row.
const SESSION_BYTES: f64 = 7.0;
/// Size of a store without sessions [bytes], about: its tables, and the scenario.
const EMPTY_STORE_BYTES: f64 = 30_000.0;

/// What is about to be fished, what it costs, and what could be left out.
pub(super) fn cost_lines(store: &Store, to_do: u64) -> Vec<String> {
    let sweep = store.sweep();
    let (points, plans) = (sweep.design.points.len(), sweep.plans.len());
    let share = match sweep.shard.is_whole() {
        true => String::new(),
        false => format!(", share {}", sweep.shard),
    };
    let done = match sweep.sessions().saturating_sub(to_do) {
        0 => String::new(),
        done => format!(", of which {} are done", grouped(done)),
    };
    let mut lines = vec![format!(
        "{}: {} × {} × {}{share}: {}{done}",
        sweep.design.description(),
        counted(points as u64, "point"),
        counted(plans as u64, "plan"),
        counted(sweep.days, "day"),
        counted(sweep.sessions(), "session"),
    )];
    let threads = rayon::current_num_threads();
    lines.push(format!(
        "{} on {}, into {} of about {}; you can stop it at any time: the same command continues it",
        time_in_words(sweep.seconds_per_session(), to_do),
        counted(threads as u64, "thread"),
        store.path().display(),
        size(sweep.sessions() as f64 * SESSION_BYTES + EMPTY_STORE_BYTES),
    ));
    let keys = &sweep.design.keys;
    let untouched: Vec<&str> = (sweep.plans.iter().map(String::as_str))
        .filter(|plan| !keys.is_empty() && is_untouched(plan, keys))
        .collect();
    if points > 1 && !untouched.is_empty() {
        lines.push(format!(
            "nothing of {} is varied: fished once, and the same at each point",
            untouched.join(", ")
        ));
    }
    lines
}

/// A size of a file, in words.
fn size(bytes: f64) -> String {
    match bytes {
        small if small < 1e6 => format!("{:.0} kB", small / 1e3),
        large => format!("{:.0} MB", large / 1e6),
    }
}

/// The best point so far with its standard error.
pub(super) fn best_in_units(sweep: &SweepDefinition, best: &BestSoFar, units: Units) -> String {
    let setting = setting_name(&sweep.design.keys, &sweep.design.points[best.point]);
    let (mean, se) = (weight(best.mean_kg, units), weight(best.se_kg, units));
    format!(
        "{mean} ± {se}, {} at {setting}, {}",
        sweep.plans[best.plan.0],
        counted(best.days, "day")
    )
}

/// How far a sweep is.
struct SweepStatus {
    sessions: u64,
    done: u64,
    is_running: bool,
    sessions_per_s: Option<f64>,
    best: Option<BestSoFar>,
}

impl SweepStatus {
    fn read(store: &Store) -> Result<Self, ExitError> {
        let sessions = store.sweep().sessions();
        Ok(Self {
            sessions,
            done: sessions.saturating_sub(store.sessions_to_do()),
            is_running: store.is_locked(),
            sessions_per_s: store.sessions_per_s()?,
            best: store.totals()?.best(),
        })
    }

    /// Time until the sweep is done [s]; `None` before the first batch.
    fn left_s(&self) -> Option<f64> {
        self.sessions_per_s.map(|rate| (self.sessions - self.done) as f64 / rate)
    }

    fn document<'a>(&self, store: &'a Store) -> SweepStatusDocument<'a> {
        let sweep = store.sweep();
        SweepStatusDocument {
            format: SweepStatusDocument::FORMAT,
            store: store.path().display().to_string(),
            store_bytes: store.bytes(),
            stamp: &sweep.stamp,
            sessions: self.sessions,
            sessions_done: self.done,
            running: self.is_running,
            sessions_per_s: self.sessions_per_s,
            left_s: self.left_s(),
            best: self.best.as_ref().map(|best| BestPoint {
                plan: &sweep.plans[best.plan.0],
                values: &sweep.design.points[best.point],
                weight_kg: MeanAndError { mean: best.mean_kg, se: best.se_kg },
                days: best.days,
            }),
        }
    }

    fn text(&self, store: &Store, units: Units) -> String {
        let percent = 100 * self.done / self.sessions.max(1);
        let sessions = counted(self.sessions, "session");
        let path = store.path().display();
        let mut lines =
            vec![format!("{} of {sessions}, {percent} %, in {path}", grouped(self.done))];
        if let Some(best) = &self.best {
            lines.push(format!("best so far: {}", best_in_units(store.sweep(), best, units)));
        }
        let left = self.sessions_per_s.zip(self.left_s()).map(|(rate, left_s)| {
            format!("{rate:.0} sessions per second, about {} to go", duration(left_s))
        });
        lines.push(match (self.sessions - self.done, self.is_running, left) {
            (0, _, _) => "all is done".to_owned(),
            (_, true, Some(left)) => format!("running: {left}"),
            (_, true, None) => "running; the first batch is not done yet".to_owned(),
            (_, false, Some(left)) => {
                format!("not running; at {left}: the same command without --status continues it")
            }
            (_, false, None) => {
                "not running: the same command without --status continues it".to_owned()
            }
        });
        lines.join("\n")
    }
}

/// Prints how far a sweep is, as its store says.
pub(super) fn print_status(path: &Path, json: bool, units: Units) -> Result<(), ExitError> {
    if !path.exists() && !Store::is_in_use(path) {
        return Err(ExitError::WrongInput(anyhow!(
            "there is no sweep at {}: start it with the same command without --status",
            path.display()
        )));
    }
    let store = Store::read(path)?;
    let status = SweepStatus::read(&store)?;
    if json {
        stdout().write_all(json_document(&status.document(&store))?.as_bytes())?;
    } else {
        writeln!(stdout(), "{}", status.text(&store, units))?;
    }
    Ok(())
}
