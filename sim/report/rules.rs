//! How often the rules of each plan fired, in sentences.

use super::measures::percent;
use super::ranking::by_weight;
use super::table::shown_name;
use crate::study::{Comparison, RuleFired};

/// A sentence for each plan with rules, the heaviest first.
#[must_use]
pub fn rules_fired(comparison: &Comparison) -> Vec<String> {
    let with_rules = by_weight(comparison).into_iter().filter(|plan| !plan.rules.is_empty());
    with_rules
        .map(|plan| {
            let rules: Vec<String> = plan.rules.iter().map(one_rule).collect();
            format!("{}: {}.", shown_name(&plan.name), rules.join("; "))
        })
        .collect()
}

fn one_rule(rule: &RuleFired) -> String {
    let name = shown_name(&rule.rule);
    if rule.mean <= 0.0 {
        return format!("{name} never fired");
    }
    let times = format!("{:.1}", rule.mean);
    let times = if times == "1.0" { "once".to_owned() } else { format!("{times} times") };
    format!("{name} fired {times} a day, on {} of days", percent(rule.days_share))
}
