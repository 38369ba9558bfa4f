//! The server answers only its own page, within limits, and survives any other request.

use std::io::{Read, Write};
use std::thread;
use std::time::{Duration, Instant};

use super::server::{HEAVY, PageServer, program, query};

/// Largest memory of the server after all requests [kB]. A recording and a run of the pond take a few megabytes
/// each, threads and program about ten. A leak of one request's memory with each request would exceed it.
const MAX_MEMORY_KB: u64 = 400_000;

#[test]
fn only_its_own_host_and_origin_are_answered() {
    let served = PageServer::pond();
    let port = served.at.port();
    let status_of = |host: &str, more: &str| {
        let request =
            format!("GET /api/shelf HTTP/1.1\r\nHost: {host}\r\n{more}Connection: close\r\n\r\n");
        served.send(request.as_bytes()).expect("an answer").status
    };
    for host in [format!("127.0.0.1:{port}"), format!("localhost:{port}"), format!("[::1]:{port}")]
    {
        assert_eq!(status_of(&host, ""), 200, "{host}");
        assert_eq!(status_of(&host, &format!("Origin: http://{host}\r\n")), 200, "{host}");
        assert_eq!(status_of(&host, "Origin: http://example.org\r\n"), 403, "{host}");
        assert_eq!(status_of(&host, "Origin: null\r\n"), 403, "{host}");
        assert_eq!(status_of(&host, "Sec-Fetch-Site: cross-site\r\n"), 403, "{host}");
    }
    for host in [
        format!("example.org:{port}"),
        format!("127.0.0.1.example.org:{port}"),
        format!("192.168.0.4:{port}"),
        "127.0.0.1".to_owned(),
        "127.0.0.1:1".to_owned(),
        String::new(),
        // Spelled oddly: leading zeros and signs, brackets that do not belong.
        format!("127.0.0.1:+{port}"),
        format!("127.0.0.1:0{port}"),
        format!("[127.0.0.1]:{port}"),
        format!("[[::1]]:{port}"),
        format!("::1:{port}"),
        format!("[0:0:0:0:0:0:0:1]:{port}"),
        format!("localhost:{port}:{port}"),
    ] {
        assert_eq!(status_of(&host, ""), 403, "{host}");
    }
    let head = served.get("/").head.to_ascii_lowercase();
    for promise in [
        "default-src 'none'",
        "frame-ancestors 'none'",
        "nosniff",
        "no-store",
        "cross-origin-opener-policy: same-origin",
        "cross-origin-embedder-policy: require-corp",
        "cross-origin-resource-policy: same-origin",
        "x-frame-options: deny",
        "permissions-policy",
    ] {
        assert!(head.contains(promise), "{promise} is missing in {head}");
    }
}

#[test]
fn only_scenarios_of_the_folder_and_of_the_program_can_be_read() {
    let served = PageServer::pond();
    let shelf = served.get("/api/shelf").json();
    let names: Vec<&str> = shelf["scenarios"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|name| name.as_str())
        .collect();
    assert_eq!(names[0], "pond", "the requested scenario comes first: {names:?}");
    assert!(names.contains(&"tern-bar") && !names.contains(&"way-out"), "{names:?}");
    for name in [
        "../secret",
        "..%2fsecret",
        "secret",
        "way-out",
        "notes",
        "notes.txt",
        "/etc/passwd",
        "pond.toml",
        "waters/pond",
        "./pond",
        "pond\0",
        "built-in.pond",
        "",
    ] {
        for what in ["scenario", "export", "film"] {
            let answer = served.get(&format!("/api/{what}?{}", query(&[("scenario", name)])));
            assert!([400, 404].contains(&answer.status), "{what} {name:?}: {}", answer.status);
            assert!(!answer.body.contains("secret\"\n") && !answer.body.contains("private"));
        }
    }
}

#[test]
fn weigh_ins_are_read_from_the_folder_of_the_scenario_only() {
    let served = PageServer::pond();
    let pond = std::fs::read_to_string(served.path("waters/pond.toml")).expect("the pond");
    let table = "weight\n12 kg\n9 kg\n8 kg\n7 kg\n6 kg\n";
    std::fs::write(served.path("waters/rivals.csv"), table).expect("a table");
    std::fs::write(served.path("private.csv"), format!("private{table}")).expect("a table");
    #[cfg(unix)]
    std::os::unix::fs::symlink("../private.csv", served.path("waters/link.csv")).expect("a link");
    let write = |name: &str, file: &str| {
        let text = format!("{pond}\n[section]\nrivals = 5\nplaces = 2\nweigh_ins = \"{file}\"\n");
        std::fs::write(served.path(&format!("waters/{name}.toml")), text).expect("a scenario");
    };
    write("match", "rivals.csv");
    let answer = served.get("/api/scenario?scenario=match");
    assert_eq!(answer.status, 200, "{}", answer.body);
    let away = served.path("private.csv").to_string_lossy().into_owned();
    for file in ["../private.csv", &away, "link.csv", "gone.csv"] {
        write("away", file);
        let answer = served.get("/api/scenario?scenario=away");
        assert_eq!(answer.status, 422, "{file}: {}", answer.body);
        let message = if file == "gone.csv" { "does not exist" } else { "own folder" };
        assert!(answer.body.contains(message), "{file}: {}", answer.body);
        assert!(!answer.body.contains("privateweight"), "{file}: {}", answer.body);
    }
}

#[test]
fn no_message_shows_what_is_in_a_file_that_is_no_scenario_or_where_the_folder_is() {
    let served = PageServer::pond();
    let pond = std::fs::read_to_string(served.path("waters/pond.toml")).expect("the pond");
    let file = |name: &str, bytes: &[u8]| {
        std::fs::write(served.path(&format!("waters/{name}")), bytes).expect("a file");
    };
    file("keys.csv", b"hush-hush,second\n1,2\n");
    file("cells.csv", b"weight\nhush-hush\n1 kg\n2 kg\n3 kg\n4 kg\n");
    file("keys.txt", b"hush-hush\n");
    file("large.toml", &vec![b'#'; 300_000]);
    file("bytes.toml", b"title = \"\xff\xfe\"");
    for weigh_ins in ["keys.csv", "cells.csv", "keys.txt", "notes.txt"] {
        let text = format!("{pond}\n[section]\nrivals = 5\nweigh_ins = \"{weigh_ins}\"\n");
        file("match.toml", text.as_bytes());
        let answer = served.get("/api/scenario?scenario=match");
        assert_eq!(answer.status, 422, "{weigh_ins}: {}", answer.body);
        for hidden in ["hush", "private"] {
            assert!(!answer.body.contains(hidden), "{weigh_ins}: {}", answer.body);
        }
    }
    let folder = served.path("").to_string_lossy().into_owned();
    for name in ["large", "bytes", "match"] {
        let answer = served.get(&format!("/api/scenario?scenario={name}"));
        assert_eq!(answer.status, 422, "{name}: {}", answer.body);
        assert!(!answer.body.contains(folder.trim_end_matches('/')), "{name}: {}", answer.body);
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_in_place_of_a_file_is_refused_at_once() {
    let served = PageServer::pond();
    let pond = std::fs::read_to_string(served.path("waters/pond.toml")).expect("the pond");
    for pipe in ["rivals.csv", "pipe.toml"] {
        let made = std::process::Command::new("mkfifo")
            .arg(served.path(&format!("waters/{pipe}")))
            .status();
        assert!(made.expect("mkfifo starts").success());
    }
    let text = format!("{pond}\n[section]\nrivals = 5\nweigh_ins = \"rivals.csv\"\n");
    std::fs::write(served.path("waters/match.toml"), text).expect("a scenario");
    let started = Instant::now();
    let answer = served.get("/api/scenario?scenario=match");
    assert!(answer.status == 422 && answer.body.contains("no plain file"), "{}", answer.body);
    assert_eq!(served.get("/api/scenario?scenario=pipe").status, 404);
    assert!(started.elapsed() < Duration::from_secs(5), "{:?}", started.elapsed());
}

#[test]
fn abandoned_requests_and_slow_sockets_do_not_hold_up_others() {
    let served = PageServer::pond();
    assert_eq!(served.get(&format!("/api/scenario?{HEAVY}")).status, 200);
    let send = |request: &str| {
        let mut stream = served.connect();
        stream.write_all(request.as_bytes()).expect("sent");
        stream
    };
    // Given two hundred sockets that send half a request,
    let slow: Vec<_> = (0..200).map(|_| send("GET /api/shelf HTTP/1.1\r\nHost: 127.")).collect();
    // and films of long sessions whose readers have gone,
    for day in 1..=40 {
        let film = format!("/api/film?{HEAVY}&day={day}");
        drop(send(&format!("GET {film} HTTP/1.1\r\nHost: {}\r\n\r\n", served.at)));
    }
    // and runs whose readers have gone,
    for tab in 0..4 {
        let run = format!("/api/live?{HEAVY}&tab=t{tab}&run=t{tab}.1&days=2000");
        let mut stream = send(&format!("GET {run} HTTP/1.1\r\nHost: {}\r\n\r\n", served.at));
        let mut first = [0; 64];
        let _ = stream.read(&mut first);
    }
    // then others are answered soon, films and runs too.
    let limit = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 2 });
    let started = Instant::now();
    assert_eq!(served.get("/api/shelf").status, 200);
    assert_eq!(served.get("/api/film?scenario=pond").status, 200);
    assert!(started.elapsed() < limit, "{:?}", started.elapsed());
    let begun = Instant::now();
    loop {
        let run = [("scenario", "pond"), ("tab", "z"), ("run", "z.1"), ("days", "4")];
        let events = served.live(&run);
        if events.last().is_some_and(|(name, _)| name == "days") {
            break;
        }
        assert!(begun.elapsed() < limit, "the abandoned runs are still at work: {events:?}");
        thread::sleep(Duration::from_millis(50));
    }
    if let Some(most_kb) = served.peak_memory_kb() {
        assert!(most_kb < 200_000, "{most_kb} kB");
    }
    drop(slow);
}

#[test]
fn days_plans_and_runs_are_limited() {
    let served = PageServer::pond();
    for (key, value, message) in [
        ("days", "1000000", "days is no whole number from 2 to 2000"),
        ("days", "-3", "days is no whole number"),
        ("seed", "1.5", "seed is no whole number"),
        ("units", "stone", "metric or imperial"),
        ("copy", "often", "PLAN:NEW-NAME"),
        ("set", "session.length=20 h", "up to 12 h"),
        ("set", "shoal.small.count=2000", "fish in reach"),
    ] {
        let run = [("scenario", "pond"), ("tab", "t"), ("run", "t.1"), (key, value)];
        let events = served.live(&run);
        assert_eq!(events[0].0, "wrong", "{key}={value}");
        assert!(events[0].1["wrong"].as_str().expect("words").contains(message), "{:?}", events[0]);
    }
    // Given four runs that nobody reads, a fifth has to wait.
    let waiting: Vec<_> = (0..4)
        .map(|tab| {
            let (tab, run) = (format!("t{tab}"), format!("t{tab}.1"));
            let pairs =
                [("scenario", "tern-bar"), ("tab", &*tab), ("run", &*run), ("days", "2000")];
            let mut stream = served.connect();
            let pairs = query(&pairs);
            write!(stream, "GET /api/live?{pairs} HTTP/1.1\r\nHost: {}\r\n\r\n", served.at)
                .expect("asked");
            let mut first = [0; 64];
            stream.read_exact(&mut first).expect("the run has begun");
            stream
        })
        .collect();
    let fifth = served.live(&[("scenario", "pond"), ("tab", "u"), ("run", "u.1"), ("days", "4")]);
    assert!(fifth[0].1["wrong"].as_str().expect("words").contains("wait a moment"), "{fifth:?}");
    drop(waiting);
}

/// Two hundred different requests that the page would never send.
fn two_hundred(at: &str) -> Vec<Vec<u8>> {
    let mut all: Vec<Vec<u8>> = Vec::new();
    let mut get = |target: &str| {
        all.push(
            format!("GET {target} HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n")
                .into_bytes(),
        );
    };
    for up in 1..=12 {
        get(&format!("/{}etc/passwd", "../".repeat(up)));
        get(&format!("/{}etc/passwd", "%2e%2e%2f".repeat(up)));
        get(&format!("/api/export?scenario={}secret", "..%2F".repeat(up)));
        get(&format!("/api/film?scenario={}secret%00", "..%5C".repeat(up)));
    }
    let wrong = [
        "",
        "-1",
        "NaN",
        "1e99",
        "0x10",
        "%00",
        "%ff%fe",
        "{}",
        "[]",
        "true",
        "🐟",
        "99999999999999999999",
    ];
    for value in wrong {
        for (what, key) in [
            ("film", "day"),
            ("film", "seed"),
            ("live", "days"),
            ("scenario", "set"),
            ("scenario", "copy"),
        ] {
            get(&format!(
                "/api/{what}?scenario=pond&tab=a&run=a.1&{key}={}",
                value.replace('🐟', "%F0%9F%90%9F")
            ));
        }
    }
    for n in 0..10 {
        get(&format!("/api/scenario?scenario=pond&set=plan.often.{}%3D1", "x.".repeat(n * 40)));
        get(&format!(
            "/api/live?scenario=pond&{}",
            "set=plan.often.load%3D1+g&".repeat(40 * n + 90)
        ));
        get(&format!("/{}", "a".repeat(2_000 * (n + 1))));
        get(&format!(
            "/api/scenario?scenario=pond&set=line.l{n}.distance%3D{}",
            "9".repeat(50 * n + 1)
        ));
    }
    let hosts =
        ["evil.example", "127.0.0.1.evil.example", "localhost", "[::1]", "0.0.0.0:1", "\u{7f}"];
    for host in hosts {
        all.push(
            format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").into_bytes(),
        );
        all.push(format!("GET /api/shelf HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{host}\r\nConnection: close\r\n\r\n").into_bytes());
    }
    for method in ["PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "OPTIONS", "post", "BREW"] {
        all.push(
            format!(
                "{method} /api/cancel?run=x HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n"
            )
            .into_bytes(),
        );
    }
    for size in [2_000, 100_000, 1_000_000, 4_000_000, 10_000_000_000_u64] {
        let head = format!(
            "POST /api/cancel?run=x HTTP/1.1\r\nHost: {at}\r\nContent-Length: {size}\r\n\r\n"
        );
        let body = vec![b'x'; size.min(4_000_000) as usize];
        all.push([head.into_bytes(), body].concat());
        let chunked = format!(
            "POST /api/live HTTP/1.1\r\nHost: {at}\r\nTransfer-Encoding: chunked\r\n\r\n{size:x}\r\n"
        );
        all.push(chunked.into_bytes());
    }
    let header =
        |n: usize| format!("GET / HTTP/1.1\r\nHost: {at}\r\nX-Long: {}\r\n\r\n", "h".repeat(n));
    all.extend([40_000, 200_000, 2_000_000].map(|n| header(n).into_bytes()));
    let many = "X-Many: 1\r\n".repeat(5_000);
    all.push(format!("GET / HTTP/1.1\r\nHost: {at}\r\n{many}\r\n").into_bytes());
    all.push(b"GET / HTTP/1.1\r\nConnection: close\r\n\r\n".to_vec());
    all.push(format!("GET / HTTP/9.9\r\nHost: {at}\r\n\r\n").into_bytes());
    all.push(
        format!("GET / HTTP/1.1\r\nHost: {at}\r\nHost: {at}\r\nConnection: close\r\n\r\n")
            .into_bytes(),
    );
    for n in 0..18_u8 {
        let noise = (0..900_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 7) as u8 ^ n);
        all.push(noise.collect());
    }
    all
}

#[test]
fn two_hundred_bad_requests_fifty_at_once_and_slow_clients_break_nothing() {
    let served = PageServer::pond();
    let before = served.files();
    let bad = two_hundred(&served.at.to_string());
    assert!(bad.len() >= 200, "{} requests", bad.len());
    // Given clients that send half a request and no more,
    let slow: Vec<_> = (0..12)
        .map(|n| {
            let mut stream = served.connect();
            let output = &b"GET /api/shelf HTTP/1.1\r\nHost: 127."[..20 + n];
            stream.write_all(output).expect("sent");
            stream
        })
        .collect();
    // when all of it arrives, fifty requests at a time,
    let server = &served;
    thread::scope(|scope| {
        for part in bad.chunks(bad.len().div_ceil(50)) {
            scope.spawn(move || {
                for request in part {
                    if let Some(answer) = server.send(request) {
                        assert!(
                            answer.status < 500 || answer.status == 503 || answer.status == 505,
                            "{} to {:?}",
                            answer.status,
                            String::from_utf8_lossy(&request[..request.len().min(200)])
                        );
                    }
                }
            });
        }
    });
    // then the server answers as before, no file has changed, and memory is limited.
    assert_eq!(served.get("/").status, 200);
    let run = [("scenario", "pond"), ("tab", "z"), ("run", "z.1"), ("days", "4")];
    assert_eq!(served.live(&run).last().expect("an answer").1["days"], 4);
    assert_eq!(served.files(), before);
    if let Some(most_kb) = served.peak_memory_kb() {
        assert!(most_kb < MAX_MEMORY_KB, "{most_kb} kB");
    }
    drop(slow);
}

#[test]
fn opening_the_page_to_other_machines_causes_a_warning_and_wrong_input_exits_with_2() {
    let printed = |args: &[&str]| {
        let output = program().arg("page").args(args).output().expect("the program runs");
        (output.status.code(), String::from_utf8(output.stderr).expect("text"))
    };
    let (code, err) = printed(&["no-such-water.toml", "--no-open"]);
    assert_eq!(code, Some(2), "{err}");
    assert!(err.contains("no-such-water.toml"), "{err}");
    let (code, err) = printed(&["--host", "everywhere"]);
    assert_eq!(code, Some(2), "{err}");
    // An address reserved for documentation: no machine has it, so nothing is served.
    let (code, err) = printed(&["--host", "192.0.2.1", "--no-open"]);
    assert_eq!(code, Some(1), "{err}");
    assert!(err.contains("everybody who can reach 192.0.2.1"), "{err}");
}
