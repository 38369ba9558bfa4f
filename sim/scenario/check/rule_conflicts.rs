//! Checks of a plan's rules: incomplete ones, ones that can never fire, and ones that contradict each other.

use super::rule_timing::{is_changed_to, stays, timing_problem};
use crate::angler::{Phase, PlanChange, PlanRule, Rules};
use crate::scenario::diagnose::{Diagnostics, quoted};
use crate::scenario::schema::{FullKey, KeySpec, plan as plan_keys, rule as keys, session};
use crate::scenario::values::{Names, ValueTable};

/// Shortest rest between two rules that change the line back and forth [s].
const MIN_REST_S: f64 = 60.0;

/// Conditions that count something within a time.
const COUNTS: [KeySpec; 9] = [
    keys::BITES_AT_LEAST.spec(),
    keys::BITES_AT_MOST.spec(),
    keys::FISH_SHOW.spec(),
    keys::LINE_BITES.spec(),
    keys::FISH_LOST.spec(),
    keys::BITES_MISSED.spec(),
    keys::LANDED_AT_LEAST.spec(),
    keys::LANDED_AT_MOST.spec(),
    keys::FOUL_HOOKED.spec(),
];

/// All other conditions.
const OTHER_CONDITIONS: [KeySpec; 13] = [
    keys::NO_BITE_FOR.spec(),
    keys::AFTER.spec(),
    keys::TIME_LEFT.spec(),
    keys::RESTED_FOR.spec(),
    keys::ON_LINE.spec(),
    keys::BEHIND.spec(),
    keys::AHEAD.spec(),
    keys::MISSED_IN_A_ROW.spec(),
    keys::FISH_BELOW.spec(),
    keys::WIND_AT_LEAST.spec(),
    keys::WIND_AT_MOST.spec(),
    keys::TO_SUNSET.spec(),
    keys::CLOCK_FROM.spec(),
];

/// Checks the rules of one plan against its phases and against each other.
pub(crate) fn check_rules(
    table: &ValueTable,
    names: &Names<'_>,
    plan: &str,
    phases: &[Phase],
    rules: &Rules,
    faults: &mut Diagnostics,
) {
    // Unreadable values were reported before; what they would have meant is not known.
    if phases.is_empty() || table.failed_below(&plan_keys::PLANS.entry(&[plan])) {
        return;
    }
    let checker = RuleChecker { table, names, plan, phases, rules };
    for (index, rule) in rules.list.iter().enumerate() {
        if checker.is_complete(rule, faults) && checker.can_fire(rule, faults) {
            checker.changes_something(rule, faults);
            checker.agrees_with_earlier_rules(index, faults);
        }
    }
}

/// The rules of one plan with everything they are checked against.
struct RuleChecker<'a> {
    table: &'a ValueTable,
    names: &'a Names<'a>,
    plan: &'a str,
    phases: &'a [Phase],
    rules: &'a Rules,
}

impl RuleChecker<'_> {
    /// Adds a fault of a whole rule.
    fn fault(&self, rule: &PlanRule, problem: &str, fix: &str, faults: &mut Diagnostics) {
        let dotted = keys::RULES.entry(&[self.plan, &rule.name]);
        faults.add(self.table.fault(&dotted, problem, fix));
    }

    /// Adds a fault of one key of a rule.
    fn key_fault(
        &self,
        rule: &PlanRule,
        key: KeySpec,
        problem: &str,
        fix: &str,
        faults: &mut Diagnostics,
    ) {
        let key = key.at(&[self.plan, &rule.name]);
        faults.add(self.table.fault(key.dotted(), problem, fix));
    }

    fn has(&self, rule: &PlanRule, key: KeySpec) -> bool {
        self.table.has(&key.at(&[self.plan, &rule.name]))
    }

    /// Whether a rule has a condition, a change, and everything that its keys refer to.
    fn is_complete(&self, rule: &PlanRule, faults: &mut Diagnostics) -> bool {
        let before = faults.list().len();
        let when = &rule.condition;
        if !COUNTS.iter().chain(&OTHER_CONDITIONS).any(|key| self.has(rule, *key)) {
            let fix = "write what it waits for, such as no_bite_for = \"12 min\"";
            self.fault(rule, "has no condition", fix, faults);
        }
        if rule.change == (PlanChange { new_feed: rule.change.new_feed, ..PlanChange::default() }) {
            let fix = "write what it changes, such as line, recast, load or feed.LINE.amount";
            self.fault(rule, "changes nothing", fix, faults);
        }
        if when.show_line.is_some() && when.min_shows.is_none() {
            let problem = "says where fish show, but fish_show is missing";
            let fix = "write fish_show = 2, or remove it";
            self.key_fault(rule, keys::OVER.spec(), problem, fix, faults);
        }
        if self.has(rule, keys::WITHIN.spec()) && !COUNTS.iter().any(|key| self.has(rule, *key)) {
            let problem = "is a time in which nothing is counted";
            let fix = "write what is counted, such as bites_at_most, fish_lost or landed_at_most, or remove it";
            self.key_fault(rule, keys::WITHIN.spec(), problem, fix, faults);
        }
        if self.has(rule, keys::OF_LAST.spec()) && !self.has(rule, keys::FISH_BELOW.spec()) {
            let problem = "is a number of fish that nothing asks about";
            let fix = "write fish_below = \"1 kg\", or remove it";
            self.key_fault(rule, keys::OF_LAST.spec(), problem, fix, faults);
        }
        self.sun_and_clock_are_known(rule, faults);
        if when.rested_for_s.is_some() && rule.change.tackle.line.is_none() {
            let problem = "the rule does not change to a line";
            let fix = "write line = NAME, the line that must have rested";
            self.key_fault(rule, keys::RESTED_FOR.spec(), problem, fix, faults);
        }
        for (key, weight_kg) in [(keys::BEHIND, when.behind_kg), (keys::AHEAD, when.ahead_kg)] {
            if weight_kg.is_some() && self.rules.target_kg.is_none() {
                let target = keys::TARGET.at(&[self.plan]);
                let fix = format!("write {}, the weight you aim for", target.dotted());
                self.key_fault(rule, key.spec(), "the plan has no target", &fix, faults);
            }
        }
        faults.list().len() == before
    }

    /// Whether times by the sun and the clock can be worked out.
    fn sun_and_clock_are_known(&self, rule: &PlanRule, faults: &mut Diagnostics) {
        let when = &rule.condition;
        let has_date = self.table.has(&session::DATE.at(&[]));
        if self.has(rule, keys::TO_SUNSET.spec()) && when.dusk.is_none() {
            let (problem, fix) = if has_date {
                ("the sun does not set on this date at this latitude", "use clock_from or after")
            } else {
                ("needs the date of the session", "write session.date, such as \"2026-07-04\"")
            };
            self.key_fault(rule, keys::TO_SUNSET.spec(), problem, fix, faults);
        }
        if !self.has(rule, keys::CLOCK_FROM.spec()) {
            return;
        }
        let fix = "write hours and minutes, such as \"18:30\"";
        if when.clock.is_none() {
            self.key_fault(rule, keys::CLOCK_FROM.spec(), "is not a clock time", fix, faults);
        } else if !has_date && !self.table.has(&session::START.at(&[])) {
            let problem = "needs the clock time of the start of the session";
            let fix = "write session.start, such as \"10:00\", or use after";
            self.key_fault(rule, keys::CLOCK_FROM.spec(), problem, fix, faults);
        }
    }

    /// Whether all conditions of a rule can hold at once.
    fn can_fire(&self, rule: &PlanRule, faults: &mut Diagnostics) -> bool {
        let before = faults.list().len();
        let when = &rule.condition;
        let (bites, swap) = ("bites_at_most", "swap them, or remove one");
        let fewer = "ask for fewer missed bites, or for more bites";
        for (key, least, limit, most, fix) in [
            (keys::BITES_AT_LEAST, when.min_bites, bites, when.max_bites, swap),
            (keys::LANDED_AT_LEAST, when.min_landed, "landed_at_most", when.max_landed, swap),
            (keys::BITES_MISSED, when.min_missed, bites, when.max_bites, fewer),
        ] {
            if let (Some(least), Some(most)) = (least, most)
                && least > most
            {
                let problem = format!("is above {limit} ({most}), so the rule can never fire");
                self.key_fault(rule, key.spec(), &problem, fix, faults);
            }
        }
        if let (Some(least_m_s), Some(most_m_s)) = (when.min_wind_m_s, when.max_wind_m_s)
            && least_m_s > most_m_s
        {
            let problem = "is above wind_at_most, so the rule can never fire";
            self.key_fault(rule, keys::WIND_AT_LEAST.spec(), problem, swap, faults);
        }
        if when.behind_kg.is_some() && when.ahead_kg.is_some() {
            let problem = "nobody is behind and ahead at once, so the rule can never fire";
            self.key_fault(rule, keys::AHEAD.spec(), problem, "remove one of the two", faults);
        }
        self.times_are_reached(rule, faults);
        self.shows_are_possible(rule, faults);
        faults.list().len() == before
    }

    /// Whether the rule's line is fished, and each time is reached while the rule may act.
    fn times_are_reached(&self, rule: &PlanRule, faults: &mut Diagnostics) {
        let session_s = self.names.session_s;
        let stays = stays(rule, self.rules, self.phases, session_s);
        if let Some(line) = rule.condition.on_line
            && stays.is_empty()
        {
            let problem = format!(
                "no phase fishes {} and no rule changes to it, so the rule can never fire",
                self.names.quoted_line(line)
            );
            let fix = "name a line that is fished";
            self.key_fault(rule, keys::ON_LINE.spec(), &problem, fix, faults);
        }
        let has_within = self.has(rule, keys::WITHIN.spec());
        if let Some(timing) = timing_problem(rule, has_within, &stays, session_s) {
            match timing.key {
                Some(key) => self.key_fault(rule, key, &timing.problem, &timing.fix, faults),
                None => self.fault(rule, &timing.problem, &timing.fix, faults),
            }
        }
    }

    /// Whether loose feed falls where fish are to show, since they come up only for that.
    fn shows_are_possible(&self, rule: &PlanRule, faults: &mut Diagnostics) {
        if rule.condition.min_shows.is_none() {
            return;
        }
        let over = rule.condition.show_line;
        let by_plan = self.phases.iter().flat_map(|phase| &phase.loose_feed).map(|feed| feed.line);
        let by_rules = self.rules.list.iter().flat_map(|rule| &rule.change.feeds);
        let by_rules = by_rules.filter(|feed| feed.amount_kg.is_none_or(|kg| kg > 0.0));
        let mut fed = by_plan.chain(by_rules.map(|feed| feed.line));
        if !fed.any(|line| over.is_none_or(|over| over == line)) {
            let (key, which) = match over {
                Some(line) => (keys::OVER.spec(), format!("over {}", self.names.quoted_line(line))),
                None => (keys::FISH_SHOW.spec(), "on any line".to_owned()),
            };
            let problem = format!(
                "nothing is loose fed {which}, and fish show only where feed falls, so the rule can never fire"
            );
            let line = over.map_or("LINE", |line| self.names.lines[line.0].name.as_str());
            let amount = plan_keys::FEED.amount.at(&[self.plan, line]);
            let fix = format!("write {}, or use another condition", amount.dotted());
            self.key_fault(rule, key, &problem, &fix, faults);
        }
    }

    /// Whether a rule changes anything that is not so already whenever it may act.
    fn changes_something(&self, rule: &PlanRule, faults: &mut Diagnostics) {
        let on_line = rule.condition.on_line;
        let acts_in = |phase: &&Phase| {
            on_line.is_none_or(|line| line == phase.tackle.line || is_changed_to(self.rules, line))
        };
        let same = self.phases.iter().filter(acts_in).all(|phase| {
            let mut phase = phase.clone();
            phase.tackle.line = on_line.unwrap_or(phase.tackle.line);
            rule.change.applied_to(phase.clone()) == phase
        });
        let undoes_another =
            self.rules.list.iter().any(|other| other.change.contradicts(&rule.change));
        if same && !undoes_another {
            let problem =
                "changes nothing: the plan makes the same choices whenever the rule may act";
            let fix = "make a different choice from the plan's, or remove the rule";
            self.fault(rule, problem, fix, faults);
        }
    }

    /// Whether a rule contradicts an earlier one, or changes the line back and forth with it.
    fn agrees_with_earlier_rules(&self, index: usize, faults: &mut Diagnostics) {
        let rule = &self.rules.list[index];
        for earlier in &self.rules.list[..index] {
            if !earlier.change.contradicts(&rule.change) {
                continue;
            }
            let name = quoted(&earlier.name);
            if earlier.condition == rule.condition {
                let problem =
                    format!("has the same conditions as the rule {name} and other changes");
                let fix = "give the two different conditions, or remove one";
                self.fault(rule, &problem, fix, faults);
            } else if back_and_forth(earlier, rule) {
                let problem =
                    format!("changes the line back as soon as the rule {name} has changed it");
                let fix = "give one of them again_after, no_bite_for or rested_for, so that the angler waits";
                self.fault(rule, &problem, fix, faults);
            }
        }
    }
}

/// Whether two rules could send the angler back and forth: each changes to the line on which the other acts, and neither waits.
fn back_and_forth(first: &PlanRule, second: &PlanRule) -> bool {
    let is_restless = |rule: &PlanRule| {
        let when = &rule.condition;
        let waits = when.no_bite_for_s.is_some()
            || when.min_bites.is_some()
            || when.max_bites.is_some()
            || when.min_line_bites.is_some()
            || when.min_lost.is_some()
            || when.min_missed.is_some()
            || when.min_missed_in_a_row.is_some()
            || when.min_landed.is_some()
            || when.max_landed.is_some()
            || when.min_foul_hooked.is_some()
            || when.lighter.is_some()
            || when.rested_for_s.is_some();
        !waits && rule.max_firings.is_none() && rule.again_after_s < MIN_REST_S
    };
    let leads_to = |from: &PlanRule, to: &PlanRule| {
        to.condition.on_line.is_some() && to.condition.on_line == from.change.tackle.line
    };
    leads_to(first, second) && leads_to(second, first) && is_restless(first) && is_restless(second)
}
