//! Many requests at once: honest ones are answered soon, and memory stays small.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use super::server::{HEAVY, PageServer};

/// Time in which an honest request must be answered; a debug build on a busy machine is slower.
const MAX_TIME: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 2 });
/// Largest memory of the server [kB].
const MAX_MEMORY_KB: u64 = 200_000;

/// Sends a request of a browser, which would use its connection again.
fn send(served: &PageServer, target: &str) -> TcpStream {
    let mut stream = served.connect();
    let request = format!("GET {target} HTTP/1.1\r\nHost: {}\r\n\r\n", served.at);
    stream.write_all(request.as_bytes()).expect("sent");
    stream
}

/// A run of two thousand days of heavy sessions.
fn long_run(tab: usize) -> String {
    format!("/api/live?{HEAVY}&tab=t{tab}&run=t{tab}.1&days=2000")
}

/// Sends all requests from a hundred threads at once, and returns their connections.
fn send_at_once(
    served: &PageServer,
    count: usize,
    target: impl Fn(usize) -> String + Sync,
) -> Vec<TcpStream> {
    thread::scope(|scope| {
        let target = &target;
        let some = |from: usize| {
            move || -> Vec<TcpStream> {
                (from..count).step_by(100).map(|number| send(served, &target(number))).collect()
            }
        };
        let senders: Vec<_> = (0..100).map(|from| scope.spawn(some(from))).collect();
        senders.into_iter().flat_map(|sender| sender.join().expect("all sent")).collect()
    })
}

/// The longest time that an honest request took while something else was done.
fn slowest_answer<T>(served: &PageServer, meanwhile: impl FnOnce() -> T) -> (Duration, T) {
    let is_over = AtomicBool::new(false);
    thread::scope(|scope| {
        let asker = scope.spawn(|| {
            let mut slowest = Duration::ZERO;
            while !is_over.load(Ordering::Relaxed) {
                for target in
                    ["/api/shelf", "/api/scenario?scenario=pond", "/api/film?scenario=pond"]
                {
                    let started = Instant::now();
                    assert_eq!(served.get(target).status, 200, "{target}");
                    slowest = slowest.max(started.elapsed());
                }
                thread::sleep(Duration::from_millis(20));
            }
            slowest
        });
        let result = meanwhile();
        // Some more requests while the connections are still there.
        thread::sleep(Duration::from_secs(1));
        is_over.store(true, Ordering::Relaxed);
        (asker.join().expect("all answered"), result)
    })
}

#[test]
fn connections_that_are_kept_after_their_answers_do_not_keep_others_waiting() {
    let served = PageServer::pond();
    let kept: Vec<TcpStream> = (0..600)
        .map(|_| {
            let mut stream = send(&served, "/api/shelf");
            assert!(stream.read(&mut [0; 256]).expect("an answer") > 0);
            stream
        })
        .collect();
    let started = Instant::now();
    assert_eq!(served.get("/api/shelf").status, 200);
    assert!(started.elapsed() < MAX_TIME, "{:?}", started.elapsed());
    drop(kept);
}

#[test]
#[ignore = "measures times, which other work on the machine would spoil: `.ci/long` runs it"]
fn three_hundred_films_two_hundred_slow_sockets_and_two_thousand_runs_at_once_are_borne() {
    let served = PageServer::pond();
    let slow: Vec<TcpStream> = (0..200)
        .map(|_| {
            let mut stream = served.connect();
            stream.write_all(b"GET /api/shelf HTTP/1.1\r\nHost: 127.").expect("sent");
            stream
        })
        .collect();
    let (beside_films, ()) = slowest_answer(&served, || {
        let film = |day: usize| format!("/api/film?{HEAVY}&day={}", day + 1);
        drop(send_at_once(&served, 300, film));
    });
    println!("300 films abandoned beside 200 slow sockets: slowest answer {beside_films:?}");
    let (beside_runs, runs) = slowest_answer(&served, || send_at_once(&served, 2000, long_run));
    println!("2,000 runs at once: slowest answer {beside_runs:?}");
    drop(runs);
    let (after, ()) = slowest_answer(&served, || ());
    println!("after they have gone: slowest answer {after:?}");
    let memory_kb = served.peak_memory_kb();
    println!("peak memory: {memory_kb:?} kB");
    for slowest in [beside_films, beside_runs, after] {
        assert!(slowest < MAX_TIME, "{slowest:?}");
    }
    assert!(memory_kb.is_none_or(|most_kb| most_kb < MAX_MEMORY_KB), "{memory_kb:?} kB");
    drop(slow);
}
