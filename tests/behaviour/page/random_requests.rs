//! Requests drawn at random: the page answers or refuses each, and shows nothing that it must not show.

use proptest::prelude::{any, prop};
use proptest::strategy::Strategy;

use super::server::{PageServer, encoded};
use crate::attack::{Tape, attack, tape};

/// Largest memory of the server after all requests [kB].
const MAX_MEMORY_KB: u64 = 400_000;

const PATHS: [&str; 24] = [
    "/",
    "/api/shelf",
    "/api/scenario",
    "/api/film",
    "/api/export",
    "/api/live",
    "/api/cancel",
    "/api/bank",
    "/api/now",
    "/api/",
    "/api/scenario/..",
    "/..",
    "/../secret.toml",
    "/%2e%2e/secret.toml",
    "/..%2f..%2fsecret.toml",
    "/waters/pond.toml",
    "//",
    "/%00",
    "/%ff%fe",
    "/index.html",
    "/controls.js",
    "/controls.js/",
    "/api/shelf/%2e",
    "*",
];
const KEYS: [&str; 13] = [
    "scenario", "set", "plan", "copy", "days", "seed", "day", "units", "run", "tab", "%73et",
    "sc%00", "",
];
const VALUES: [&str; 34] = [
    "pond",
    "first-try",
    "way-out",
    "secret",
    "../secret",
    "..%2fsecret",
    "pond.toml",
    "notes.txt",
    "often",
    "seldom",
    "often:copy",
    "often:often",
    ":",
    "2",
    "4",
    "0",
    "-1",
    "1e9",
    "99999999999999999999",
    "metric",
    "imperial",
    "t",
    "t.1",
    "plan.often.recast=2+min",
    "plan.often.recast=2",
    "shoal.small.count=24",
    "shoal.small.count=99999",
    "session.length=24+h",
    "section.weigh_ins=notes.txt",
    "section.weigh_ins=..%2fsecret.toml",
    "water.wind={+low",
    "%",
    "%zz",
    "%f0%9f%90%9f",
];

/// A request for a path with a query; the head has no fault.
fn target(tape: &mut Tape) -> String {
    let mut target = (*tape.pick(&PATHS)).to_owned();
    for number in 0..tape.below(7) {
        target.push(if number == 0 { '?' } else { '&' });
        let value = match tape.is_hit(6) {
            true => encoded(&format!("plan.{}.load={}", tape.number(), tape.share())),
            false => (*tape.pick(&VALUES)).to_owned(),
        };
        target.push_str(&format!("{}={value}", tape.pick(&KEYS)));
    }
    target
}

#[test]
fn paths_and_queries_at_random_are_answered_or_refused() {
    let served = PageServer::pond();
    let before = served.files();
    let at = served.at;
    let folder = served.path("").to_string_lossy().into_owned();
    let targets = tape(40).prop_map(|mut tape| {
        let method = *tape.pick(&["GET", "GET", "GET", "POST", "HEAD", "PUT"]);
        // Days are few, so that no answer takes long.
        let target = target(&mut tape);
        let days =
            if target.contains("/api/live") && !target.contains("days=") { "&days=4" } else { "" };
        (method, format!("{target}{days}"))
    });
    attack("paths and queries of the page", 300, targets, |(method, target)| {
        let head = format!("{method} {target} HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n");
        let answer = served.send(head.as_bytes());
        let answer = answer.unwrap_or_else(|| panic!("no answer to {method} {target}"));
        assert!(answer.status < 500 || answer.status == 503, "{} to {target}", answer.status);
        for hidden in ["private notes", "title = \"secret\"", folder.as_str()] {
            assert!(!answer.body.contains(hidden), "{hidden} in the answer to {target}");
        }
    });
    attack(
        "bytes in place of a request",
        100,
        prop::collection::vec(any::<u8>(), 0..300),
        |bytes| {
            let mut stream = served.connect();
            let _ = std::io::Write::write_all(&mut stream, &bytes);
            let _ = stream.shutdown(std::net::Shutdown::Write);
            let mut answer = Vec::new();
            let _ = std::io::Read::read_to_end(&mut stream, &mut answer);
            assert!(!answer.starts_with(b"HTTP/1.1 200"), "{bytes:?} is no request");
        },
    );
    assert_eq!(served.get("/").status, 200);
    assert_eq!(served.files(), before);
    if let Some(most_kb) = served.peak_memory_kb() {
        assert!(most_kb < MAX_MEMORY_KB, "{most_kb} kB");
    }
}
