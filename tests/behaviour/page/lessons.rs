//! Lessons of one's own: plain files next to a scenario, with clear faults.

use std::fs;

use super::server::{PageServer, program, query};

/// A lesson on the pond, with choices that are settings of its plans.
const LESSONS: &str = r#"# A lesson on an invented pond.
[lesson.patience]
title = "Patience"
question = "How long should you wait?"
look = "Watch a day: what comes to the bait?"
answer = "Ask what the fish were doing meanwhile."
plan = "often"
choice.short.recast = "90 s"
choice.long.recast = "5 min"
choice.other-plan = { plan = "seldom", feed.margin.amount = "9 g" }
"#;

fn with_lessons(text: &'static str) -> PageServer {
    PageServer::of("waters/pond.toml", move |waters| {
        fs::write(waters.join("pond.lessons.toml"), LESSONS).expect("a file");
        fs::copy(waters.join("pond.toml"), waters.join("other.toml")).expect("a copy");
        fs::write(waters.join("other.lessons.toml"), text).expect("a file");
    })
}

#[test]
fn lessons_beside_a_scenario_are_offered_before_the_built_in_ones() {
    let served = with_lessons(LESSONS);
    let document = served.get("/api/lessons").json();
    assert_eq!(document["faults"].as_array().map(Vec::len), Some(0), "{document}");
    let lessons = document["lessons"].as_array().expect("a list");
    let of = |index: usize| (lessons[index]["scenario"].clone(), lessons[index]["name"].clone());
    assert_eq!(of(0), ("other".into(), "patience".into()));
    assert_eq!(of(1), ("pond".into(), "patience".into()));
    assert_eq!(of(2), ("built-in.tern-bar".into(), "on-the-bar".into()));
    let choice = &lessons[1]["choices"][2];
    assert_eq!(choice["plan"], "seldom");
    assert_eq!(choice["sets"], serde_json::json!([["feed.margin.amount", "9 g"]]));
    let names = served.get("/api/shelf").json()["scenarios"].to_string();
    assert!(!names.contains("lessons"), "a file of lessons is no scenario: {names}");
}

#[test]
fn the_choices_of_every_built_in_lesson_can_be_fished() {
    let served = PageServer::pond();
    let lessons = served.get("/api/lessons").json();
    let lessons = lessons["lessons"].as_array().expect("a list").clone();
    assert_eq!(lessons.len(), 5);
    for lesson in &lessons {
        let mut pairs =
            vec![("scenario".to_owned(), lesson["scenario"].as_str().expect("a name").to_owned())];
        for choice in lesson["choices"].as_array().expect("a list") {
            let (name, plan) = (
                choice["name"].as_str().expect("a name"),
                choice["plan"].as_str().expect("a plan"),
            );
            pairs.push(("copy".to_owned(), format!("{plan}:{name}")));
            for set in choice["sets"].as_array().expect("a list") {
                let (key, value) =
                    (set[0].as_str().expect("a key"), set[1].as_str().expect("a value"));
                pairs.push(("set".to_owned(), format!("plan.{name}.{key}={value}")));
            }
        }
        let pairs: Vec<(&str, &str)> =
            pairs.iter().map(|(key, value)| (key.as_str(), value.as_str())).collect();
        let answer = served.get(&format!("/api/scenario?{}", query(&pairs)));
        assert_eq!(answer.status, 200, "{lesson}: {}", answer.body);
    }
}

#[test]
fn faults_of_lessons_name_file_and_line_and_the_others_are_still_offered() {
    let served = with_lessons(
        "[lesson.a]\ntitle = \"A\"\nquestoin = \"?\"\nlook = \"b\"\nplan = \"often\"\nchoice.one.recast = \"ten\"\nchoice.two.laod = \"5 g\"\n",
    );
    let document = served.get("/api/lessons").json();
    let faults = document["faults"].to_string();
    for part in [
        "other.lessons.toml:3: lesson.a.questoin: no such key; did you mean `question`?",
        "lesson.a.question: is missing",
        "other.lessons.toml:6: lesson.a.choice.one.recast: ",
        "other.lessons.toml:7: lesson.a.choice.two.laod: no such key; did you mean `lesson.a.choice.two.load`?",
    ] {
        assert!(faults.contains(part), "{part} in {faults}");
    }
    assert_eq!(document["lessons"][0]["scenario"], "pond");
}

#[test]
fn lessons_with_faults_stop_the_page_and_a_check() {
    let folder = tempfile::tempdir().expect("a folder");
    let scenario = folder.path().join("bar.toml");
    fs::copy("scenarios/tern-bar.toml", &scenario).expect("a copy");
    for (text, words) in [
        ("lesson.a.title = 5", "bar.lessons.toml:1: lesson.a.title: is no text"),
        ("", "bar.lessons.toml: has no lesson"),
        (
            "[lesson.a]\ntitle = \"t\"\nquestion = \"q\"\nlook = \"l\"\nchoice.x.plan = \"nobody\"\nchoice.y.load = \"5 g\"",
            "has no plan",
        ),
        (
            "[lesson.a]\ntitle = \"t\"\nquestion = \"q\"\nlook = \"l\"\nchoice.x.plan = \"nobody\"\nchoice.y.plan = \"bar-lead\"",
            "nobody",
        ),
        (
            "[lesson.a]\ntitle = \"t\"\nquestion = \"q\"\nlook = \"l\"\nplan = \"bar-lead\"\nchoice.x.recast = \"2 min\"",
            "has 1 choices; write 2 to 4 tables",
        ),
        (
            "lesson.a.title = \"a\u{202e}b\"",
            "lesson.a.title: \"a\\u{202e}b\" has hidden characters",
        ),
        ("[lesson.a\n", "bar.lessons.toml:1:"),
    ] {
        fs::write(folder.path().join("bar.lessons.toml"), text).expect("a file");
        for command in [&["check"][..], &["page", "--no-open"]] {
            let output = program().args(command).arg(&scenario).output().expect("the program runs");
            let said = String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(2), "{command:?} with {text:?}: {said}");
            assert!(said.contains(words), "{words} in {said}");
        }
    }
    fs::copy("scenarios/tern-bar.lessons.toml", folder.path().join("bar.lessons.toml"))
        .expect("a copy");
    let output = program().arg("check").arg(&scenario).output().expect("the program runs");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success() && said.contains("5 lessons"), "{said}");
}
