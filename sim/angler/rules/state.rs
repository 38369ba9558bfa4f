//! Which rules fire, which are in force, and what they choose together.

use super::rule::{PlanRule, RuleDuration, Rules};
use super::window::{SAME_S, TimeWindow};
use crate::angler::perceived::Perceived;
use crate::angler::phase::Phase;

/// Smallest time from one change of the plan to the next [s].
const MIN_BETWEEN_CHANGES_S: f64 = 1.0;

/// A rule whose change is in force.
#[derive(Clone, Copy, Debug, PartialEq)]
struct InForce {
    rule: usize,
    until_s: f64,
}

/// State of the rules: which are in force, and when each fired.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleState {
    /// Rules in force, in the order in which they fired; later changes apply last.
    in_force: Vec<InForce>,
    /// Number of times that each rule fired.
    fired: Vec<u32>,
    /// When each fired last [s].
    last_s: Vec<f64>,
}

/// Result of one evaluation of the rules.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleEvaluation {
    /// Rules whose change ended, counted from 0.
    pub ended: Vec<usize>,
    /// Rules that fired, counted from 0.
    pub fired: Vec<usize>,
    /// What is chosen now.
    pub chosen: Phase,
    /// When to evaluate again if nothing is perceived before [s]; infinite if never.
    pub next_s: f64,
}

impl RuleState {
    /// The state at the start: no rule has fired.
    #[must_use]
    pub fn new(rules: &Rules) -> Self {
        let count = rules.list.len();
        Self { in_force: Vec::new(), fired: vec![0; count], last_s: vec![f64::NEG_INFINITY; count] }
    }

    /// Number of times that each rule fired so far.
    #[must_use]
    pub fn fired(&self) -> &[u32] {
        &self.fired
    }

    /// A phase begins: ends the changes that last until then, and returns their rules.
    pub fn phase_begins(&mut self, rules: &Rules) -> Vec<usize> {
        self.end_where(|entry| rules.list[entry.rule].lasts == RuleDuration::Phase)
    }

    /// The phase with the changes of all rules in force applied.
    #[must_use]
    pub fn chosen(&self, rules: &Rules, phase: &Phase) -> Phase {
        let in_force = self.in_force.iter().map(|entry| &rules.list[entry.rule]);
        in_force.fold(phase.clone(), |chosen, rule| rule.change.applied_to(chosen))
    }

    /// Evaluates all rules against what was perceived.
    ///
    /// A rule fires if its condition holds, its own limits allow it, and it would change something. It gives way to an
    /// earlier rule that is in force, whose condition still holds and whose change contradicts its own.
    pub fn evaluate(
        &mut self,
        rules: &Rules,
        phase: &Phase,
        perceived: &Perceived,
        now_s: f64,
    ) -> RuleEvaluation {
        let ended = self.end_where(|entry| entry.until_s <= now_s + SAME_S);
        let mut chosen = self.chosen(rules, phase);
        let mut fired = Vec::new();
        let mut next_s = f64::INFINITY;
        let mut wake = |at_s: f64| {
            if at_s > now_s + SAME_S {
                next_s = next_s.min(at_s);
            }
        };
        for (number, rule) in rules.list.iter().enumerate() {
            let condition = condition_window(rules, rule, perceived, now_s);
            let window = condition.intersection(self.allowed_window(number, rule));
            if window.from_s < window.until_s {
                wake(window.from_s);
            }
            wake(condition.until_s);
            if !window.contains(now_s) || self.gives_way(rules, number, perceived, now_s) {
                continue;
            }
            if rule.change.applied_to(chosen.clone()) == chosen {
                continue;
            }
            self.fire(number, rule, now_s);
            chosen = self.chosen(rules, phase);
            fired.push(number);
        }
        self.in_force.iter().for_each(|entry| wake(entry.until_s));
        if !(ended.is_empty() && fired.is_empty()) {
            wake(now_s + MIN_BETWEEN_CHANGES_S);
        }
        RuleEvaluation { ended, fired, chosen, next_s }
    }

    /// Fires a rule: its change is in force from now on.
    fn fire(&mut self, number: usize, rule: &PlanRule, now_s: f64) {
        self.fired[number] += 1;
        self.last_s[number] = now_s;
        self.in_force.retain(|entry| entry.rule != number);
        let until_s = match rule.lasts {
            RuleDuration::For(time_s) => now_s + time_s,
            RuleDuration::Phase | RuleDuration::Session => f64::INFINITY,
        };
        self.in_force.push(InForce { rule: number, until_s });
    }

    /// The time window in which a rule's own limits let it fire.
    fn allowed_window(&self, number: usize, rule: &PlanRule) -> TimeWindow {
        if rule.max_firings.is_some_and(|max| self.fired[number] >= max) {
            return TimeWindow::NEVER;
        }
        TimeWindow::from(self.last_s[number] + rule.again_after_s)
    }

    /// Whether an earlier rule in force stands against this one.
    fn gives_way(&self, rules: &Rules, number: usize, perceived: &Perceived, now_s: f64) -> bool {
        let change = &rules.list[number].change;
        self.in_force.iter().any(|entry| {
            let earlier = &rules.list[entry.rule];
            entry.rule < number
                && earlier.change.contradicts(change)
                && condition_window(rules, earlier, perceived, now_s).contains(now_s)
        })
    }

    /// Ends the changes for which `ends` is true, and returns their rules.
    fn end_where(&mut self, ends: impl Fn(&InForce) -> bool) -> Vec<usize> {
        let ended = self.in_force.extract_if(.., |entry| ends(entry));
        ended.map(|entry| entry.rule).collect()
    }
}

/// The time window in which the condition of a rule holds.
fn condition_window(
    rules: &Rules,
    rule: &PlanRule,
    perceived: &Perceived,
    now_s: f64,
) -> TimeWindow {
    rule.condition.window(perceived, rule.change.tackle.line, rules.target_kg, now_s)
}
