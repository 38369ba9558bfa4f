//! The model on NeXosim, on one thread: each walker is a model that schedules its own next decision.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use nexosim::model::{BuildContext, Context, Model, ProtoModel, schedulable};
use nexosim::simulation::{Mailbox, SimInit};
use nexosim::time::MonotonicTime;
use serde::{Deserialize, Serialize};

use crate::model::{Counts, SESSION_S, WALKERS, Walker};

/// A walker's part that could be saved: the time of its next decision [s].
#[derive(Serialize, Deserialize)]
struct Decider {
    next_s: f64,
}

/// The rest of a walker; its counts are added to those of the session at the end.
struct Rest {
    walker: Walker,
    counts: Counts,
    sums: Arc<[AtomicU64; 2]>,
}

impl Drop for Rest {
    fn drop(&mut self) {
        self.sums[0].fetch_add(self.counts.decisions, Ordering::Relaxed);
        self.sums[1].fetch_add(self.counts.hits, Ordering::Relaxed);
    }
}

#[Model(type Env = Rest)]
impl Decider {
    #[nexosim(init)]
    async fn init(&mut self, cx: &Context<Self>) {
        self.schedule(self.next_s, cx);
    }

    #[nexosim(schedulable)]
    async fn decide(&mut self, _: (), cx: &Context<Self>, rest: &mut Rest) {
        let (hit, wait_s) = rest.walker.decide(self.next_s);
        rest.counts.decisions += 1;
        rest.counts.hits += u64::from(hit);
        self.next_s += wait_s;
        self.schedule(wait_s, cx);
    }

    fn schedule(&self, wait_s: f64, cx: &Context<Self>) {
        // Waits must be longer than nothing.
        let wait = Duration::from_secs_f64(wait_s).max(Duration::from_nanos(1));
        cx.schedule_event(wait, schedulable!(Self::decide), ()).expect("the wait is not zero");
    }
}

struct Prototype(Decider, Rest);

impl ProtoModel for Prototype {
    type Model = Decider;

    fn build(self, _: &mut BuildContext<Self>) -> (Decider, Rest) {
        (self.0, self.1)
    }
}

/// Runs one session.
pub(crate) fn run_session(session: u64) -> Counts {
    let sums = Arc::new([AtomicU64::new(0), AtomicU64::new(0)]);
    let mut bench = SimInit::with_num_threads(1);
    for number in 0..WALKERS {
        let (walker, wait_s) = Walker::new(session, number);
        let rest = Rest { walker, counts: Counts::default(), sums: Arc::clone(&sums) };
        let prototype = Prototype(Decider { next_s: wait_s }, rest);
        bench = bench.add_model(prototype, Mailbox::new(), &number.to_string());
    }
    let mut simulation = bench.init(MonotonicTime::EPOCH).expect("the walkers are ready");
    simulation.step_until(Duration::from_secs_f64(SESSION_S)).expect("no walker fails");
    drop(simulation);
    let [decisions, hits] = [0, 1].map(|place: usize| sums[place].load(Ordering::Relaxed));
    Counts { decisions, hits }
}
