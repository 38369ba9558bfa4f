//! Rules of a plan: when they fire, which one wins, and that a rule without effect changes nothing.

use std::path::Path;

use sim::engine::EventLog;
use sim::report::{ComparisonDocument, rules_fired_sentences, warning_text};
use sim::scenario::{Scenario, Units, load, read};
use sim::session::{Day, Event, Outcome, observe_session, run_session};
use sim::study::{Compare, DayOutcomes};
use sim::water::LineId;

use crate::pond::compared;

/// A water without fish, with two lines, and a plan with rules that fishes `open`.
fn fishless(rules: &str) -> Scenario {
    let text = format!(
        r#"
        line.open.distance = "20 m"
        line.margin.distance = "8 m"
        [plan.a]
        line = "open"
        recast = "4 min"
        feed.open = {{ every = "3 min", amount = "6 g" }}
        {rules}
        "#
    );
    read(&text, "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Everything that happens on the first day of a scenario's only plan [s].
fn seen(scenario: &Scenario) -> (Vec<(f64, Event)>, Outcome) {
    let mut record = EventLog::default();
    let day = Day::draw(scenario, 1, 1);
    let outcome = observe_session(scenario, &scenario.plans[0], &day, &mut record);
    (record.events.into_iter().map(|(at, event)| (at.seconds(), event)).collect(), outcome)
}

/// The rules that fired, with their times [s].
fn firings(scenario: &Scenario) -> Vec<(usize, f64)> {
    let fired = |(at_s, event): &(f64, Event)| match *event {
        Event::RuleFires { rule, .. } => Some((rule, *at_s)),
        _ => None,
    };
    seen(scenario).0.iter().filter_map(fired).collect()
}

/// Checks that rules fired at these minutes, to the microsecond.
#[track_caller]
fn fired_at(scenario: &Scenario, expected: &[(usize, f64)]) {
    let firings_of_plan = firings(scenario);
    let same = firings_of_plan.len() == expected.len()
        && firings_of_plan.iter().zip(expected).all(|(firings_of_plan, expected)| {
            firings_of_plan.0 == expected.0 && (firings_of_plan.1 - 60.0 * expected.1).abs() < 2e-6
        });
    assert!(same, "rules fired at {firings_of_plan:?} s, expected {expected:?} min");
}

#[test]
fn a_plan_whose_rules_never_fire_has_the_same_outcome_as_without_rules() {
    let demo = load(Path::new("tests/waters/two-shoals.toml"), &[]).expect("the demo is sound");
    let text = std::fs::read_to_string("tests/waters/two-shoals.toml").expect("the demo");
    // Each rule waits for time and bites, so that the angler keeps checking; none fires.
    let rules: String = ["two-minutes", "open-pellets", "island-then-open"]
        .iter()
        .map(|plan| {
            format!(
                "[plan.{plan}.rule.never]\nno_bite_for = \"1 min\"\nbites_at_least = 900\n\
                 recast = \"17 min\"\nfeed.island.amount = \"90 g\"\n\
                 [plan.{plan}.rule.hardly]\nbites_at_least = 900\nafter = \"30 min\"\n\
                 fish_show = 900\nload = \"1 g\"\nfeed.open.every = \"20 s\"\n"
            )
        })
        .collect();
    let with = read(&format!("{text}\n{rules}"), "two-shoals", &[])
        .unwrap_or_else(|faults| panic!("{faults}"));
    for number in 1..=3 {
        let day = Day::draw(&demo, 1, number);
        for (plan, same) in demo.plans.iter().zip(&with.plans) {
            let bare = run_session(&demo, plan, &day);
            let mut ruled = run_session(&with, same, &day);
            assert!(bare.fired.is_empty() && ruled.fired.iter().all(|&times| times == 0));
            ruled.fired.clear();
            assert_eq!(bare, ruled, "{} on day {number}", plan.name);
        }
    }
}

#[test]
fn rules_give_the_same_bytes_on_any_number_of_threads() {
    let scenario =
        load(Path::new("tests/waters/reacting.toml"), &[]).expect("the example is sound");
    let run = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| {
            let compared = compared(&scenario, 1, 6);
            let document = ComparisonDocument::new(&compared, &scenario, Units::Metric);
            serde_json::to_string(&document).expect("a comparison can be written")
        })
    };
    let one = run(1);
    assert!(one.contains("to-the-margin") && one.contains("days_share"));
    assert!(one == run(3), "three threads gave a different result from one");
}

#[test]
fn a_rule_changes_the_line_after_the_stated_time_without_a_bite() {
    let scenario = fishless(
        "rule.switch = { no_bite_for = \"12 min\", line = \"margin\", lasts = \"all session\" }",
    );
    fired_at(&scenario, &[(0, 12.0)]);
    let lines: Vec<(f64, LineId)> = seen(&scenario)
        .0
        .into_iter()
        .filter_map(|(at_s, event)| match event {
            Event::RigIsCast { line, .. } => Some((at_s, line)),
            _ => None,
        })
        .collect();
    assert!(lines.iter().all(|&(at_s, line)| (line == LineId(1)) == (at_s > 720.0)), "{lines:?}");
    assert!(lines.last().is_some_and(|&(_, line)| line == LineId(1)));
}

#[test]
fn quiet_and_rest_are_counted_from_the_change_of_line() {
    // To the margin at 12; back at 32, once the open line has rested for 20 min; away again 12 min later, and so on.
    let scenario = fishless(
        r#"rule.out = { on_line = "open", no_bite_for = "12 min", line = "margin" }
        rule.back = { on_line = "margin", no_bite_for = "5 min", rested_for = "20 min", line = "open" }
        "#,
    );
    let expected: Vec<(usize, f64)> = (0..9)
        .flat_map(|n| [(0, 12.0 + 32.0 * f64::from(n)), (1, 32.0 + 32.0 * f64::from(n))])
        .collect();
    fired_at(&scenario, &expected);
}

#[test]
fn the_choice_of_a_rule_lasts_its_time_and_the_rule_fires_again_after_its_rest() {
    let rule = |more: &str| {
        fishless(&format!(
            "rule.r = {{ after = \"1 h\", recast = \"1 min\", lasts = \"10 min\", {more} }}"
        ))
    };
    let every_20: Vec<(usize, f64)> = (0..12).map(|n| (0, 60.0 + 20.0 * f64::from(n))).collect();
    fired_at(&rule("again_after = \"20 min\""), &every_20);
    fired_at(&rule("again_after = \"20 min\", at_most = 2"), &every_20[..2]);
    // Without a rest it is renewed as soon as it ends.
    let every_10: Vec<(usize, f64)> = (0..24).map(|n| (0, 60.0 + 10.0 * f64::from(n))).collect();
    fired_at(&rule("again_after = \"0 s\""), &every_10);
    fired_at(&rule("time_left = \"30 min\""), &[(0, 270.0), (0, 280.0), (0, 290.0)]);
}

#[test]
fn of_two_rules_that_hold_together_the_first_in_the_file_wins() {
    let first = "rule.quick = { no_bite_for = \"10 min\", recast = \"1 min\" }";
    let second = "rule.slow = { no_bite_for = \"9 min\", after = \"10 min\", recast = \"9 min\" }";
    for (rules, minutes) in [([first, second], 1.0), ([second, first], 9.0)] {
        let scenario = fishless(&rules.join("\n"));
        let firings_of_plan = firings(&scenario);
        assert_eq!(firings_of_plan.len(), 1, "{firings_of_plan:?} with {minutes} min listed first");
        assert_eq!(firings_of_plan[0].0, 0, "the first in the file");
    }
    // Rules that change different things do not exclude each other.
    let third = "rule.load = { no_bite_for = \"10 min\", load = \"50 g\" }";
    fired_at(&fishless(&[first, third].join("\n")), &[(0, 10.0), (1, 10.0)]);
}

#[test]
fn the_next_phase_ends_the_choice_of_a_rule_unless_the_rule_lasts_longer() {
    let phases = "[plan.a.phase.1]\nuntil = \"2 h\"\n[plan.a.phase.2]\nrecast = \"6 min\"\n";
    let rule = |lasts: &str| {
        fishless(&format!(
            "feed.margin = {{ amount = \"5 g\", from = \"1 h\", until = \"90 min\" }}\n{phases}\
             [plan.a.rule.r]\non_line = \"open\"\nno_bite_for = \"30 min\"\nat_most = 1\n\
             line = \"margin\"\n{lasts}"
        ))
    };
    let last_line = |scenario: &Scenario| {
        let cast = |(_, event): &(f64, Event)| match *event {
            Event::RigIsCast { line, .. } => Some(line),
            _ => None,
        };
        seen(scenario).0.iter().filter_map(cast).next_back()
    };
    let over = |scenario: &Scenario| {
        let ends =
            |(at_s, event): &(f64, Event)| matches!(event, Event::RuleEnds { .. }).then_some(*at_s);
        seen(scenario).0.iter().find_map(ends)
    };
    // Feed that begins or ends within the first phase does not end the choice.
    assert_eq!(over(&rule("")), Some(7200.0));
    assert_eq!(last_line(&rule("")), Some(LineId(0)));
    assert_eq!(over(&rule("lasts = \"all session\"")), None);
    assert_eq!(last_line(&rule("lasts = \"all session\"")), Some(LineId(1)));
}

#[test]
fn feed_changed_by_a_rule_keeps_its_timing_and_returns_to_the_plan() {
    let scenario = fishless(
        r#"rule.harder = { after = "61 min", at_most = 1, lasts = "10 min", feed.open = { every = "1 min", amount = "12 g" } }"#,
    );
    let due: Vec<f64> = seen(&scenario)
        .0
        .iter()
        .filter_map(|(at_s, event)| {
            matches!(event, Event::LooseFeedDue { .. }).then_some(at_s / 60.0)
        })
        .collect();
    // Every three minutes from the start. The throw at 60 min is followed after one minute, as soon as the rule
    // fires; the last of the frequent ones, at 70 or 71 min, is followed three minutes later.
    let lately = |from: f64, until: f64| {
        due.iter().copied().filter(|&at| at > from && at < until).collect::<Vec<_>>()
    };
    assert_eq!(lately(50.0, 60.5), [51.0, 54.0, 57.0, 60.0]);
    let quick = lately(60.5, 70.5);
    assert_eq!(quick.len(), 10, "{quick:?}");
    let after = lately(70.5, 80.0);
    assert!(after.windows(2).all(|two| two[1] - two[0] > 2.9), "{after:?}");
    let thrown_kg = |from_s: f64, until_s: f64| -> f64 {
        let mass = |&(at_s, event): &(f64, Event)| match event {
            Event::LooseFeedThrown { mass_kg, .. } if at_s > from_s && at_s < until_s => mass_kg,
            _ => 0.0,
        };
        seen(&scenario).0.iter().map(mass).sum()
    };
    let harder_kg = thrown_kg(3660.0, 4260.0);
    assert!((harder_kg - 0.120).abs() < 0.025, "{harder_kg} kg in ten minutes");
}

#[test]
fn a_rule_on_being_behind_fires_when_the_target_pace_is_missed_by_its_amount() {
    // Nothing is caught: with a target of 10 kg in five hours, the plan is 3 kg behind after an hour and a half.
    let scenario = fishless("target = \"10 kg\"\nrule.r = { behind = \"3 kg\", load = \"50 g\" }");
    fired_at(&scenario, &[(0, 90.0)]);
    let ahead = fishless("target = \"10 kg\"\nrule.r = { ahead = \"1 g\", load = \"50 g\" }");
    fired_at(&ahead, &[]);
}

#[test]
fn a_rule_uses_only_what_can_be_seen_from_the_bank() {
    // A rule may use only bites, shows, line bites and netted fish that were recorded as events. They are counted
    // again here.
    let scenario =
        load(Path::new("tests/waters/reacting.toml"), &[]).expect("the example is sound");
    let plan = scenario.plans.iter().position(|plan| plan.name == "feed-harder-when-fish-show");
    let plan = &scenario.plans[plan.expect("the plan is there")];
    let mut fired = 0;
    for number in 1..=6 {
        let day = Day::draw(&scenario, 1, number);
        let mut record = EventLog::default();
        let _ = observe_session(&scenario, plan, &day, &mut record);
        for (nth, (at, event)) in record.events.iter().enumerate() {
            let Event::RuleFires { shows, .. } = *event else { continue };
            fired += 1;
            let lately = record.events[..nth]
                .iter()
                .filter(|(then, _)| at.seconds_since(*then) < 360.0)
                .filter(|(_, event)| matches!(event, Event::FishShows { line: LineId(0), .. }))
                .count();
            assert_eq!(usize::from(shows), lately, "day {number} at {} s", at.seconds());
        }
    }
    assert!(fired > 0, "no rule fired on six days, so nothing is tested");
}

#[test]
fn a_comparison_reports_how_often_each_rule_fired() {
    let mut scenario = load(Path::new("tests/waters/reacting.toml"), &[]).expect("sound");
    scenario.plans.retain(|plan| plan.name == "switch-when-bites-slow");
    scenario.plans[0].rules.list[1].max_firings = Some(0);
    let mut fired = [0_u32; 2];
    let count = |day: &DayOutcomes| {
        let outcome = &day.outcomes[0];
        fired.iter_mut().zip(&outcome.fired).for_each(|(sum, times)| *sum += times);
    };
    let firings_of_plan = Compare::new(&scenario).days(4).on_day(count).run();
    let rules = &firings_of_plan.plans[0].rules;
    assert!((rules[0].mean - f64::from(fired[0]) / 4.0).abs() < 1e-12 && fired[0] > 0);
    assert!((rules[0].days_share - 1.0).abs() < 1e-12 && fired[1] == 0);
    let message = rules_fired_sentences(&firings_of_plan);
    assert_eq!(message.len(), 1);
    assert!(message[0].starts_with("switch-when-bites-slow: to-the-margin fired"), "{message:?}");
    assert!(
        message[0].ends_with("on 100\u{a0}% of days; back-to-the-open never fired."),
        "{message:?}"
    );
    let silent = firings_of_plan.warnings.iter().find(|warning| warning.kind() == "silent-rule");
    assert!(silent.is_some_and(|warning| {
        warning_text(warning, Units::Metric).contains("back-to-the-open")
    }));
}
