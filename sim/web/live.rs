//! A comparison that sends its results to the page after every few days.

use std::convert::Infallible;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::thread;
use std::time::{Duration, Instant};

use axum::response::sse::Event;
use rayon::ThreadPool;
use tokio::sync::mpsc::Sender;
use tokio::sync::mpsc::error::TrySendError;

use super::growing::{ComparisonRequest, GrowingComparison};
use super::runs::RunHandle;
use crate::study::{Control, NoProgress, replicate};

/// Maximum time that a finished comparison waits for a slow reader.
const SEND_TIMEOUT: Duration = Duration::from_secs(20);

/// Fishes a comparison on a thread of its own and sends results after every few days.
pub(super) fn start(
    request: ComparisonRequest,
    pool: Arc<ThreadPool>,
    handle: RunHandle,
    events: Sender<Event>,
) {
    let request = Arc::new(request);
    // If no thread can be started, the channel closes and the page shows that the run ended early.
    let _ = thread::Builder::new()
        .name("comparison".to_owned())
        .spawn(move || fish(&request, &pool, &handle, &events));
}

/// Fishes until all days are done, the run is stopped or the page has gone.
fn fish(
    request: &Arc<ComparisonRequest>,
    pool: &ThreadPool,
    handle: &RunHandle,
    events: &Sender<Event>,
) {
    let mut growing = GrowingComparison::new(Arc::clone(request));
    let control = Control { progress: &NoProgress, stop: &handle.stop };
    let mut done = 0;
    while done < request.days && !handle.stop.load(Ordering::Relaxed) && !events.is_closed() {
        let until = growing.next_report();
        let fished = pool.install(|| {
            replicate(&request.scenario, request.seed, done + 1..=until, control, |day| {
                growing.add(day);
                Ok::<(), Infallible>(())
            })
        });
        let Ok(reached) = fished;
        if reached < until {
            return;
        }
        done = until;
        let event = Event::default().event("days").data(growing.results().to_string());
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
