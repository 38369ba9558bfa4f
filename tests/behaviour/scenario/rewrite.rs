//! A scenario rewritten with new values means the same as the original with overrides.

use sim::scenario::{Scenario, ScenarioEdit, ScenarioSource, WrittenScenario, read, rewrite};

const DEMO: &str = include_str!("../../waters/two-shoals.toml");
const FIRST: &str = include_str!("../../../scenarios/first-try.toml");
/// A plan written as dotted keys without a table.
const DOTTED: &str =
    "line.bar.distance = \"20 m\"\nshoal.all.count = 40\nplan.a.recast = \"2 min\" # so\n";

/// A scenario without the hash of its text.
fn meaning(mut scenario: Scenario) -> Scenario {
    scenario.sha256.clear();
    scenario.written = WrittenScenario::default();
    scenario
}

fn written(text: &str, change: ScenarioEdit<'_>) -> String {
    rewrite(&ScenarioSource::new(text, "water"), change)
        .unwrap_or_else(|faults| panic!("{faults}"))
        .text
}

#[test]
fn a_value_written_into_the_text_equals_the_same_override() {
    for (text, set) in [
        (DEMO, "plan.two-minutes.recast=90 s"),
        (DEMO, "plan.two-minutes.load_style=buried"),
        (DEMO, "plan.two-minutes.feed.island.amount=8 g"),
        (DEMO, "plan.open-pellets.feed.open.every=\"90 s\""),
        (DEMO, "plan.island-then-open.phase.2.recast=4 min"),
        (DEMO, "shoal.residents.count=40"),
        (DEMO, "shoal.residents.count={ low = 10, high = 20 }"),
        (DEMO, "water.temperature.low=16 C"),
        (DEMO, "keepnet.nets=4"),
        (DEMO, "title=Another water"),
        (FIRST, "plan.every-two.hookbait=banded-pellet"),
        (FIRST, "water.wind=10 km/h"),
        (FIRST, "session.length=3 h"),
        (DOTTED, "plan.a.recast=7 min"),
        (DOTTED, "plan.a.feed.bar.amount=5 g"),
    ] {
        let sets = [set.to_owned()];
        let inside = written(text, ScenarioEdit { sets: &sets, ..ScenarioEdit::default() });
        let from_inside = read(&inside, "water", &[]).expect("what was written is sound");
        let from_outside = read(text, "water", &sets).expect("the value is sound");
        assert_eq!(meaning(from_inside), meaning(from_outside), "{set}");
        let comments = |text: &str| text.matches('#').count();
        assert_eq!(comments(&inside), comments(text), "comments stay: {set}");
    }
}

#[test]
fn a_copied_plan_equals_its_original_and_plans_not_kept_are_removed() {
    for (text, plan) in [(DEMO, "island-then-open"), (FIRST, "every-five"), (DOTTED, "a")] {
        let copies = [(plan.to_owned(), "copy".to_owned())];
        let keep = ["copy".to_owned()];
        let inside =
            written(text, ScenarioEdit { copies: &copies, keep: &keep, ..ScenarioEdit::default() });
        let found = read(&inside, "water", &[]).expect("sound");
        let whole = read(text, "water", &[]).expect("sound");
        let original = whole.plans.iter().find(|known| known.name == plan).expect("there");
        assert_eq!(found.plans.len(), 1);
        assert_eq!(found.plans[0].phases, original.phases, "{plan}");
    }
}

#[test]
fn values_that_cannot_be_written_are_reported() {
    let set = |set: &str| {
        let sets = [set.to_owned()];
        let faults = rewrite(
            &ScenarioSource::new(DEMO, "water"),
            ScenarioEdit { sets: &sets, ..ScenarioEdit::default() },
        );
        faults.expect_err("it is wrong").to_string()
    };
    assert!(set("plan.two-minutes.recast=ten").contains("--set: plan.two-minutes.recast"));
    assert!(set("plan.nobody.recast=2 min").contains("nobody"));
    assert!(set("line=3").contains("line"));
    let copy = |from: &str, to: &str| {
        let copies = [(from.to_owned(), to.to_owned())];
        let faults = rewrite(
            &ScenarioSource::new(DEMO, "water"),
            ScenarioEdit { copies: &copies, ..ScenarioEdit::default() },
        );
        faults.expect_err("it is wrong").to_string()
    };
    assert!(copy("nobody", "x").contains("no plan named \"nobody\""));
    assert!(copy("two-minutes", "ten-minutes").contains("cannot be the name of a copy"));
    assert!(copy("two-minutes", "a.b").contains("cannot be the name of a copy"));
    let keep = ["nobody".to_owned()];
    let kept = rewrite(
        &ScenarioSource::new(DEMO, "water"),
        ScenarioEdit { keep: &keep, ..ScenarioEdit::default() },
    );
    assert!(kept.expect_err("it is wrong").to_string().contains("nobody"));
    let broken = rewrite(&ScenarioSource::new("plan = [", "water"), ScenarioEdit::default());
    assert!(broken.expect_err("no TOML").to_string().contains("water.toml:1"));
}
