//! What line and hook do over whole sessions.

use sim::session::Outcome;

use super::families::{log_ratio, outcomes};
use super::sessions::ahead;
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// Days of each case.
const DAYS: u32 = 400;
/// Days of lines that are light or heavy in the open, where they make the least difference.
const LINE_DAYS: u32 = 800;

fn bites(outcomes: &[Outcome]) -> Vec<f64> {
    outcomes.iter().map(|outcome| f64::from(outcome.bites)).collect()
}

/// Fish hooked, in the mouth or elsewhere.
fn hooked(outcomes: &[Outcome]) -> Vec<f64> {
    let of_day = |outcome: &Outcome| outcome.catches.len() as f64 + f64::from(outcome.lost);
    outcomes.iter().map(of_day).collect()
}

fn lost(outcomes: &[Outcome]) -> Vec<f64> {
    outcomes.iter().map(|outcome| f64::from(outcome.lost)).collect()
}

fn fished(plan: &str, line: &str, tackle: &str, sets: &[&str]) -> Vec<Outcome> {
    fished_for(DAYS, plan, line, tackle, sets)
}

fn fished_for(days: u32, plan: &str, line: &str, tackle: &str, sets: &[&str]) -> Vec<Outcome> {
    let own = [
        format!("plan.{plan}.line={line}"),
        format!("shoal.carp.home={line}"),
        format!("plan.{plan}.line_strength={tackle}"),
    ];
    let sets: Vec<&str> = own.iter().map(String::as_str).chain(sets.iter().copied()).collect();
    outcomes("snags", &sets, plan, days)
}

/// V-343: in clear water a lighter line and a smaller hook hook more fish, with groundbait and with micro-pellets.
///
/// Fish hooked on lines of 3 lb and of 12 lb, and bites on small and on strong hooks, in the open: ahead by 4 standard
/// errors of paired days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_lighter_line_hooks_more_fish_in_clear_water() {
    let mut results = Vec::new();
    for plan in ["groundbait", "micros"] {
        let [light, heavy] = ["3 lb", "12 lb"]
            .map(|tackle| hooked(&fished_for(LINE_DAYS, plan, "open", tackle, &[])));
        let z = ahead(&format!("V-343 {plan}: hooked on 3 lb and 12 lb"), &light, &heavy);
        let (light, heavy) = (mean(&light), mean(&heavy));
        results.push(format!(
            "{light:.1} and {heavy:.1} fish hooked on 3 and 12 lb with `{plan}` (z = {z:+.1})"
        ));
        let [small, strong] = ["small", "strong"].map(|hook| {
            let hook = format!("plan.{plan}.hook={hook}");
            bites(&fished(plan, "open", "6 lb", &[&hook]))
        });
        let z = ahead(&format!("V-343 {plan}: bites on small and strong"), &small, &strong);
        let (small, strong) = (mean(&small), mean(&strong));
        results.push(format!(
            "{small:.1} and {strong:.1} bites on small and strong hooks (z = {z:+.1})"
        ));
    }
    measured!("V-343", "met: {}", results.join("; "));
}

/// V-344: a lighter line loses more of the large fish that it hooks, and near snags most.
///
/// The share of hooked fish that is lost, on 3 lb over 12 lb: above one at the snags and in the open, and larger at the
/// snags than in the open, each by 4 standard errors over ten blocks of days.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_lighter_line_loses_more_large_fish_near_snags() {
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for plan in ["groundbait", "micros"] {
        let mut ratio = |line: &str| {
            let share = |tackle: &str| {
                let outcomes = fished(plan, line, tackle, &["shoal.carp.weight=5 kg"]);
                log_ratio(&lost(&outcomes), &hooked(&outcomes))
            };
            let ((light, light_error), (heavy, heavy_error)) = (share("3 lb"), share("12 lb"));
            let (log, error) = (light - heavy, light_error.hypot(heavy_error));
            results.push(format!(
                "of the hooked {:.2} are lost on 3 lb and {:.2} on 12 lb on the line `{line}` with `{plan}`, log ratio {log:.2} ± {error:.2}",
                light.exp(),
                heavy.exp()
            ));
            (log, error, light, light_error)
        };
        let (at_snags, in_open) = (ratio("snags"), ratio("open"));
        for (line, (log, error, ..)) in [("snags", at_snags), ("open", in_open)] {
            if log <= Z_BOUND * error {
                faults.push(format!("{plan}, {line}: {log:.2} ± {error:.2}"));
            }
        }
        let (more, error) = (at_snags.2 - in_open.2, at_snags.3.hypot(in_open.3));
        if more <= Z_BOUND * error {
            faults.push(format!("{plan}: light line at snags against open {more:.2} ± {error:.2}"));
        }
    }
    assert!(faults.is_empty(), "V-344: {faults:?}");
    measured!("V-344", "met: {}", results.join("; "));
}
