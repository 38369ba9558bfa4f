//! A recorded day on the page is the day of the command line.

use serde_json::Value;
use sim::fish::FishId;
use sim::scenario::{Scenario, read};
use sim::session::{Day, Recording, record_session, run_session};

use super::server::{PageServer, query};

fn demo() -> Scenario {
    let text = include_str!("../../waters/two-shoals.toml");
    read(text, "two-shoals", &[]).expect("the test water is sound")
}

fn recorded(scenario: &Scenario, plan: usize, day: &Day) -> Recording {
    record_session(scenario, &scenario.plans[plan], day, 1_000_000).expect("a day of the demo fits")
}

#[test]
fn a_recorded_session_has_the_same_outcome_as_an_unrecorded_one() {
    let scenario = demo();
    for (plan, number) in [(0, 1), (2, 3), (3, 2)] {
        let day = Day::draw(&scenario, 1, number);
        let unseen = run_session(&scenario, &scenario.plans[plan], &day);
        assert_eq!(recorded(&scenario, plan, &day).outcome, unseen, "plan {plan}, day {number}");
    }
}

#[test]
fn every_fish_is_in_the_water_at_all_times_and_moves_without_jumps() {
    let scenario = demo();
    let day = Day::draw(&scenario, 1, 1);
    let film = recorded(&scenario, 3, &day);
    for fish in 0..day.stock.len() {
        let moves: Vec<_> = film.moves.iter().filter(|one| one.fish == FishId(fish)).collect();
        assert!(moves[0].at_s == 0.0, "fish {fish} is placed at the start");
        for two in moves.windows(2) {
            let (one, next) = (two[0], two[1]);
            let whole_s = one.ends_s - one.at_s;
            let share =
                if whole_s > 0.0 { ((next.at_s - one.at_s) / whole_s).min(1.0) } else { 1.0 };
            let there = one.from.towards(one.to, share);
            // The end of a leg is rounded to a microsecond, in which a fish of a few m/s moves micrometres.
            assert!(there.distance_m(next.from) < 1e-3, "fish {fish} jumps at {} s", next.at_s);
            let clamped = scenario.chart.clamp(next.to);
            assert!(clamped.distance_m(next.to) < 1e-6, "fish {fish} swims ashore");
        }
    }
}

#[test]
fn a_recording_that_would_be_too_long_is_refused() {
    let scenario = demo();
    let day = Day::draw(&scenario, 1, 1);
    assert!(record_session(&scenario, &scenario.plans[0], &day, 100).is_none());
}

#[test]
fn the_page_replays_what_the_command_line_replays() {
    let served = PageServer::pond();
    let targets = query(&[("scenario", "pond"), ("plan", "often"), ("day", "3"), ("seed", "2")]);
    let film = served.get(&format!("/api/film?{targets}")).json();
    let output = super::server::program()
        .current_dir(served.path("waters"))
        .args(["replay", "pond.toml", "--plan", "often", "--day", "3", "--seed", "2", "--json"])
        .output()
        .expect("the program runs");
    let printed = String::from_utf8(output.stdout).expect("text");
    let lines: Vec<Value> =
        printed.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let outcome = &lines.last().expect("an outcome")["outcome"];
    assert_eq!(film["weight_g"], outcome["weight_g"]);
    assert_eq!(
        film["catches"].as_array().map(Vec::len),
        outcome["fish"].as_u64().map(|fish| fish as usize)
    );
    let happened = |name: &str| lines.iter().filter(|line| line["event"] == name).count();
    let shown_events = film["events"].as_array().expect("what happened");
    for name in ["rig-is-cast", "fish-notices", "fish-arrives", "fish-leaves", "feeder-lands"] {
        let shown = shown_events.iter().filter(|row| row[1] == name).count();
        assert_eq!(shown, happened(name), "{name}");
    }
    let eaten = film["mouthfuls"].as_array().map(Vec::len);
    assert_eq!(eaten, Some(happened("fish-eats")));
    // Each fish that notices a line has a reason: scent, company, splash or loose feed.
    let noticing: Vec<&Value> =
        film["moves"].as_array().expect("moves").iter().filter(|row| row[7] == 1).collect();
    assert!(!noticing.is_empty());
    for row in noticing {
        let why = row[9].as_u64().expect("a reason");
        assert!((1..=4).contains(&why), "{row}");
    }
}
