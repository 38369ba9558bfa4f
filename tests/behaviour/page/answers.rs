//! The page gives the same answers as the command line.

use std::fs;

use serde_json::Value;

use super::server::{PageServer, program, query};

const CHANGED: [(&str, &str); 5] = [
    ("scenario", "pond"),
    ("copy", "often:slower"),
    ("set", "plan.slower.recast=4 min"),
    ("set", "plan.seldom.feed.margin.amount=10 g"),
    ("set", "shoal.small.count=24"),
];

fn with(pairs: &[(&'static str, &'static str)]) -> Vec<(&'static str, &'static str)> {
    CHANGED.iter().chain(pairs).copied().collect()
}

#[test]
#[cfg(unix)]
fn the_page_prints_its_address_and_ends_cleanly_with_ctrl_c() {
    let served = PageServer::pond();
    assert!(served.at.ip().is_loopback() && served.at.port() != 0, "{}", served.at);
    let page = served.get("/");
    assert_eq!(page.status, 200);
    assert!(page.body.contains("<title>shoalwise</title>"), "{}", page.body);
    assert_eq!(served.ended_by("-INT"), Some(0));
    assert_eq!(PageServer::pond().ended_by("-TERM"), Some(143));
}

#[test]
#[cfg(unix)]
fn the_scenario_named_on_the_command_line_is_always_offered() {
    let served = PageServer::of("waters/pond.toml", |waters| {
        fs::rename(waters.join("pond.toml"), waters.join("../elsewhere.toml")).expect("moved");
        std::os::unix::fs::symlink("../elsewhere.toml", waters.join("pond.toml")).expect("a link");
        for number in 0..250 {
            fs::write(waters.join(format!("a{number}.toml")), "").expect("a file");
        }
    });
    assert_eq!(served.get("/api/shelf").json()["scenarios"][0], "pond");
    assert_eq!(served.get("/api/scenario?scenario=pond").status, 200);
}

#[test]
fn everything_the_page_needs_is_in_the_binary_and_small() {
    let served = PageServer::pond();
    let mut targets = vec!["/".to_owned()];
    let mut bytes = 0;
    let mut next = 0;
    while let Some(target) = targets.get(next).cloned() {
        next += 1;
        let file = served.get(&target);
        assert_eq!(file.status, 200, "{target}");
        bytes += file.body.len();
        for quote in ['"', '\''] {
            for part in file.body.split(quote) {
                let name = part.trim_start_matches("./").trim_start_matches('/');
                let is_file = [".js", ".css", ".svg"].iter().any(|ending| name.ends_with(ending));
                let named = format!("/{name}");
                if is_file && !name.contains(['/', ' ', '\n']) && !targets.contains(&named) {
                    targets.push(named);
                }
                let elsewhere = part.starts_with("http") && !part.contains("www.w3.org");
                assert!(!elsewhere, "{target} requests {part}");
            }
        }
    }
    assert!(targets.len() > 10, "{targets:?}");
    assert!(bytes < 500_000, "the page is {bytes} bytes");
}

#[test]
fn curves_grow_until_every_day_is_fished_and_carry_the_id_of_their_run() {
    let served = PageServer::pond();
    let run = [("scenario", "pond"), ("tab", "t"), ("run", "t.1"), ("days", "24")];
    let events = served.live(&run);
    let days: Vec<u64> =
        events.iter().map(|(_, answer)| answer["days"].as_u64().expect("days")).collect();
    assert!(days.len() >= 3 && days.windows(2).all(|two| two[0] < two[1]), "{days:?}");
    assert_eq!((days[0], *days.last().expect("an event")), (4, 24));
    for (name, answer) in &events {
        assert_eq!((name.as_str(), answer["run"].as_str()), ("days", Some("t.1")));
        assert!(!answer["verdict"].as_array().expect("sentences").is_empty());
    }
}

#[test]
fn an_exported_scenario_gives_the_same_numbers_on_the_command_line() {
    // Given plans that were copied and changed on the page, some of them left out,
    let served = PageServer::pond();
    let plans = [("plan", "often"), ("plan", "slower"), ("plan", "seldom")];
    let run = [("tab", "t"), ("run", "t.1"), ("days", "12"), ("seed", "5")];
    let events = served.live(&with(&[&plans[..], &run].concat()));
    let live = &events.last().expect("an answer").1["comparison"];
    // when the scenario is exported and compared on the command line,
    let exported = served.get(&format!("/api/export?{}", query(&with(&plans))));
    assert_eq!(exported.status, 200, "{}", exported.body);
    assert!(exported.body.contains("# as it was taught"), "comments stay: {}", exported.body);
    let file = served.path("edited.toml");
    fs::write(&file, &exported.body).expect("written");
    let output = program()
        .current_dir(served.path("."))
        .args(["compare", "edited.toml", "--days", "12", "--seed", "5", "--json", "--quiet"])
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let printed: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    // then all numbers are the same, to the last digit.
    assert_eq!(live["plans"].as_array().map(Vec::len), Some(3));
    for part in ["plans", "pairs", "days", "warnings"] {
        assert_eq!(live[part], printed[part], "{part}");
    }
    assert_eq!(live["stamp"]["scenario_sha256"], printed["stamp"]["scenario_sha256"]);
}

#[test]
fn a_new_run_of_a_tab_ends_the_previous_one_and_a_cancelled_run_ends() {
    use std::io::{BufRead, BufReader, Write};
    let served = PageServer::pond();
    let begin = |run: &str| {
        let targets = query(&[("scenario", "pond"), ("tab", "t"), ("run", run), ("days", "2000")]);
        let mut stream = served.connect();
        write!(
            stream,
            "GET /api/live?{targets} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
            served.at
        )
        .expect("asked");
        let mut lines = BufReader::new(stream).lines();
        // The run has started once it has reported its first days.
        lines.by_ref().map_while(Result::ok).find(|line| line.starts_with("data: ")).expect("days");
        lines
    };
    let is_over = |lines: &mut dyn Iterator<Item = std::io::Result<String>>| {
        let rest: Vec<String> = lines.map_while(Result::ok).collect();
        rest.iter().all(|line| !line.contains("\"days\":2000,"))
            && rest.iter().any(|line| line == "0")
    };
    let mut first = begin("t.1");
    let mut second = begin("t.2");
    assert!(is_over(&mut first), "the second run of a tab ends the first");
    let cancel = format!(
        "POST /api/cancel?run=t.2 HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
        served.at
    );
    let answer = served.send(cancel.as_bytes()).expect("an answer");
    assert_eq!(answer.json()["cancelled"], true);
    assert!(is_over(&mut second), "a cancelled run ends");
}

#[test]
fn controls_show_the_values_of_the_file_or_the_link() {
    let served = PageServer::pond();
    let reply = served.get(&format!("/api/scenario?{}", query(&CHANGED))).json();
    let stands = |key: &str| {
        let dials = reply["dials"].as_array().expect("dials");
        let dial = dials.iter().find(|dial| dial["key"] == key).unwrap_or_else(|| panic!("{key}"));
        dial["stops"][dial["at"].as_u64().expect("a temporary folder") as usize]["shown"].clone()
    };
    for (key, shown) in [
        ("plan.often.recast", "1 min 30 s"),
        ("plan.slower.recast", "4 min"),
        ("plan.often.load", "25 g"),
        ("plan.buried.load_style", "buried"),
        ("plan.seldom.feed.margin.amount", "10 g"),
        ("plan.often.feed.margin.amount", "0 g"),
        ("shoal.small.count", "20 to 30"),
    ] {
        assert_eq!(stands(key), shown, "{key}");
    }
    // The scenario accepts every choice of every control.
    for dial in reply["dials"].as_array().expect("dials") {
        let key = dial["key"].as_str().expect("a key");
        for stop in dial["stops"].as_array().expect("stops") {
            let Some(written) = stop["written"].as_str() else { continue };
            let set = format!("{key}={written}");
            let mut targets = CHANGED.to_vec();
            targets.push(("set", &set));
            let answer = served.get(&format!("/api/scenario?{}", query(&targets)));
            assert_eq!(answer.status, 200, "{set}: {}", answer.body);
        }
    }
}

#[test]
fn a_faulty_scenario_gets_a_message_and_is_not_fished() {
    let served = PageServer::pond();
    let wrong = [("set", "plan.often.recast=ten"), ("tab", "t"), ("run", "t.1")];
    let events = served.live(&with(&wrong));
    assert_eq!(events.len(), 1);
    let (name, answer) = &events[0];
    assert_eq!(name, "wrong");
    assert!(
        answer["faults"][0].as_str().expect("a fault").contains("plan.often.recast"),
        "{answer}"
    );
}

#[test]
fn a_page_for_this_machine_alone_has_no_code_for_others() {
    let served = PageServer::pond();
    assert_eq!(served.get("/api/shelf").json()["addresses"], serde_json::json!([]));
    assert_eq!(served.get("/api/qr").status, 404);
}
