//! Logs made up for tests.

use sim::catch_log::{CatchLog, clock_text, read_catch_log};
use sim::engine::Dice;
use sim::stats::WeibullModel;

/// Reads a log that must be sound.
pub(super) fn sound(text: &str) -> CatchLog {
    read_catch_log(text, "pond", "pond.csv").unwrap_or_else(|faults| panic!("{faults}\n{text}"))
}

/// The faults of a log, a line each.
pub(super) fn faults(text: &str) -> Vec<String> {
    match read_catch_log(text, "pond", "pond.csv") {
        Ok(_) => Vec::new(),
        Err(faults) => faults.list().iter().map(ToString::to_string).collect(),
    }
}

/// Sessions of casts in minutes: recast at `limit_min`, 45 s a recast, 3 min more after a bite.
pub(super) fn synthetic(
    model: &WeibullModel,
    limit_min: f64,
    sessions: u64,
    casts: usize,
    key: u64,
) -> String {
    let mut text = String::from("session,cast_at,line,recast_at,bite_at\n");
    for session in 0..sessions {
        let mut dice = Dice::from_key(&[key, session]);
        let mut now_s = 0.0;
        for _ in 0..casts {
            let comes = dice.uniform() >= model.never_share;
            let wait_min = model.scale * dice.exponential(1.0).powf(1.0 / model.shape);
            let is_bite = comes && wait_min <= limit_min;
            let end_s = now_s + 60.0 * if is_bite { wait_min } else { limit_min };
            let (cast, end) = (clock_text(now_s), clock_text(end_s));
            let times = if is_bite { format!(",{end}") } else { format!("{end},") };
            text.push_str(&format!("day-{session},{cast},bar,{times}\n"));
            now_s = end_s.round() + if is_bite { 225.0 } else { 45.0 };
        }
    }
    text
}

/// The log without its casts that had no bite.
pub(super) fn without_unbitten(text: &str) -> String {
    let header = text.lines().next().unwrap_or_default();
    let column = header.split(',').position(|name| name == "bite_at").expect("a column");
    let is_kept = |line: &&str| line.split(',').nth(column).is_some_and(|bite| !bite.is_empty());
    text.lines().filter(is_kept).map(|line| format!("{line}\n")).collect()
}
