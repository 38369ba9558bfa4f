//! What is wrong with rules: those that can never fire, and those that contradict one another.

use crate::angler::{Change, Phase, Rule, Rules};
use crate::scenario::diagnose::{Fault, Faults, quoted};
use crate::scenario::schema::Dimension::Time;
use crate::scenario::values::{Names, ValueTable};

/// Two rules that send the angler to and fro with less rest than this do nothing else [s].
const REST_S: f64 = 60.0;

/// Checks the rules of one plan against its phases and against one another.
pub(crate) fn check_rules(
    sheet: &ValueTable,
    tackle: &Names<'_>,
    plan: &str,
    phases: &[Phase],
    rules: &Rules,
    faults: &mut Faults,
) {
    let unread = |(dotted, _): (&str, _)| dotted.starts_with(plan) && sheet.failed(dotted);
    // What could not be read has been told; what it would have meant is not known.
    if phases.is_empty() || sheet.keys().any(unread) {
        return;
    }
    let judge = RuleChecker { sheet, tackle, plan, phases, rules };
    for (number, rule) in rules.list.iter().enumerate() {
        if judge.is_whole(rule, faults) && judge.can_hold(rule, faults) {
            judge.changes_something(rule, faults);
            judge.agrees_with_those_before(number, faults);
        }
    }
}

/// The rules of one plan with all that they are judged by.
struct RuleChecker<'a> {
    sheet: &'a ValueTable,
    tackle: &'a Names<'a>,
    plan: &'a str,
    phases: &'a [Phase],
    rules: &'a Rules,
}

impl RuleChecker<'_> {
    fn table(&self, rule: &Rule) -> String {
        format!("{}.rule.{}", self.plan, rule.name)
    }

    /// Adds a fault of one key of a rule, or of the whole rule where no key is named.
    fn tell(&self, rule: &Rule, word: &str, wrong: &str, mend: &str, faults: &mut Faults) {
        let table = self.table(rule);
        let dotted = if word.is_empty() { table } else { format!("{table}.{word}") };
        faults.add(Fault::new(&self.sheet.place(&dotted), &dotted, wrong, mend));
    }

    fn has(&self, rule: &Rule, word: &str) -> bool {
        self.sheet.has(&format!("{}.{word}", self.table(rule)))
    }

    fn line_name(&self, line: usize) -> String {
        quoted(self.tackle.lines.get(line).map_or("", |line| &line.name))
    }

    /// Whether a rule asks for something, chooses something, and has all that its keys refer to.
    fn is_whole(&self, rule: &Rule, faults: &mut Faults) -> bool {
        let before = faults.list().len();
        let when = &rule.when;
        let counts = ["bites_at_least", "bites_at_most", "fish_show", "line_bites"];
        let times = ["no_bite_for", "after", "time_left", "rested_for"];
        let others = ["on_line", "behind", "ahead"];
        let asks = counts.iter().chain(&times).chain(&others).any(|word| self.has(rule, word));
        if !asks {
            let mend = "write what it waits for, such as no_bite_for = \"12 min\"";
            self.tell(rule, "", "asks for nothing", mend, faults);
        }
        if rule.change == (Change { new_feed: rule.change.new_feed, ..Change::default() }) {
            let mend = "write what is then done, such as line, recast, load or feed.LINE.amount";
            self.tell(rule, "", "chooses nothing", mend, faults);
        }
        if when.over.is_some() && when.fish_show.is_none() {
            let mend = "write fish_show = 2, or take it out";
            self.tell(rule, "over", "says where fish show, and nothing counts them", mend, faults);
        }
        if self.has(rule, "within") && !counts.iter().any(|word| self.has(rule, word)) {
            let mend =
                "write bites_at_most, bites_at_least, fish_show or line_bites, or take it out";
            self.tell(rule, "within", "is a time in which nothing is counted", mend, faults);
        }
        if when.rested_for_s.is_some() && rule.change.line.is_none() {
            let mend = "write line = NAME, the line that is to have rested";
            self.tell(rule, "rested_for", "no line is named to change to", mend, faults);
        }
        for (word, asked) in [("behind", when.behind_kg), ("ahead", when.ahead_kg)] {
            if asked.is_some() && self.rules.target_kg.is_none() {
                let mend = format!("write {}.target, the weight aimed at by the end", self.plan);
                self.tell(rule, word, "the plan has no target", &mend, faults);
            }
        }
        faults.list().len() == before
    }

    /// Whether all that a rule asks for can ever hold at once.
    fn can_hold(&self, rule: &Rule, faults: &mut Faults) -> bool {
        let before = faults.list().len();
        let when = &rule.when;
        if let (Some(least), Some(most)) = (when.bites_at_least, when.bites_at_most)
            && least > most
        {
            let wrong = format!("is above bites_at_most ({most}), so the rule can never fire");
            self.tell(rule, "bites_at_least", &wrong, "exchange them, or take one out", faults);
        }
        if when.behind_kg.is_some() && when.ahead_kg.is_some() {
            let mend = "take one of the two out";
            let wrong = "nobody is behind and ahead at once, so the rule can never fire";
            self.tell(rule, "ahead", wrong, mend, faults);
        }
        self.lines_are_fished(rule, faults);
        self.times_are_reached(rule, faults);
        self.shows_are_possible(rule, faults);
        faults.list().len() == before
    }

    /// Whether some rule changes to a line.
    fn is_changed_to(&self, line: usize) -> bool {
        self.rules.list.iter().any(|rule| rule.change.line == Some(line))
    }

    /// Spells in which one line is fished without a break, as the phases say [s]; only those a rule may act in.
    ///
    /// Where rules change to such a line, nothing is known but the session.
    fn stays_s(&self, rule: &Rule) -> Vec<(f64, f64)> {
        let on = rule.when.on_line;
        let free = match on {
            Some(line) => self.is_changed_to(line),
            None => self.rules.list.iter().any(|rule| rule.change.line.is_some()),
        };
        if free {
            return vec![(0.0, self.tackle.session_s)];
        }
        let mut stays: Vec<(usize, f64, f64)> = Vec::new();
        for phase in self.phases {
            match stays.last_mut() {
                Some((line, _, until_s)) if *line == phase.line && *until_s >= phase.from_s => {
                    *until_s = phase.until_s;
                }
                _ => stays.push((phase.line, phase.from_s, phase.until_s)),
            }
        }
        let there = stays.into_iter().filter(|(line, ..)| on.is_none_or(|on| on == *line));
        there.map(|(_, from_s, until_s)| (from_s, until_s)).collect()
    }

    fn lines_are_fished(&self, rule: &Rule, faults: &mut Faults) {
        if let Some(on) = rule.when.on_line
            && self.stays_s(rule).is_empty()
        {
            let wrong = format!(
                "no phase fishes {} and no rule changes to it, so the rule can never fire",
                self.line_name(on)
            );
            self.tell(rule, "on_line", &wrong, "name a line that is fished", faults);
        }
    }

    /// Whether each time asked for comes while a line is fished on which the rule may act.
    fn times_are_reached(&self, rule: &Rule, faults: &mut Faults) {
        let (when, session_s) = (&rule.when, self.tackle.session_s);
        let stays = self.stays_s(rule);
        // Earliest firing in a stay that begins at a time, by each thing asked.
        let lately_s = when.bites_at_most.map(|_| when.within_s);
        let asked: [(&str, Option<f64>, bool); 5] = [
            ("no_bite_for", when.no_bite_for_s, true),
            (if self.has(rule, "within") { "within" } else { "bites_at_most" }, lately_s, true),
            ("after", when.after_s, false),
            ("time_left", when.time_left_s.map(|left_s| session_s - left_s), false),
            ("rested_for", when.rested_for_s, false),
        ];
        let earliest = |from_s: f64, asked_s: f64, in_stay: bool| {
            if in_stay { from_s + asked_s } else { from_s.max(asked_s) }
        };
        for (word, asked_s, in_stay) in asked {
            let Some(asked_s) = asked_s else { continue };
            let reached =
                stays.iter().any(|&(from_s, until_s)| earliest(from_s, asked_s, in_stay) < until_s);
            if reached || stays.is_empty() {
                continue;
            }
            let longest_s =
                stays.iter().map(|(from_s, until_s)| until_s - from_s).fold(0.0, f64::max);
            let last_s = stays.iter().map(|(_, until_s)| *until_s).fold(0.0, f64::max);
            let (wrong, mend) = if in_stay {
                let longest = Time.show(longest_s);
                (
                    format!(
                        "a line is fished for {longest} without a break at most, so the rule can never \
                         fire"
                    ),
                    format!("ask for less than {longest}"),
                )
            } else {
                let last = Time.show(last_s);
                (
                    format!(
                        "the lines on which the rule may act are fished until {last}, so it can never fire"
                    ),
                    format!("let it hold before {last}"),
                )
            };
            self.tell(rule, word, &wrong, &mend, faults);
            return;
        }
        let together = stays.iter().any(|&(from_s, until_s)| {
            let times = asked.iter().filter_map(|&(_, asked_s, in_stay)| Some((asked_s?, in_stay)));
            times.map(|(s, in_stay)| earliest(from_s, s, in_stay)).fold(from_s, f64::max) < until_s
        });
        if !together && !stays.is_empty() {
            let wrong = "the times asked for are not reached together, so the rule can never fire";
            self.tell(rule, "", wrong, "ask for shorter or earlier times", faults);
        }
    }

    /// Fish come up for loose feed that falls: where none is thrown, none will show.
    fn shows_are_possible(&self, rule: &Rule, faults: &mut Faults) {
        if rule.when.fish_show.is_none() {
            return;
        }
        let over = rule.when.over;
        let counts = |line: usize| over.is_none_or(|over| over == line);
        let by_plan = self.phases.iter().flat_map(|phase| &phase.loose_feed);
        let by_rules = self.rules.list.iter().flat_map(|rule| &rule.change.feeds);
        let by_rules = by_rules.filter(|feed| feed.amount_kg.is_none_or(|kg| kg > 0.0));
        let fed = by_plan.map(|feed| feed.line).chain(by_rules.map(|feed| feed.line)).any(counts);
        if !fed {
            let (word, there) = match over {
                Some(line) => ("over", format!("over {}", self.line_name(line))),
                None => ("fish_show", "on any line".to_owned()),
            };
            let wrong = format!(
                "nothing is loose fed {there}, and fish show where feed falls: the rule can never fire"
            );
            let line = over.map_or("LINE", |line| self.tackle.lines[line].name.as_str());
            let mend = format!("write {}.feed.{line}.amount, or ask for something else", self.plan);
            self.tell(rule, word, &wrong, &mend, faults);
        }
    }

    /// Whether a rule chooses anything that is not so already whenever it may act.
    fn changes_something(&self, rule: &Rule, faults: &mut Faults) {
        let on = rule.when.on_line;
        let acts_in =
            |phase: &&Phase| on.is_none_or(|on| on == phase.line || self.is_changed_to(on));
        let same = self.phases.iter().filter(acts_in).all(|phase| {
            let phase = Phase { line: on.unwrap_or(phase.line), ..phase.clone() };
            rule.change.over(phase.clone()) == phase
        });
        let others = self.rules.list.iter();
        if same && !others.clone().any(|other| other.change.contradicts(&rule.change)) {
            let wrong = "chooses what is so already whenever it may act, so it changes nothing";
            let mend = "choose something else than the plan does, or take the rule out";
            self.tell(rule, "", wrong, mend, faults);
        }
    }

    /// Whether a rule says otherwise than one before it that holds whenever it does, or sends the angler to and fro.
    fn agrees_with_those_before(&self, number: usize, faults: &mut Faults) {
        let rule = &self.rules.list[number];
        for before in &self.rules.list[..number] {
            if !before.change.contradicts(&rule.change) {
                continue;
            }
            let name = quoted(&before.name);
            if before.when == rule.when {
                let wrong = format!("asks for the same as the rule {name} and chooses otherwise");
                let mend = "let the two ask for different things, or take one out";
                self.tell(rule, "", &wrong, mend, faults);
            } else if to_and_fro(before, rule) {
                let wrong =
                    format!("sends the angler back as soon as the rule {name} has sent him");
                let mend = "give one of them again_after, no_bite_for or rested_for, so that there is rest";
                self.tell(rule, "", &wrong, mend, faults);
            }
        }
    }
}

/// Whether each of two rules changes to the line on which the other acts, and neither has to wait there.
fn to_and_fro(one: &Rule, other: &Rule) -> bool {
    let restless = |rule: &Rule| {
        let when = &rule.when;
        let waits = when.no_bite_for_s.is_some()
            || when.bites_at_least.is_some()
            || when.bites_at_most.is_some()
            || when.line_bites.is_some()
            || when.rested_for_s.is_some();
        !waits && rule.at_most.is_none() && rule.again_after_s < REST_S
    };
    let crossed = one.when.on_line.is_some()
        && one.when.on_line == other.change.line
        && other.when.on_line.is_some()
        && other.when.on_line == one.change.line;
    crossed && restless(one) && restless(other)
}
