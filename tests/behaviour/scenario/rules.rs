//! Error messages for rules that can never fire, do nothing, or contradict one another.

use super::reading::{contains_all, error_of, read_valid};

const TWO_LINES: &str = r#"line.open.distance = "20 m"
line.margin.distance = "8 m"
plan.a.line = "open"
"#;

/// The error message for a plan with these rules, which begin in line 4.
fn with(rules: &str) -> String {
    error_of(&format!("{TWO_LINES}{rules}\n"), &[])
}

fn sound(rules: &str) {
    let _ = read_valid(&format!("{TWO_LINES}{rules}\n"), &[]);
}

#[test]
fn a_rule_needs_a_condition_and_an_action() {
    let key = "pond.toml:4: plan.a.rule.r";
    contains_all(
        &with("plan.a.rule.r.recast = \"2 min\""),
        &[key, "has no condition", "no_bite_for"],
    );
    contains_all(
        &with("plan.a.rule.r.no_bite_for = \"9 min\""),
        &[key, "changes nothing", "recast"],
    );
    contains_all(
        &with("plan.a.rule.r = { after = \"1 h\", over = \"open\", recast = \"2 min\" }"),
        &["plan.a.rule.r.over", "fish_show"],
    );
    contains_all(
        &with("plan.a.rule.r = { after = \"1 h\", within = \"5 min\", recast = \"2 min\" }"),
        &["plan.a.rule.r.within", "bites_at_most"],
    );
    contains_all(
        &with("plan.a.rule.r = { rested_for = \"1 h\", recast = \"2 min\" }"),
        &["plan.a.rule.r.rested_for", "write line"],
    );
    contains_all(
        &with("plan.a.rule.r = { behind = \"1 kg\", recast = \"2 min\" }"),
        &["plan.a.rule.r.behind", "no target", "plan.a.target"],
    );
}

#[test]
fn a_rule_that_waits_longer_than_its_line_is_fished_is_reported() {
    let r = |ask: &str| format!("plan.a.rule.r = {{ {ask}, recast = \"2 min\" }}");
    contains_all(
        &with(&r("no_bite_for = \"6 h\"")),
        &["plan.a.rule.r.no_bite_for", "5 h", "never fire"],
    );
    contains_all(&with(&r("after = \"5 h\"")), &["plan.a.rule.r.after", "never fire"]);
    contains_all(
        &with(&r("bites_at_most = 1, within = \"5 h\"")),
        &["plan.a.rule.r.within", "never fire", "ask for less than 5 h"],
    );
    contains_all(
        &with(&r("after = \"4 h\", on_line = \"margin\"")),
        &["plan.a.rule.r.on_line", "no phase fishes \"margin\"", "never fire"],
    );
    sound(&r("no_bite_for = \"4 h 59 min\""));
    let phases = "[plan.a.phase.1]\nuntil = \"1 h\"\n[plan.a.phase.2]\nline = \"margin\"\n\
                  [plan.a.rule.r]\non_line = \"open\"\nrecast = \"2 min\"\n";
    let ask = |ask: &str| format!("{phases}{ask}");
    contains_all(&with(&ask("no_bite_for = \"61 min\"")), &["no_bite_for", "1 h without a break"]);
    contains_all(&with(&ask("after = \"90 min\"")), &["plan.a.rule.r.after", "until 1 h"]);
    contains_all(&with(&ask("time_left = \"4 h\"")), &["plan.a.rule.r.time_left", "until 1 h"]);
    contains_all(
        &with(&ask("no_bite_for = \"50 min\"\nafter = \"55 min\"\nrested_for = \"20 min\"")),
        &["plan.a.rule.r.rested_for", "write line"],
    );
    sound(&ask("no_bite_for = \"59 min\""));
    // A rule that changes to the line may stay there longer than the phase.
    sound(&format!(
        "{}\n[plan.a.rule.stay]\nafter = \"30 min\"\nline = \"open\"\nlasts = \"all session\"\nload = \"9 g\"",
        ask("no_bite_for = \"61 min\"")
    ));
}

#[test]
fn conditions_that_never_hold_together_are_reported() {
    let r = |ask: &str| {
        format!("plan.a.target = \"9 kg\"\nplan.a.rule.r = {{ {ask}, load = \"9 g\" }}")
    };
    contains_all(
        &with(&r("bites_at_least = 3, bites_at_most = 2")),
        &["pond.toml:5: plan.a.rule.r.bites_at_least", "never fire"],
    );
    contains_all(
        &with(&r("behind = \"1 kg\", ahead = \"1 kg\"")),
        &["plan.a.rule.r.ahead", "at once"],
    );
    contains_all(&with(&r("fish_show = 2")), &["plan.a.rule.r.fish_show", "nothing is loose fed"]);
    let fed = "plan.a.feed.open.amount = \"5 g\"\n";
    sound(&format!("{fed}{}", r("fish_show = 2")));
    contains_all(
        &with(&format!("{fed}{}", r("fish_show = 2, over = \"margin\""))),
        &["plan.a.rule.r.over", "over \"margin\"", "plan.a.feed.margin.amount"],
    );
}

#[test]
fn a_rule_that_changes_nothing_is_reported() {
    let same = "plan.a.rule.r = { after = \"1 h\", line = \"open\" }";
    contains_all(&with(same), &["pond.toml:4: plan.a.rule.r", "changes nothing"]);
    // Together with a rule that changes the line, it brings the angler back.
    sound(&format!(
        "{same}\nplan.a.rule.out = {{ no_bite_for = \"9 min\", on_line = \"open\", line = \"margin\" }}"
    ));
}

#[test]
fn contradicting_rules_are_reported() {
    let one = "plan.a.rule.one = { no_bite_for = \"9 min\", recast = \"2 min\" }\n";
    let two = "plan.a.rule.two = { no_bite_for = \"9 min\", recast = \"8 min\" }";
    contains_all(
        &with(&format!("{one}{two}")),
        &[
            "pond.toml:5: plan.a.rule.two",
            "the same conditions as the rule \"one\"",
            "other changes",
        ],
    );
    sound(&format!("{one}{}", two.replace("9 min", "10 min")));
    let out = "plan.a.rule.out = { on_line = \"open\", after = \"1 h\", line = \"margin\", again_after = \"0 s\" }\n";
    let back = "plan.a.rule.back = { on_line = \"margin\", after = \"1 h\", line = \"open\", again_after = \"0 s\" }";
    contains_all(
        &with(&format!("{out}{back}")),
        &["pond.toml:5: plan.a.rule.back", "changes the line back", "rested_for"],
    );
    sound(&format!("{out}{}", back.replace("0 s", "5 min")));
}

#[test]
fn rules_are_named_and_reached_from_the_command_line_and_keep_the_order_of_the_file() {
    let text = format!(
        "{TWO_LINES}[plan.a.rule.zeta]\nno_bite_for = \"9 min\"\nrecast = \"2 min\"\n\
         [plan.a.rule.alpha]\nno_bite_for = \"10 min\"\nload = \"9 g\"\n"
    );
    let scenario = read_valid(&text, &["plan.a.rule.zeta.no_bite_for=8 min"]);
    let rules = &scenario.plans[0].rules.list;
    assert_eq!([rules[0].name.as_str(), rules[1].name.as_str()], ["zeta", "alpha"]);
    assert_eq!(rules[0].condition.no_bite_for_s, Some(480.0));
    contains_all(
        &error_of(&text, &["plan.a.rule.zet.no_bite_for=8 min"]),
        &["--set: plan.a.rule.zet", "no rule named \"zet\"", "`plan.a.rule.zeta`"],
    );
    contains_all(
        &error_of(&text.replace("recast", "recats"), &[]),
        &["plan.a.rule.zeta.recats", "`plan.a.rule.zeta.recast`"],
    );
}

#[test]
fn reactions_that_can_never_come_are_reported() {
    let r = |ask: &str| format!("plan.a.rule.r = {{ {ask}, recast = \"2 min\" }}");
    contains_all(
        &with(&r("landed_at_least = 3, landed_at_most = 2")),
        &["plan.a.rule.r.landed_at_least", "is above landed_at_most (2)", "never fire"],
    );
    contains_all(
        &with(&r("bites_missed = 3, bites_at_most = 2")),
        &["plan.a.rule.r.bites_missed", "is above bites_at_most (2)", "never fire"],
    );
    contains_all(
        &with(&r("wind_at_least = \"20 km/h\", wind_at_most = \"10 km/h\"")),
        &["plan.a.rule.r.wind_at_least", "is above wind_at_most", "never fire"],
    );
    contains_all(
        &with(&r("landed_at_most = 1, within = \"6 h\"")),
        &["plan.a.rule.r.within", "ask for less than 5 h"],
    );
    contains_all(
        &with(&r("fish_lost = 1, of_last = 4")),
        &["plan.a.rule.r.of_last", "nothing asks about", "fish_below"],
    );
    contains_all(
        &with(&r("to_sunset = \"1 h\"")),
        &["plan.a.rule.r.to_sunset", "needs the date", "session.date"],
    );
    contains_all(
        &with(&r("clock_from = \"18:30\"")),
        &["plan.a.rule.r.clock_from", "session.start"],
    );
    contains_all(
        &with(&format!("{}\nsession.start = \"10:00\"", r("clock_from = \"half six\""))),
        &["plan.a.rule.r.clock_from", "is not a clock time"],
    );
    contains_all(
        &with(&format!("{}\nsession.start = \"10:00\"", r("clock_from = \"16:00\""))),
        &["plan.a.rule.r.clock_from", "until 5 h", "never fire"],
    );
    let date = "session = { start = \"10:00\", date = \"2026-07-01\" }";
    contains_all(
        &with(&format!("{}\n{date}", r("to_sunset = \"1 h\""))),
        &["plan.a.rule.r.to_sunset", "until 5 h", "never fire"],
    );
    sound(&format!("{}\n{date}", r("to_sunset = \"8 h\", clock_from = \"14:59\"")));
    sound(&r("fish_lost = 1, within = \"5 h\""));
    // What is counted on a line starts from zero there, so that the two rules do not change it back and forth at once.
    sound(
        "plan.a.rule.out = { on_line = \"open\", fish_lost = 1, line = \"margin\", again_after = \"0 s\" }\n\
         plan.a.rule.back = { on_line = \"margin\", fish_lost = 1, line = \"open\", again_after = \"0 s\" }",
    );
}
