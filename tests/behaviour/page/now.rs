//! What now, on the page: the same advice as the command gives, with a server and without one.

use std::process::Output;

use serde_json::{Value, json};
use sim::web::PageModel;

use super::server::{Answer, PageServer, program, query};

/// A log of one session of the pond, as the plan `often` makes it.
fn log(served: &PageServer) -> String {
    printed(served, &["replay", "waters/pond.toml", "--plan", "often", "--day", "3", "--log"])
}

fn output(served: &PageServer, args: &[&str]) -> Output {
    program().current_dir(served.path(".")).args(args).output().expect("the program runs")
}

fn printed(served: &PageServer, args: &[&str]) -> String {
    let output = output(served, args);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

fn asked(served: &PageServer, pairs: &[(&str, &str)], body: &Value) -> Answer {
    let pairs = [&[("scenario", "pond"), ("plan", "often")], pairs].concat();
    served.post(&format!("/api/now?{}", query(&pairs)), &body.to_string())
}

/// The answer of a page without a server: two workers simulate the sessions, a third puts them together.
fn put_together(shelf: &str, query: &str, body: &Value) -> Result<Value, Value> {
    let value = |bytes: Vec<u8>| serde_json::from_slice::<Value>(&bytes).expect("a document");
    let [mut desk, mut one, mut other] = [0; 3].map(|_| PageModel::new(shelf));
    let text = body.to_string();
    let begun = value(desk.answer("now", query, &text).map_err(value)?);
    let [first, sessions] = ["first", "sessions"].map(|key| begun[key].as_u64().expect("a number"));
    let mut rests = Vec::new();
    let mut with_rests = body.clone();
    for [begin, end] in [[1, first], [first + 1, sessions]] {
        let text = with_rests.to_string();
        for from in (begin..=end).step_by(60) {
            let to = (from + 59).min(end);
            let hand = if from % 120 == 1 { &mut one } else { &mut other };
            let share = hand.answer("rests", &format!("{query}&from={from}&to={to}"), &text);
            rests.extend(value(share.map_err(value)?).as_array().expect("a list").clone());
        }
        with_rests["rests"] = json!(rests);
    }
    desk.answer("advice", query, &with_rests.to_string()).map(value).map_err(value)
}

#[test]
fn the_page_gives_the_advice_of_the_command_with_a_server_and_without_one() {
    let served = PageServer::pond();
    let log = log(&served);
    std::fs::write(served.path("log.csv"), &log).expect("a log");
    let book = "format = \"shoalwise/book/1\"\ndraws = [[0.5], [0.6]]\n[[unknown]]\n\
                key = \"shoal.small.count\"\n";
    std::fs::write(served.path("book.toml"), book).expect("a book");
    let before = served.files();
    let command = ["now", "waters/pond.toml", "--log", "log.csv", "--plan", "often"];
    let scenario = std::fs::read_to_string(served.path("waters/pond.toml")).expect("a scenario");
    let shelf = json!([{ "name": "pond", "text": scenario, "weigh_ins": null, "lessons": null }]);
    let mut all = Vec::new();
    for (more, pairs, book) in [
        (&["--at", "0:10"][..], &[("at", "600")][..], None),
        (&["--at", "0:10", "--seed", "9"], &[("at", "600"), ("seed", "9")], None),
        (&["--at", "0:12", "--book", "book.toml"], &[("at", "720")], Some(book)),
    ] {
        let expected = printed(&served, &[&command[..], more, &["--json"]].concat());
        let expected: Value = serde_json::from_str(&expected).expect("a document");
        let words = printed(&served, &[&command[..], more, &["--units", "metric"]].concat());
        let body = json!({ "log": log, "book": book });
        let pairs = [pairs, &[("units", "metric")]].concat();
        let answer = asked(&served, &pairs, &body);
        assert_eq!(answer.status, 200, "{}", answer.body);
        let answer = answer.json();
        for part in ["ways", "better", "turn", "method", "casts", "bites", "landed", "weight_kg"] {
            assert_eq!(answer["result"][part], expected[part], "{part}");
        }
        assert_eq!(answer["has_book"], book.is_some());
        let advice = answer["words"]["advice"].as_str().expect("words");
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&words).contains(&flat(advice)), "{advice:?} is not in {words}");
        let query = query(&[&[("scenario", "pond"), ("plan", "often")], &pairs[..]].concat());
        let alone = put_together(&shelf.to_string(), &query, &body).expect("advice");
        assert_eq!(alone["words"], answer["words"]);
        assert_eq!(alone["result"]["ways"], answer["result"]["ways"]);
        all.push(answer["result"]["ways"].clone());
    }
    assert!(all[0] != all[1] && all[0] != all[2], "seed and book make no difference");
    assert_eq!(before, served.files(), "nothing is written");
}

#[test]
fn a_session_unlike_any_simulated_one_is_foretold_from_its_own_bites_in_words() {
    let served = PageServer::pond();
    let mut log = String::from("session,cast_at,line,recast_at,bite_at,landed,weight\n");
    for cast in 0..40 {
        let at = |s: u32| format!("0:{:02}:{:02}", s / 60, s % 60);
        let cast_s = 15 * cast;
        log.push_str(&format!("a,{},middle,,{},yes,2 kg\n", at(cast_s), at(cast_s + 2)));
    }
    let answer = asked(&served, &[], &json!({ "log": log }));
    assert_eq!(answer.status, 200, "{}", answer.body);
    let answer = answer.json();
    assert_eq!(answer["result"]["method"], "own-rate");
    assert_eq!(answer["words"]["ways"].as_array().map(Vec::len), Some(1));
    let says = |part: &str, words: &str| {
        assert!(
            answer["words"][part].as_str().is_some_and(|text| text.contains(words)),
            "{answer}"
        );
    };
    says("advice", "too little is known");
    says("method", "went as yours");
}

#[test]
fn what_cannot_be_advised_on_is_said_in_words() {
    let served = PageServer::pond();
    let log = log(&served);
    let row = "session,cast_at,line,recast_at,bite_at\na,0:01,";
    for (pairs, body, words) in [
        (&[][..], json!({ "log": "" }), "the log has"),
        (
            &[],
            json!({ "log": "session,cast_at,line,recast_at,bite_at\n" }),
            "there is no cast in it",
        ),
        (&[], json!({ "log": format!("{row}midle,,\n") }), "did you mean `middle`?"),
        (&[], json!({ "log": format!("{row}middle,0:00,\n") }), "is before cast_at"),
        (&[], json!({}), "no log was sent"),
        (&[("at", "soon")], json!({ "log": log }), "no whole number"),
        (&[("at", "1300")], json!({ "log": log }), "nothing is left to advise on"),
        (&[], json!({ "log": log, "book": "[" }), "the learned book has a fault"),
        (&[("set", "plan.often.recast=0 s")], json!({ "log": log }), "the scenario has a fault"),
    ] {
        let refused = asked(&served, pairs, &body);
        assert_eq!(refused.status / 100, 4, "{pairs:?}: {}", refused.body);
        assert!(refused.body.contains(words), "{words} in {}", refused.body);
    }
    let of = |plan: &str| query(&[("scenario", "pond"), ("plan", plan)]);
    let body = json!({ "log": log }).to_string();
    let refused = served.post(&format!("/api/now?{}", of("nobody")), &body);
    assert!(refused.body.contains("has no plan"), "{}", refused.body);
    assert_eq!(served.get(&format!("/api/now?{}", of("often"))).status, 405);
    // A page without a server cannot put together what is not of its request.
    let scenario = std::fs::read_to_string(served.path("waters/pond.toml")).expect("a scenario");
    let shelf = json!([{ "name": "pond", "text": scenario, "weigh_ins": null, "lessons": null }]);
    let mut model = PageModel::new(&shelf.to_string());
    let wrong = model.answer("advice", &format!("{}&at=600", of("often")), &body);
    let wrong = String::from_utf8(wrong.expect_err("no sessions")).expect("text");
    assert!(wrong.contains("not the sessions of this request"), "{wrong}");
}
