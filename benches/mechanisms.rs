//! What each mechanism of the model costs: events of ten sessions of the demo without it. With a number, only the sessions
//! without that mechanism (0: with all of them), for `mechanisms.py`, which counts their instructions.

use std::hint::black_box;
use std::path::Path;

use sim::scenario::{Mechanism, Scenario, load};
use sim::session::{Day, run_session};

/// Number of days, the same ones for every mechanism.
const DAYS: u32 = 10;

/// The demo with all mechanisms, or without one of them.
fn demo(without: Option<Mechanism>) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/tern-bar.toml");
    let mut scenario = load(&path, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    if let Some(mechanism) = without {
        scenario.switch_off(mechanism);
    }
    scenario
}

/// Events of the first plan's sessions.
fn events(scenario: &Scenario) -> u64 {
    let days = (1..=DAYS).map(|number| Day::draw(scenario, 1, number));
    days.map(|day| black_box(run_session(scenario, &scenario.plans[0], &day)).swim.events).sum()
}

fn main() {
    let cases: Vec<Option<Mechanism>> =
        std::iter::once(None).chain(Mechanism::ALL.map(Some)).collect();
    let wanted = std::env::args().find_map(|word| word.parse::<usize>().ok());
    for (number, without) in cases.iter().enumerate() {
        if wanted.is_none_or(|wanted| wanted == number) {
            let words = without.map_or("none", Mechanism::words);
            println!("{number}\t{words}\t{}", events(&demo(*without)));
        }
    }
}
