//! Line and hook: where they may be stated, and that nothing changes where they are not.

use sim::angler::{EndTackle, HookSize};
use sim::engine::EventLog;
use sim::scenario::{Mechanism, Scenario, read};
use sim::session::{Day, Event, Outcome, observe_session, run_session};

/// A clear water with two lines and one plan in two phases.
fn water(sets: &[&str]) -> Scenario {
    let text = r#"
        session.length = "3 h"
        water.clarity = "clear"
        line.near = { distance = "12 m" }
        line.far = { distance = "30 m" }
        shoal.carp = { count = 80, weight = "3 kg", home = "near" }
        [plan.a]
        recast = "4 min"
        phase.1 = { until = "1 h", line = "near" }
        phase.2 = { line = "far" }
        [plan.a.rule.lost]
        fish_lost = 1
        recast = "3 min"
        lasts = "all session"
    "#;
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    read(text, "two", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

fn outcomes(scenario: &Scenario) -> Vec<Outcome> {
    let fish = |number| {
        let day = Day::draw(scenario, 1, number);
        run_session(scenario, &scenario.plans[0], &day)
    };
    (1..=10).map(fish).collect()
}

/// Line and hook of both phases of the plan.
fn of_phases(scenario: &Scenario) -> Vec<EndTackle> {
    scenario.plans[0].phases.iter().map(|phase| phase.tackle.end).collect()
}

fn line_of(kg: f64) -> EndTackle {
    EndTackle { line_strength_kg: Some(kg), hook: None }
}

#[test]
fn a_phase_overrides_the_plan_and_the_plan_the_line() {
    let plain = water(&[]);
    assert!(!plain.states_end_tackle());
    assert_eq!(of_phases(&plain), [EndTackle::default(); 2]);
    let planned = water(&["plan.a.line_strength=4 kg", "plan.a.phase.2.line_strength=2 kg"]);
    assert!(planned.states_end_tackle());
    assert_eq!(of_phases(&planned), [line_of(4.0), line_of(2.0)]);
    let by_line = water(&["line.far.line_strength=10 lb", "line.far.hook=strong"]);
    assert!(by_line.states_end_tackle());
    assert_eq!(of_phases(&by_line), [EndTackle::default(); 2]);
    let far = by_line.end_tackle[1];
    assert!((far.line_strength_kg.expect("stated") - 4.535_923_7).abs() < 1e-9);
    assert_eq!((far.hook, by_line.end_tackle[0]), (Some(HookSize::Strong), EndTackle::default()));
}

/// Said of the line, of each phase or of the plan, the same tackle gives the same sessions.
#[test]
fn the_same_tackle_gives_the_same_sessions_wherever_it_is_stated() {
    let both = ["line.near.line_strength=2 kg", "line.far.line_strength=2 kg"];
    let by_line = outcomes(&water(&both));
    assert!(by_line == outcomes(&water(&["plan.a.line_strength=2 kg"])), "line and plan");
    let phases = ["plan.a.phase.1.line_strength=2 kg", "plan.a.phase.2.line_strength=2 kg"];
    assert!(by_line == outcomes(&water(&phases)), "line and phases");
    // The plan has the last word.
    let overruled = [&both[..], &["plan.a.line_strength=6 kg"]].concat();
    assert!(outcomes(&water(&overruled)) == outcomes(&water(&["plan.a.line_strength=6 kg"])));
    assert!(by_line != outcomes(&water(&["plan.a.line_strength=6 kg"])), "strength matters");
    let small = outcomes(&water(&["plan.a.hook=small"]));
    assert!(small != outcomes(&water(&["plan.a.hook=strong"])), "the hook matters");
}

/// On ordinary tackle nothing changes, whether it is stated or not; nor does any tackle without its mechanism.
#[test]
fn ordinary_tackle_and_none_at_all_are_the_same() {
    let ordinary = "book.angler.ordinary_line_kg=3";
    let plain = outcomes(&water(&[ordinary]));
    let stated = outcomes(&water(&[ordinary, "plan.a.line_strength=3 kg", "plan.a.hook=middling"]));
    assert!(plain == stated, "stated ordinary tackle");
    let mut without = water(&[ordinary, "plan.a.line_strength=1 kg", "plan.a.hook=small"]);
    assert!(plain != outcomes(&without), "fine tackle");
    without.switch_off(Mechanism::EndTackle);
    assert!(plain == outcomes(&without), "without its mechanism");
}

/// A rule changes the tackle from the next cast on: with a line that breaks at once, fish are lost after it and not before.
#[test]
fn a_rule_changes_the_tackle_with_the_next_cast() {
    let rule = ["plan.a.rule.lost.line_strength=0.2 kg", "plan.a.line_strength=30 kg"];
    let certain = ["book.angler.lands_share=0.85", "book.angler.line_strain_per_kg=0.4"];
    let scenario = water(&[&rule[..], &certain].concat());
    let (mut before, mut after) = ([0_u32; 2], [0_u32; 2]);
    for number in 1..=60 {
        let mut record = EventLog::default();
        let day = Day::draw(&scenario, 1, number);
        observe_session(&scenario, &scenario.plans[0], &day, &mut record);
        let mut has_fired = false;
        for (_, event) in record.events {
            let counts = if has_fired { &mut after } else { &mut before };
            match event {
                Event::FishIsNetted { .. } => counts[0] += 1,
                Event::FishIsLost { .. } => {
                    counts[1] += 1;
                    has_fired = true;
                }
                _ => {}
            }
        }
    }
    let share = |[netted, lost]: [u32; 2]| f64::from(lost) / f64::from(netted + lost);
    assert!(before[0] > 20 && after[1] > 10, "{before:?} {after:?}");
    assert!(share(before) < 0.2 && share(after) > 0.8, "{before:?} {after:?}");
}

#[test]
fn an_unknown_hook_and_a_line_of_no_strength_are_faults() {
    let text = "[line.a]\ndistance = \"20 m\"\n[shoal.c]\nweight = \"2 kg\"\n[plan.p]\n";
    for (key, word) in
        [("hook = \"size 12\"", "small"), ("line_strength = \"0 lb\"", "line_strength")]
    {
        let faults = read(&format!("{text}{key}\n"), "a", &[]).expect_err(key).to_string();
        assert!(faults.contains(word), "{faults}");
    }
}
