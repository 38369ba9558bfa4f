//! How often the rules of each plan fired, in sentences.

use crate::report::format::{one_line, percent};
use crate::report::view::by_weight;
use crate::study::{Comparison, RuleFired};

/// A sentence for each plan with rules, the heaviest first.
pub fn rules_fired_sentences(comparison: &Comparison) -> Vec<String> {
    let with_rules = by_weight(comparison).into_iter().filter(|plan| !plan.rules.is_empty());
    with_rules
        .map(|plan| {
            let rules: Vec<String> = plan.rules.iter().map(times_fired).collect();
            format!("{}: {}.", one_line(&plan.name), rules.join("; "))
        })
        .collect()
}

/// How often one rule fired.
fn times_fired(rule: &RuleFired) -> String {
    let name = one_line(&rule.rule);
    if rule.mean <= 0.0 {
        return format!("{name} never fired");
    }
    let times = format!("{:.1}", rule.mean);
    let times = if times == "1.0" { "once".to_owned() } else { format!("{times} times") };
    format!("{name} fired {times} a day, on {} of days", percent(rule.days_share))
}
