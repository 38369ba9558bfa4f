//! A comparison that sends its results to the page after every few days.

use std::convert::Infallible;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::thread;
use std::time::{Duration, Instant};

use axum::response::sse::Event;
use rayon::ThreadPool;
use serde_json::{Value, json};
use tokio::sync::mpsc::Sender;
use tokio::sync::mpsc::error::TrySendError;

use super::runs::RunHandle;
use crate::report::{ComparisonDocument, reasons, verdict};
use crate::scenario::{Scenario, Units};
use crate::study::{Control, DayOutcomes, NoProgress, Scoreboard, comparison, replicate};

/// Days before the first results are sent.
const FIRST_DAYS: u32 = 4;
/// Maximum time that a finished comparison waits for a slow reader.
const SEND_TIMEOUT: Duration = Duration::from_secs(20);
/// Maximum number of size classes; the last one holds all larger fish.
const MAX_CLASSES: usize = 40;
/// Width of a size class in imperial units: one pound [kg].
const POUND_KG: f64 = 0.453_592_37;
/// Width of a size class in metric units [kg].
const HALF_KG: f64 = 0.5;

/// A comparison to fish.
pub(super) struct ComparisonRequest {
    /// Name that the page gave it; every event carries it.
    pub(super) run: String,
    pub(super) scenario: Scenario,
    pub(super) seed: u64,
    pub(super) days: u32,
    pub(super) units: Units,
}

/// Fishes a comparison on a thread of its own and sends results after every few days.
pub(super) fn start(
    request: ComparisonRequest,
    pool: Arc<ThreadPool>,
    handle: RunHandle,
    events: Sender<Event>,
) {
    // If no thread can be started, the channel closes and the page shows that the run ended early.
    let _ = thread::Builder::new()
        .name("comparison".to_owned())
        .spawn(move || fish(&request, &pool, &handle, &events));
}

/// The day after which results are sent next: after a few days at first, later after a quarter more days.
fn next_report(done: u32, days: u32) -> u32 {
    (done + (done / 4).max(FIRST_DAYS)).min(days)
}

/// Fishes until all days are done, the run is stopped or the page has gone.
fn fish(
    request: &ComparisonRequest,
    pool: &ThreadPool,
    handle: &RunHandle,
    events: &Sender<Event>,
) {
    let mut board = Scoreboard::new(&request.scenario);
    let mut size_classes = SizeClasses::new(request.scenario.plans.len(), request.units);
    let control = Control { progress: &NoProgress, stop: &handle.stop };
    let mut done = 0;
    while done < request.days && !handle.stop.load(Ordering::Relaxed) && !events.is_closed() {
        let until = next_report(done, request.days);
        let fished = pool.install(|| {
            replicate(&request.scenario, request.seed, done + 1..=until, control, |day| {
                board.add(day);
                size_classes.add(day);
                Ok::<(), Infallible>(())
            })
        });
        let Ok(reached) = fished;
        if reached < until {
            return;
        }
        done = until;
        let results = results(request, &board, &size_classes);
        let event = Event::default().event("days").data(results.to_string());
        let is_connected = match done == request.days {
            true => send_last(events, event, handle),
            false => send(events, event),
        };
        if !is_connected {
            return;
        }
    }
}

/// Sends an event, or drops it if the reader is slow; returns whether there still is a reader.
fn send(events: &Sender<Event>, event: Event) -> bool {
    !matches!(events.try_send(event), Err(TrySendError::Closed(_)))
}

/// Sends an event that must not be dropped, waiting for a slow reader; returns whether it was sent.
fn send_last(events: &Sender<Event>, mut event: Event, handle: &RunHandle) -> bool {
    let started = Instant::now();
    while started.elapsed() < SEND_TIMEOUT && !handle.stop.load(Ordering::Relaxed) {
        match events.try_send(event) {
            Ok(()) => return true,
            Err(TrySendError::Closed(_)) => return false,
            Err(TrySendError::Full(unsent)) => event = unsent,
        }
        thread::sleep(Duration::from_millis(20));
    }
    false
}

/// The results so far.
fn results(request: &ComparisonRequest, board: &Scoreboard, size_classes: &SizeClasses) -> Value {
    let comparison = comparison(&request.scenario, request.seed, board);
    json!({
        "run": request.run,
        "days": comparison.days,
        "of": request.days,
        "verdict": verdict(&comparison, request.units),
        "reasons": reasons(&comparison, request.units),
        "sizes": size_classes.document(comparison.days),
        "comparison": ComparisonDocument::new(&comparison, request.units),
    })
}

/// Number of fish landed, by plan and size class.
struct SizeClasses {
    class_kg: f64,
    counts: Vec<Vec<u64>>,
}

impl SizeClasses {
    fn new(plans: usize, units: Units) -> Self {
        let class_kg = match units {
            Units::Imperial => POUND_KG,
            Units::Metric => HALF_KG,
        };
        Self { class_kg, counts: vec![Vec::new(); plans] }
    }

    fn add(&mut self, day: &DayOutcomes) {
        for (counts, outcome) in self.counts.iter_mut().zip(&day.outcomes) {
            for fish in &outcome.catches {
                let class = f64::from(fish.mass_g) / 1000.0 / self.class_kg;
                let class = (class as usize).min(MAX_CLASSES - 1);
                if counts.len() <= class {
                    counts.resize(class + 1, 0);
                }
                counts[class] += 1;
            }
        }
    }

    /// Mean number of fish per day in each class, as JSON.
    fn document(&self, days: u32) -> Value {
        let per_day = |counts: &Vec<u64>| -> Vec<f64> {
            counts.iter().map(|&count| count as f64 / f64::from(days)).collect()
        };
        json!({
            "class_kg": self.class_kg,
            "plans": self.counts.iter().map(per_day).collect::<Vec<_>>(),
        })
    }
}
