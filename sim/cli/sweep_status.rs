//! How a sweep stands, in words: what it will cost, how far it is, and the best so far.

use std::io::{Write as _, stdout};
use std::path::Path;

use anyhow::anyhow;
use serde_json::json;

use super::ended::Ended;
use crate::report::{duration, setting_name, weight};
use crate::scenario::Units;
use crate::study::{BestSoFar, Store, Sweep};

/// Bytes of the store that a session takes, about: four of its weight, and its part of a row.
const SESSION_BYTES: f64 = 6.5;

/// What is about to be fished, what it costs, and what might be spared.
pub(super) fn cost(store: &Store, to_do: u64) -> Vec<String> {
    let sweep = store.sweep();
    let (points, plans) = (sweep.design.points.len(), sweep.plans.len());
    let share = match sweep.share.is_whole() {
        true => String::new(),
        false => format!(", share {}", sweep.share),
    };
    let begun = match sweep.sessions() - to_do {
        0 => String::new(),
        done => format!(", of which {done} are done"),
    };
    let mut lines = vec![format!(
        "{}: {} × {} × {} days{share}: {}{begun}",
        sweep.design.says(),
        counted(points as u64, "point"),
        counted(plans as u64, "plan"),
        sweep.days,
        sessions(sweep.sessions()),
    )];
    let threads = rayon::current_num_threads();
    lines.push(format!(
        "about {} on {}, and {} in {}; stop it when you like, the same command goes on",
        duration(sweep.session_cost_s() * to_do as f64),
        counted(threads as u64, "thread"),
        size(to_do as f64 * SESSION_BYTES),
        store.path().display(),
    ));
    let of_one = |plan: &String| {
        sweep.design.keys.iter().all(|key| key.starts_with(&format!("plan.{plan}.")))
    };
    if let (true, Some(plan)) = (plans > 1, sweep.plans.iter().find(|plan| of_one(plan))) {
        lines.push(format!(
            "only {plan} is varied, and the other plans are the same at each point: --plan {plan} spares them"
        ));
    }
    lines
}

/// A number of sessions in words.
pub(super) fn sessions(number: u64) -> String {
    counted(number, "session")
}

fn counted(number: u64, what: &str) -> String {
    format!("{number} {what}{}", if number == 1 { "" } else { "s" })
}

fn size(bytes: f64) -> String {
    match bytes {
        small if small < 1e6 => format!("{:.0} kB", (small / 1e3).max(1.0)),
        large => format!("{:.0} MB", large / 1e6),
    }
}

/// The best so far with its uncertainty, in words; kilograms, or pounds for those who say so in the scenario.
pub(super) fn best_so_far(sweep: &Sweep, best: &BestSoFar) -> String {
    let units =
        sweep.scenario(&sweep.design.points[best.place]).map_or(Units::Metric, |at| at.units);
    in_words(sweep, best, units)
}

fn in_words(sweep: &Sweep, best: &BestSoFar, units: Units) -> String {
    let at = setting_name(&sweep.design.keys, &sweep.design.points[best.place]);
    let (mean, se) = (weight(best.mean_kg, units), weight(best.se_kg, units));
    format!("{mean} ± {se}, {} at {at}, {} days", sweep.plans[best.plan], best.days)
}

/// Prints how far a sweep is, from its store, whoever works on it.
pub(super) fn say_status(path: &Path, as_json: bool, units: Units) -> Result<(), Ended> {
    if !path.exists() {
        return Err(Ended::WrongInput(anyhow!(
            "there is no sweep at {}: start it with the same command without --status",
            path.display()
        )));
    }
    let store = Store::read(path)?;
    let sweep = store.sweep();
    let (all, to_do) = (sweep.sessions(), store.sessions_to_do());
    let (done, at_work) = (all - to_do, store.is_at_work());
    let (rate, best) = (store.sessions_per_s()?, store.standing()?.best());
    if as_json {
        let best = best.map(|best| {
            json!({
                "plan": sweep.plans[best.plan],
                "values": sweep.design.points[best.place],
                "weight_kg": {"mean": best.mean_kg, "se": best.se_kg},
                "days": best.days,
            })
        });
        let status = json!({
            "format": "shoalwise/sweep-status/1",
            "store": path.display().to_string(),
            "store_bytes": store.bytes(),
            "stamp": sweep.stamp,
            "sessions": all,
            "sessions_done": done,
            "running": at_work,
            "sessions_per_s": rate,
            "left_s": rate.map(|rate| to_do as f64 / rate),
            "best": best,
        });
        return Ok(writeln!(stdout(), "{status:#}")?);
    }
    let share = 100 * done / all.max(1);
    let mut lines = vec![format!("{done} of {}, {share} %, in {}", sessions(all), path.display())];
    if let Some(best) = best {
        lines.push(format!("best so far: {}", in_words(sweep, &best, units)));
    }
    let left = rate.map(|rate| {
        format!("{rate:.0} sessions a second, about {} to go", duration(to_do as f64 / rate))
    });
    lines.push(match (to_do, at_work, left) {
        (0, _, _) => "all is done".to_owned(),
        (_, true, Some(left)) => format!("running: {left}"),
        (_, true, None) => "running; the first batch is not done yet".to_owned(),
        (_, false, Some(left)) => {
            format!("not running; at {left}: the same command without --status goes on")
        }
        (_, false, None) => "not running: the same command without --status goes on".to_owned(),
    });
    Ok(writeln!(stdout(), "{}", lines.join("\n"))?)
}
