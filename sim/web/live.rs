//! One comparison fished while the page looks on: what is known after each few days.

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

use super::runs::Ticket;
use crate::report::{reasons, verdict};
use crate::scenario::{Scenario, Units};
use crate::study::{Control, DayFished, Scoreboard, Stopped, Unwatched, comparison, replicate};

/// Days before the first curve is shown.
const FIRST_DAYS: u32 = 4;
/// How long a finished comparison waits for a reader who has stopped reading.
const PATIENCE: Duration = Duration::from_secs(20);
/// Classes of size that are told apart at most; the last holds all that is larger.
const MOST_CLASSES: usize = 40;
/// Width of a class of size [kg]: one pound, or half a kilogram.
const POUND_KG: f64 = 0.453_592_37;
const HALF_KG: f64 = 0.5;

/// What is to be fished.
pub(super) struct Order {
    /// The page's name for it; every event bears it.
    pub(super) run: String,
    pub(super) scenario: Scenario,
    pub(super) seed: u64,
    pub(super) days: u32,
    pub(super) units: Units,
}

/// Fishes an order on a thread of its own and sends what is known after each few days.
pub(super) fn start(order: Order, pool: Arc<ThreadPool>, ticket: Ticket, out: Sender<Event>) {
    // Where no thread can be had the channel closes, and the page says that the run ended early.
    let _ = thread::Builder::new()
        .name("comparison".to_owned())
        .spawn(move || fish(&order, &pool, &ticket, &out));
}

/// The day after which the page is told next: soon at first, then each time a quarter more is known.
fn next_telling(done: u32, days: u32) -> u32 {
    (done + (done / 4).max(FIRST_DAYS)).min(days)
}

fn fish(order: &Order, pool: &ThreadPool, ticket: &Ticket, out: &Sender<Event>) {
    let mut board = Scoreboard::new(&order.scenario);
    let mut sizes = Sizes::new(order.scenario.plans.len(), order.units);
    let control = Control { progress: &Unwatched, stop: &ticket.stop };
    let mut done = 0;
    while done < order.days && !ticket.stop.load(Ordering::Relaxed) && !out.is_closed() {
        let until = next_telling(done, order.days);
        let fished = pool.install(|| {
            replicate(&order.scenario, order.seed, done + 1..=until, control, |day| {
                board.add(day);
                sizes.add(day);
                Ok::<(), Infallible>(())
            })
        });
        let Ok(reached) = fished;
        if reached < until {
            return;
        }
        done = until;
        let told = Event::default().event("days").data(telling(order, &board, &sizes).to_string());
        let heard = if done == order.days { send_last(out, told, ticket) } else { send(out, told) };
        if !heard {
            return;
        }
    }
}

/// Sends something that is left out where the reader is slow; whether there is a reader.
fn send(out: &Sender<Event>, event: Event) -> bool {
    !matches!(out.try_send(event), Err(TrySendError::Closed(_)))
}

/// Sends what must not be left out, unless the reader does not read for long.
fn send_last(out: &Sender<Event>, mut event: Event, ticket: &Ticket) -> bool {
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE && !ticket.stop.load(Ordering::Relaxed) {
        match out.try_send(event) {
            Ok(()) => return true,
            Err(TrySendError::Closed(_)) => return false,
            Err(TrySendError::Full(back)) => event = back,
        }
        thread::sleep(Duration::from_millis(20));
    }
    false
}

/// All that is known so far.
fn telling(order: &Order, board: &Scoreboard, sizes: &Sizes) -> Value {
    let found = comparison(&order.scenario, order.seed, board, Stopped::Asked);
    json!({
        "run": order.run,
        "days": found.days,
        "of": order.days,
        "verdict": verdict(&found, order.units),
        "reasons": reasons(&found, order.units),
        "sizes": sizes.told(found.days),
        "comparison": found,
    })
}

/// Fish landed, by plan and class of size.
struct Sizes {
    class_kg: f64,
    counts: Vec<Vec<u64>>,
}

impl Sizes {
    fn new(plans: usize, units: Units) -> Self {
        let class_kg = match units {
            Units::Imperial => POUND_KG,
            Units::Metric => HALF_KG,
        };
        Self { class_kg, counts: vec![Vec::new(); plans] }
    }

    fn add(&mut self, day: &DayFished) {
        for (counts, outcome) in self.counts.iter_mut().zip(&day.outcomes) {
            for caught in &outcome.catches {
                let class = f64::from(caught.mass_g) / 1000.0 / self.class_kg;
                let class = (class as usize).min(MOST_CLASSES - 1);
                if counts.len() <= class {
                    counts.resize(class + 1, 0);
                }
                counts[class] += 1;
            }
        }
    }

    /// Fish a day in each class.
    fn told(&self, days: u32) -> Value {
        let a_day = |counts: &Vec<u64>| -> Vec<f64> {
            counts.iter().map(|&count| count as f64 / f64::from(days)).collect()
        };
        json!({
            "class_kg": self.class_kg,
            "plans": self.counts.iter().map(a_day).collect::<Vec<_>>(),
        })
    }
}
