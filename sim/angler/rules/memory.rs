//! Which rules fire, which are in force, and what is chosen in all.

use super::rule::{Lasts, Rule, Rules};
use super::window::{Holds, SAME_S};
use crate::angler::phase::Phase;
use crate::angler::seen::Seen;

/// Time from a change of mind until the next can follow from it [s].
const SECOND_THOUGHT_S: f64 = 1.0;

/// What a rule chose, while it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
struct InForce {
    rule: usize,
    until_s: f64,
}

/// What the angler remembers of the rules.
#[derive(Clone, Debug, PartialEq)]
pub struct Mind {
    /// In the order in which they fired: what was chosen later lies above.
    in_force: Vec<InForce>,
    /// Times that each rule fired.
    fired: Vec<u32>,
    /// When each fired last [s].
    last_s: Vec<f64>,
}

/// What came of looking round once.
#[derive(Clone, Debug, PartialEq)]
pub struct Looked {
    /// Rules whose choice holds no longer, counted from 0.
    pub ended: Vec<usize>,
    /// Rules that fired, counted from 0.
    pub fired: Vec<usize>,
    /// What is chosen now.
    pub chosen: Phase,
    /// When to look again if nothing is perceived before [s]; infinite where there is no need.
    pub next_s: f64,
}

impl Mind {
    /// At the start, no rule has fired.
    #[must_use]
    pub fn fresh(rules: &Rules) -> Self {
        let count = rules.list.len();
        Self { in_force: Vec::new(), fired: vec![0; count], last_s: vec![f64::NEG_INFINITY; count] }
    }

    /// Times that each rule fired so far.
    #[must_use]
    pub fn fired(&self) -> &[u32] {
        &self.fired
    }

    /// A phase begins on the clock: what was to hold until then is dropped; returns those rules.
    pub fn phase_begins(&mut self, rules: &Rules) -> Vec<usize> {
        self.drop_where(|held| rules.list[held.rule].lasts == Lasts::Phase)
    }

    /// What is chosen: the phase, with the choices of all rules in force laid over it.
    #[must_use]
    pub fn chosen(&self, rules: &Rules, phase: &Phase) -> Phase {
        let held = self.in_force.iter().map(|held| &rules.list[held.rule]);
        held.fold(phase.clone(), |chosen, rule| rule.change.over(chosen))
    }

    /// Looks at all that was perceived and lets rules fire.
    ///
    /// A rule fires when all it asks for holds, its own limits allow it, and it would change something. It gives way
    /// to a rule before it that is in force, still holds and says otherwise.
    pub fn look(&mut self, rules: &Rules, phase: &Phase, seen: &Seen, now_s: f64) -> Looked {
        let ended = self.drop_where(|held| held.until_s <= now_s + SAME_S);
        let mut chosen = self.chosen(rules, phase);
        let mut fired = Vec::new();
        let mut next_s = f64::INFINITY;
        let mut wake = |at_s: f64| {
            if at_s > now_s + SAME_S {
                next_s = next_s.min(at_s);
            }
        };
        for (number, rule) in rules.list.iter().enumerate() {
            let when = asked(rules, rule, seen);
            let may = when.and(self.allows(number, rule));
            if may.from_s < may.until_s {
                wake(may.from_s);
            }
            wake(when.until_s);
            if !may.at(now_s) || self.gives_way(rules, number, seen, now_s) {
                continue;
            }
            let anew = rule.change.over(chosen.clone());
            if anew == chosen {
                continue;
            }
            self.fires(number, rule, now_s);
            chosen = self.chosen(rules, phase);
            fired.push(number);
        }
        self.in_force.iter().for_each(|held| wake(held.until_s));
        if !(ended.is_empty() && fired.is_empty()) {
            wake(now_s + SECOND_THOUGHT_S);
        }
        Looked { ended, fired, chosen, next_s }
    }

    fn fires(&mut self, number: usize, rule: &Rule, now_s: f64) {
        self.fired[number] += 1;
        self.last_s[number] = now_s;
        self.in_force.retain(|held| held.rule != number);
        let until_s = match rule.lasts {
            Lasts::For(time_s) => now_s + time_s,
            Lasts::Phase | Lasts::Session => f64::INFINITY,
        };
        self.in_force.push(InForce { rule: number, until_s });
    }

    /// When a rule's own limits let it fire.
    fn allows(&self, number: usize, rule: &Rule) -> Holds {
        if rule.at_most.is_some_and(|most| self.fired[number] >= most) {
            return Holds::NEVER;
        }
        Holds::from(self.last_s[number] + rule.again_after_s)
    }

    fn gives_way(&self, rules: &Rules, number: usize, seen: &Seen, now_s: f64) -> bool {
        let change = &rules.list[number].change;
        self.in_force.iter().any(|held| {
            let before = &rules.list[held.rule];
            held.rule < number
                && before.change.contradicts(change)
                && asked(rules, before, seen).at(now_s)
        })
    }

    fn drop_where(&mut self, ends: impl Fn(&InForce) -> bool) -> Vec<usize> {
        let ended = self.in_force.iter().filter(|held| ends(held)).map(|held| held.rule).collect();
        self.in_force.retain(|held| !ends(held));
        ended
    }
}

/// When all that a rule asks for holds.
fn asked(rules: &Rules, rule: &Rule, seen: &Seen) -> Holds {
    rule.when.holds(seen, rule.change.line, rules.target_kg)
}
