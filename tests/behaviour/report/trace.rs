//! Events told in words.

use sim::report::{TraceNames, trace_line};
use sim::session::{Event, Gone};

#[test]
fn an_event_is_told_with_its_time_and_names() {
    let names = TraceNames {
        lines: vec!["reed-bar".to_owned()],
        fish: vec!["4 lb 3 oz of residents".to_owned()],
        rules: Vec::new(),
    };
    let told = |t_s, event| trace_line(t_s, &event, &names);
    assert_eq!(told(0.0, Event::RigIsCast { cast: 1, line: 0 }), "0:00:00  cast 1 to reed-bar");
    assert_eq!(
        told(3_729.2, Event::FishIsNetted { fish: 0 }),
        "1:02:09  fish 1 (4 lb 3 oz of residents) is netted"
    );
    let leaves = Event::FishLeaves { fish: 11, line: 4, why: Gone::Startled };
    assert_eq!(told(60.0, leaves), "0:01:00  fish 12 leaves line 5: startled");
    let thrown = Event::LooseFeedThrown { line: 0, mass_kg: 0.0496 };
    assert_eq!(told(1.0, thrown), "0:00:01  50 g of loose feed lands on reed-bar");
}
