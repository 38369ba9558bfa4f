//! One day, event by event: fishes one plan on one day and prints what an angler could notice.
//!
//! Run with `cargo run --release --example one_day`.

use std::error::Error;
use std::path::Path;

use sim::{
    Day, Event, EventNames, Observer, Time, clock, event_line, load, observe_session, weight,
};

const SEED: u64 = 1;
const DAY: u32 = 1;

/// Prints the events that an angler could notice.
struct Printer {
    names: EventNames,
}

impl Observer<Event> for Printer {
    fn observe(&mut self, at: Time, event: Event) {
        let is_noticed = matches!(
            event,
            Event::RigIsCast { .. }
                | Event::FishTakes { .. }
                | Event::FishIsHooked { .. }
                | Event::FishIsNetted { .. }
                | Event::FishIsLost { .. }
                | Event::FishShows { .. }
                | Event::LineIsTouched { .. }
        );
        if is_noticed {
            println!("{}", event_line(at.seconds(), &event, &self.names));
        }
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    // The second argument has values to set instead of those in the file, as `--set` does.
    let scenario = load(Path::new("scenarios/first-try.toml"), &["session.length=2 h".to_owned()])?;

    // The day fixes weather, stock and all uncertain inputs. It is the same for every plan.
    let day = Day::draw(&scenario, SEED, DAY);
    println!("{} fish, water at {:.0} °C\n", day.stock.len(), day.conditions.temperature_c);

    let plan = &scenario.plans[0];
    let names = EventNames::new(&scenario, &day, scenario.units);
    let outcome = observe_session(&scenario, plan, &day, &mut Printer { names });

    let total = weight(outcome.weight_g as f64 / 1000.0, scenario.units);
    println!("\n{total} with {} fish after {}", outcome.catches.len(), clock(scenario.session_s));
    Ok(())
}
