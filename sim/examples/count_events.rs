//! An observer of your own: counts how many fish notice the feed, arrive, bite, are hooked and are landed.
//!
//! Run with `cargo run --release --example count_events`.

use std::error::Error;
use std::path::Path;

use sim::{Day, Event, Observer, Time, load, observe_session};

const SEED: u64 = 1;
const DAYS: u32 = 20;

/// Counts the steps from a fish that notices the feed to a fish in the net.
#[derive(Default)]
struct Funnel {
    noticed: u32,
    arrived: u32,
    bites: u32,
    hooked: u32,
    landed: u32,
}

impl Observer<Event> for Funnel {
    /// Called for every event that took effect, in order of time. An observer cannot change the session.
    fn observe(&mut self, _at: Time, event: Event) {
        match event {
            Event::FishNotices { .. } => self.noticed += 1,
            Event::FishArrives { .. } => self.arrived += 1,
            Event::FishTakes { .. } => self.bites += 1,
            Event::FishIsHooked { .. } => self.hooked += 1,
            Event::FishIsNetted { .. } => self.landed += 1,
            _ => {}
        }
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let scenario = load(Path::new("scenarios/first-try.toml"), &[])?;
    println!("{:<12} noticed  arrived    bites   hooked   landed   (a day)", "plan");
    for plan in &scenario.plans {
        let mut funnel = Funnel::default();
        for number in 1..=DAYS {
            let day = Day::draw(&scenario, SEED, number);
            let _outcome = observe_session(&scenario, plan, &day, &mut funnel);
        }
        let Funnel { noticed, arrived, bites, hooked, landed } = funnel;
        let steps = [noticed, arrived, bites, hooked, landed];
        let a_day = steps.map(|count| format!("{:>7.1}", f64::from(count) / f64::from(DAYS)));
        println!("{:<12} {}", plan.name, a_day.join("  "));
    }
    Ok(())
}
