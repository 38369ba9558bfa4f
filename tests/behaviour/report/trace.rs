//! Lines of the trace: events in words.

use std::path::Path;

use sim::fish::FishId;
use sim::report::{EventNames, event_line};
use sim::scenario::{Units, load};
use sim::session::{Day, Event, LeaveReason};
use sim::water::LineId;

use super::sample::unbroken;

#[test]
fn a_line_of_the_trace_gives_time_and_names() {
    let names = EventNames {
        lines: vec!["reed-bar".to_owned()],
        fish: vec!["4 lb 3 oz of residents".to_owned()],
        rules: Vec::new(),
    };
    let message = |t_s, event| event_line(t_s, &event, &names);
    assert_eq!(
        message(0.0, Event::RigIsCast { cast: 1, line: LineId(0) }),
        "0:00:00  cast 1 to reed-bar"
    );
    assert_eq!(
        message(3_729.2, Event::FishIsNetted { fish: FishId(0) }),
        "1:02:09  fish 1 (4 lb 3 oz of residents) is netted"
    );
    let leaves =
        Event::FishLeaves { fish: FishId(11), line: LineId(4), why: LeaveReason::Startled };
    assert_eq!(message(60.0, leaves), "0:01:00  fish 12 leaves line 5: startled");
    let thrown = Event::LooseFeedThrown { line: LineId(0), mass_kg: 0.0496 };
    assert_eq!(message(1.0, thrown), unbroken("0:00:01  50 g of loose feed lands on reed-bar"));
}

#[test]
fn the_trace_says_why_a_rule_fires_and_what_it_changes() {
    let scenario =
        load(Path::new("tests/waters/reacting.toml"), &[]).expect("the example is sound");
    let plan = scenario.plans.iter().find(|plan| plan.name == "feed-harder-when-fish-show");
    let day = Day::draw(&scenario, 1, 1);
    let names = EventNames::new(&scenario, &day, Units::Metric).with_rules(
        plan.expect("the plan is there"),
        &scenario,
        Units::Metric,
    );
    let fires = Event::RuleFires {
        rule: 0,
        quiet_s: 0.0,
        bites: 0,
        missed: 0,
        shows: 1,
        line_bites: 0,
        lost: 0,
        landed: 0,
        foul_hooked: 0,
        guessed_kg: 0.0,
    };
    assert_eq!(
        event_line(60.0, &fires, &names),
        unbroken(
            "0:01:00  rule feed-harder: 1 fish shows over open within 6 min: feed open 10 g every 1 min 30 s, for \
             10 min"
        )
    );
    assert_eq!(
        event_line(61.0, &Event::RuleEnds { rule: 0 }, &names),
        "0:01:01  rule feed-harder ends"
    );
}
