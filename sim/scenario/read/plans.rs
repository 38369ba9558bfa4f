//! Plans with their phases: the choices of a plan, overridden by those of each phase.

use super::rules::rules;
use crate::angler::{EndTackle, FeedMethod, LooseFeed, Phase, Plan, RecipeId, Tackle};
use crate::bait::LoadStyle;
use crate::scenario::check::check_rules;
use crate::scenario::diagnose::{Diagnostics, quoted};
use crate::scenario::schema::Dimension::{Bait, Length, Time};
use crate::scenario::schema::{
    ChoiceKeys, FeedKeys, FeedTimes, FullKey, Key, KeyPath, plan as keys, water,
};
use crate::scenario::values::{Names, ValueTable};

/// Times closer than this are treated as equal [s].
const SAME_S: f64 = 1e-6;

/// Every plan, in the order of the file.
pub(super) fn plans(table: &ValueTable, names: &Names<'_>, faults: &mut Diagnostics) -> Vec<Plan> {
    let plans = table.names(keys::PLANS, &[]).into_iter();
    plans
        .map(|plan| {
            let reader = PlanReader { table, names, plan };
            let windows = reader.windows(faults);
            let starts_s = windows.iter().map(|window| window.from_s).collect();
            let phases: Vec<Phase> =
                windows.iter().flat_map(|window| reader.phases(window, faults)).collect();
            let rules = rules(table, names, plan, starts_s);
            check_rules(table, names, plan, &phases, &rules, faults);
            Plan {
                name: plan.to_owned(),
                phases,
                bait_limit_kg: table.given(&keys::BAIT_LIMIT.at(&[plan])),
                rules,
            }
        })
        .collect()
}

/// A phase as written: its number and its times.
struct PhaseWindow {
    /// The number of its table. `None` for a plan without phases.
    number: Option<String>,
    from_s: f64,
    until_s: f64,
}

/// Loose feed with the times between which it is thrown.
struct FeedWindow {
    feed: LooseFeed,
    from_s: f64,
    until_s: f64,
}

/// Reads one plan.
struct PlanReader<'a> {
    table: &'a ValueTable,
    names: &'a Names<'a>,
    plan: &'a str,
}

impl PlanReader<'_> {
    /// The phases of the plan with their times; empty if their numbers or times cannot be used.
    fn windows(&self, faults: &mut Diagnostics) -> Vec<PhaseWindow> {
        let session_s = self.names.session_s;
        let names = self.table.names(keys::PHASES, &[self.plan]);
        let mut numbers: Vec<usize> = names.iter().filter_map(|name| name.parse().ok()).collect();
        numbers.sort_unstable();
        if numbers.is_empty() {
            return vec![PhaseWindow { number: None, from_s: 0.0, until_s: session_s }];
        }
        if let Some((index, number)) =
            numbers.iter().enumerate().find(|(index, number)| index + 1 != **number)
        {
            let table = keys::PHASES.entry(&[self.plan, &number.to_string()]);
            let problem = format!("there is no phase {} before it", index + 1);
            faults.add(self.table.fault(&table, problem, "count phases 1, 2, 3 without a gap"));
            return Vec::new();
        }
        let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        let from = self.phase_times(&numbers, keys::PHASE_FROM);
        let until = self.phase_times(&numbers, keys::PHASE_UNTIL);
        if from.iter().chain(&until).any(|time| self.table.failed(&time.key)) {
            return Vec::new();
        }
        let mut windows: Vec<PhaseWindow> = Vec::new();
        for (i, number) in numbers.iter().enumerate() {
            let table = keys::PHASES.entry(&[self.plan, number]);
            let before = if i == 0 { Some(0.0) } else { until[i - 1].time_s };
            let after = if i + 1 == numbers.len() { Some(session_s) } else { from[i + 1].time_s };
            let start_s = from[i].time_s.or(before);
            let (Some(from_s), Some(until_s)) = (start_s, until[i].time_s.or(after)) else {
                // Of the two phases at an open boundary only the later one reports it.
                if start_s.is_none() {
                    let problem = "has no beginning, and the phase before it has no end";
                    let fix = "write from = \"2 h\" here, or until before";
                    faults.add(self.table.fault(&table, problem, fix));
                }
                continue;
            };
            self.check_times(until[i].dotted_or(&table), from_s, until_s, faults);
            if let Some(last) = windows.last()
                && from_s < last.until_s - SAME_S
            {
                let (begins, ends) = (Time.show(from_s), Time.show(last.until_s));
                let problem = format!("begins at {begins}, before phase {i} ends at {ends}");
                let fix = "phases follow each other and cannot overlap";
                faults.add(self.table.fault(from[i].dotted_or(&table), problem, fix));
            }
            windows.push(PhaseWindow { number: Some(number.clone()), from_s, until_s });
        }
        windows
    }

    fn phase_times(&self, numbers: &[String], key: Key<f64>) -> Vec<PhaseTime> {
        let times = numbers.iter().map(|number| {
            let key = key.at(&[self.plan, number]);
            PhaseTime { time_s: self.table.given(&key), is_written: self.table.has(&key), key }
        });
        times.collect()
    }

    /// Checks the times of a phase or a feed; `dotted` is the key or table that is at fault.
    fn check_times(&self, dotted: &str, from_s: f64, until_s: f64, faults: &mut Diagnostics) {
        let session_s = self.names.session_s;
        if until_s > session_s + SAME_S {
            let session = Time.show(session_s);
            let problem = format!("ends at {}, after the session of {session}", Time.show(until_s));
            let fix = "end it earlier or make the session longer";
            faults.add(self.table.fault(dotted, problem, fix));
        } else if from_s >= until_s {
            let (begins, ends) = (Time.show(from_s), Time.show(until_s));
            let problem = format!("ends at {ends}, not after its beginning at {begins}");
            faults.add(self.table.fault(dotted, problem, "let it begin before it ends"));
        }
    }

    /// The key of a choice: the phase's own if it is written, otherwise the plan's.
    fn choice<T>(&self, window: &PhaseWindow, key: impl Fn(&ChoiceKeys) -> Key<T>) -> KeyPath<T> {
        let own = window.number.as_ref();
        own.map(|number| key(&keys::PHASE_CHOICES).at(&[self.plan, number]))
            .filter(|own| self.table.has(own))
            .unwrap_or_else(|| key(&keys::CHOICES).at(&[self.plan]))
    }

    /// The key of a feed on a line: the phase's own if it is written, otherwise the plan's.
    fn feed_key<T>(
        &self,
        window: &PhaseWindow,
        line: &str,
        key: impl Fn(&FeedKeys) -> Key<T>,
    ) -> KeyPath<T> {
        self.own_or_plan(window, line, key(&keys::PHASE_FEED), key(&keys::FEED))
    }

    fn feed_time(
        &self,
        window: &PhaseWindow,
        line: &str,
        key: impl Fn(&FeedTimes) -> Key<f64>,
    ) -> KeyPath<f64> {
        self.own_or_plan(window, line, key(&keys::PHASE_FEED_TIMES), key(&keys::FEED_TIMES))
    }

    fn own_or_plan<T>(
        &self,
        window: &PhaseWindow,
        line: &str,
        own: Key<T>,
        plan: Key<T>,
    ) -> KeyPath<T> {
        let number = window.number.as_ref();
        number
            .map(|number| own.at(&[self.plan, number, line]))
            .filter(|own| self.table.has(own))
            .unwrap_or_else(|| plan.at(&[self.plan, line]))
    }

    /// What a name stands for; the first if nothing is named or the name is unknown, which was reported earlier.
    fn index<T: Default>(&self, key: &KeyPath<String>, index_of: impl Fn(&str) -> Option<T>) -> T {
        index_of(&self.table.value(key)).unwrap_or_default()
    }

    /// The phase as written, cut where loose feed begins or ends within it.
    fn phases(&self, window: &PhaseWindow, faults: &mut Diagnostics) -> Vec<Phase> {
        let (table, names) = (self.table, self.names);
        let number = |key: fn(&ChoiceKeys) -> Key<f64>| table.value(&self.choice(window, key));
        let recipe = self.index(&self.choice(window, |keys| keys.bait), |name| names.recipe(name));
        let feeds = self.feeds(window, recipe, faults);
        let whole = Phase {
            from_s: window.from_s,
            until_s: window.until_s,
            tackle: Tackle {
                line: self.index(&self.choice(window, |keys| keys.line), |name| names.line(name)),
                recast_s: number(|keys| keys.recast),
                load_kg: number(|keys| keys.load),
                feeder_kg: number(|keys| keys.feeder),
                recipe,
                buried: table.value(&self.choice(window, |keys| keys.load_style))
                    == LoadStyle::Buried,
                compression: number(|keys| keys.squeeze),
                hookbait: self
                    .index(&self.choice(window, |keys| keys.hookbait), |name| names.hookbait(name)),
                end: EndTackle {
                    line_strength_kg: table.given(&self.choice(window, |keys| keys.line_strength)),
                    hook: table.given(&self.choice(window, |keys| keys.hook)),
                },
            },
            loose_feed: Vec::new(),
        };
        let mut cuts: Vec<f64> = feeds
            .iter()
            .flat_map(|timed| [timed.from_s, timed.until_s])
            .filter(|cut_s| window.from_s + SAME_S < *cut_s && *cut_s < window.until_s - SAME_S)
            .collect();
        cuts.push(window.from_s);
        cuts.push(window.until_s);
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() <= SAME_S);
        cuts.windows(2)
            .map(|ends| {
                let middle_s = 0.5 * (ends[0] + ends[1]);
                let is_thrown =
                    |timed: &&FeedWindow| timed.from_s <= middle_s && middle_s < timed.until_s;
                Phase {
                    from_s: ends[0],
                    until_s: ends[1],
                    loose_feed: feeds.iter().filter(is_thrown).map(|timed| timed.feed).collect(),
                    ..whole.clone()
                }
            })
            .collect()
    }

    /// The loose feed of a phase: the plan's feeds with the phase's changes and additions.
    fn feeds(
        &self,
        window: &PhaseWindow,
        feeder_recipe: RecipeId,
        faults: &mut Diagnostics,
    ) -> Vec<FeedWindow> {
        let mut line_names = self.table.names(keys::FEEDS, &[self.plan]);
        if let Some(number) = &window.number {
            for name in self.table.names(keys::PHASE_FEEDS, &[self.plan, number]) {
                if !line_names.contains(&name) {
                    line_names.push(name);
                }
            }
        }
        let mut feeds = Vec::new();
        for name in line_names {
            let amount_kg = self.table.value(&self.feed_key(window, name, |keys| keys.amount));
            let (Some(line), true) = (self.names.line(name), amount_kg > 0.0) else { continue };
            let bait = self.feed_key(window, name, |keys| keys.bait);
            let recipe = if self.table.has(&bait) {
                self.index(&bait, |name| self.names.recipe(name))
            } else {
                feeder_recipe
            };
            let from = self.feed_time(window, name, |keys| keys.from);
            let until = self.feed_time(window, name, |keys| keys.until);
            let from_s = self.table.given(&from).unwrap_or(0.0);
            let until_s = self.table.given(&until).unwrap_or(self.names.session_s);
            if self.table.has(&from) || self.table.has(&until) {
                let key = if self.table.has(&until) { &until } else { &from };
                self.check_feed_times(key, from_s, until_s, faults);
            }
            let every_s = self.table.value(&self.feed_key(window, name, |keys| keys.every));
            let by = self.feed_key(window, name, |keys| keys.by);
            let method = self.table.value(&by);
            if self.table.has(&by) {
                self.check_feed_method(&by, name, method, amount_kg, faults);
            }
            feeds.push(FeedWindow {
                feed: LooseFeed { line, recipe, every_s, amount_kg, method },
                from_s,
                until_s,
            });
        }
        feeds
    }

    /// Checks once whether a way to feed reaches its line and holds the amount.
    fn check_feed_method(
        &self,
        key: &KeyPath<FeedMethod>,
        line: &str,
        method: FeedMethod,
        amount_kg: f64,
        faults: &mut Diagnostics,
    ) {
        let words = method.words().unwrap_or("by catapult");
        let distance_m = self.table.value(&water::LINE_DISTANCE.at(&[line]));
        let (reach_m, max_kg) = (method.reach_m(), method.max_amount_kg());
        let (problem, fix) = if distance_m > reach_m {
            let (distance, reach) = (Length.show(distance_m), Length.show(reach_m));
            (
                format!("feed {words} gets {reach} far, and {} is at {distance}", quoted(line)),
                "feed a nearer line, or in another way: a catapult and a ball go farthest",
            )
        } else if amount_kg > max_kg {
            let (amount, most) = (Bait.show(amount_kg), Bait.show(max_kg));
            (
                format!("{amount} {words} is too much: {most} at a time is the most"),
                "feed less and more often, or in another way: a pot and a ball hold most",
            )
        } else {
            return;
        };
        let is_reported = faults.list().iter().any(|fault| fault.key == key.dotted());
        if !is_reported && !self.table.failed(key) {
            faults.add(self.table.fault(key.dotted(), problem, fix));
        }
    }

    /// Checks the times of a feed once, although a plan's feed is read again for each of its phases.
    fn check_feed_times(
        &self,
        key: &KeyPath<f64>,
        from_s: f64,
        until_s: f64,
        faults: &mut Diagnostics,
    ) {
        let is_reported = faults.list().iter().any(|fault| fault.key == key.dotted());
        if !is_reported && !self.table.failed(key) {
            self.check_times(key.dotted(), from_s, until_s, faults);
        }
    }
}

/// When a phase begins or ends, as written.
struct PhaseTime {
    key: KeyPath<f64>,
    time_s: Option<f64>,
    is_written: bool,
}

impl PhaseTime {
    /// Its key if it is written, otherwise the table of the phase.
    fn dotted_or<'a>(&'a self, table: &'a str) -> &'a str {
        if self.is_written { self.key.dotted() } else { table }
    }
}
