//! Runs one model on one engine: `peers ENGINE FIRST SESSIONS`. Each session prints its decisions, hits and CPU time [s].

#[path = "../../../sim/engine/mod.rs"]
#[allow(dead_code, unused_imports, unused_macros, reason = "the model needs only a part of the engine")]
mod engine;
mod model;
#[path = "../../../sim/numerics/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the engine needs only a part of the functions")]
mod numerics;
mod with_engine;
mod with_krabmaga;
mod with_nexosim;
mod with_no_queue;
mod with_plain_loop;

use std::process::ExitCode;

use cpu_time::ProcessTime;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [engine, first, sessions] = words.as_slice() else { return usage() };
    let run = match engine.as_str() {
        "engine" => with_engine::run_session,
        "plain-loop" => with_plain_loop::run_session,
        "no-queue" => with_no_queue::run_session,
        "krabmaga" => with_krabmaga::run_session,
        "nexosim" => with_nexosim::run_session,
        _ => return usage(),
    };
    let (Ok(first), Ok(sessions)) = (first.parse::<u64>(), sessions.parse::<u64>()) else {
        return usage();
    };
    for session in first..first + sessions {
        let begins = ProcessTime::now();
        let counts = run(session);
        println!("{} {} {:.6}", counts.decisions, counts.hits, begins.elapsed().as_secs_f64());
    }
    ExitCode::SUCCESS
}

fn usage() -> ExitCode {
    eprintln!("usage: peers engine|plain-loop|no-queue|krabmaga|nexosim FIRST_SESSION SESSIONS");
    ExitCode::from(2)
}
