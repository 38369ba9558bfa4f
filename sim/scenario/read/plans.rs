//! Plans with their phases: what the plan says, overlaid by what each phase says.

use super::rules::rules;
use crate::angler::{LooseFeed, Phase, Plan};
use crate::scenario::check::check_rules;
use crate::scenario::diagnose::{Fault, Faults};
use crate::scenario::schema::Dimension::Time;
use crate::scenario::values::{Names, ValueTable};

/// Two moments nearer than this are the same [s].
const SAME_S: f64 = 1e-6;

/// Every plan, in the order of the file.
pub(crate) fn plans(sheet: &ValueTable, tackle: &Names<'_>, faults: &mut Faults) -> Vec<Plan> {
    sheet
        .names("plan")
        .into_iter()
        .map(|name| {
            let table = format!("plan.{name}");
            let desk = Desk { sheet, tackle, plan: &table };
            let windows = desk.windows(faults);
            let starts_s = windows.iter().map(|window| window.from_s).collect();
            let phases: Vec<Phase> =
                windows.iter().flat_map(|window| desk.phases_of(window, faults)).collect();
            let rules = rules(sheet, tackle, &table, starts_s);
            check_rules(sheet, tackle, &table, &phases, &rules, faults);
            Plan {
                name: name.to_owned(),
                phases,
                bait_limit_kg: sheet.given_number(&format!("{table}.bait_limit")),
                rules,
            }
        })
        .collect()
}

/// A phase as written: its table, if it has one, and its times.
struct PhaseWindow {
    table: Option<String>,
    from_s: f64,
    until_s: f64,
}

/// Loose feed with the times between which it is thrown.
struct FeedWindow {
    feed: LooseFeed,
    from_s: f64,
    until_s: f64,
}

/// One plan being read.
struct Desk<'a> {
    sheet: &'a ValueTable,
    tackle: &'a Names<'a>,
    plan: &'a str,
}

impl Desk<'_> {
    /// The phases of the plan with their times; none where they make no sense.
    fn windows(&self, faults: &mut Faults) -> Vec<PhaseWindow> {
        let session_s = self.tackle.session_s;
        let above = format!("{}.phase", self.plan);
        let mut numbers: Vec<usize> =
            self.sheet.names(&above).iter().filter_map(|name| name.parse().ok()).collect();
        numbers.sort_unstable();
        if numbers.is_empty() {
            return vec![PhaseWindow { table: None, from_s: 0.0, until_s: session_s }];
        }
        if let Some((at, number)) =
            numbers.iter().enumerate().find(|(at, number)| at + 1 != **number)
        {
            let table = format!("{above}.{number}");
            let wrong = format!("there is no phase {} before it", at + 1);
            let mend = "phases are counted 1, 2, 3 without a gap";
            faults.add(Fault::new(&self.sheet.place(&table), table, wrong, mend));
            return Vec::new();
        }
        let tables: Vec<_> = numbers.iter().map(|number| format!("{above}.{number}")).collect();
        let keys = |word: &str| tables.iter().map(|table| format!("{table}.{word}")).collect();
        let (from_keys, until_keys): (Vec<String>, Vec<String>) = (keys("from"), keys("until"));
        if from_keys.iter().chain(&until_keys).any(|key| self.sheet.failed(key)) {
            return Vec::new();
        }
        let from: Vec<_> = from_keys.iter().map(|key| self.sheet.given_number(key)).collect();
        let until: Vec<_> = until_keys.iter().map(|key| self.sheet.given_number(key)).collect();
        let mut windows: Vec<PhaseWindow> = Vec::new();
        for (i, table) in tables.iter().enumerate() {
            let before = if i == 0 { Some(0.0) } else { until[i - 1] };
            let after = if i + 1 == tables.len() { Some(session_s) } else { from[i + 1] };
            let (Some(from_s), Some(until_s)) = (from[i].or(before), until[i].or(after)) else {
                // Of the two sides of an open boundary only the later one tells it.
                if from[i].or(before).is_none() {
                    let wrong = "has no beginning, and the phase before it no end";
                    let mend = "write from = \"2 h\" here, or until before";
                    faults.add(Fault::new(&self.sheet.place(table), table, wrong, mend));
                }
                continue;
            };
            let at = if self.sheet.has(&until_keys[i]) { &until_keys[i] } else { table };
            self.check_times(at, from_s, until_s, faults);
            if let Some(last) = windows.last()
                && from_s < last.until_s - SAME_S
            {
                let at = if self.sheet.has(&from_keys[i]) { &from_keys[i] } else { table };
                let (begins, ends) = (Time.show(from_s), Time.show(last.until_s));
                let wrong = format!("begins at {begins}, before phase {i} ends at {ends}");
                let mend = "phases follow one another and may not overlap";
                faults.add(Fault::new(&self.sheet.place(at), at, wrong, mend));
            }
            windows.push(PhaseWindow { table: Some(table.clone()), from_s, until_s });
        }
        windows
    }

    fn check_times(&self, at: &str, from_s: f64, until_s: f64, faults: &mut Faults) {
        let session_s = self.tackle.session_s;
        let place = self.sheet.place(at);
        if until_s > session_s + SAME_S {
            let session = Time.show(session_s);
            let wrong = format!("ends at {}, after the session of {session}", Time.show(until_s));
            faults.add(Fault::new(&place, at, wrong, "end it earlier or make the session longer"));
        } else if from_s >= until_s {
            let (begins, ends) = (Time.show(from_s), Time.show(until_s));
            let wrong = format!("ends at {ends}, not after its beginning at {begins}");
            faults.add(Fault::new(&place, at, wrong, "give it a beginning before its end"));
        }
    }

    /// The key of a choice: the phase's own where it is written, else the plan's.
    fn key(&self, window: &PhaseWindow, word: &str) -> String {
        let own = window.table.as_ref().map(|table| format!("{table}.{word}"));
        own.filter(|dotted| self.sheet.has(dotted))
            .unwrap_or_else(|| format!("{}.{word}", self.plan))
    }

    fn number(&self, window: &PhaseWindow, word: &str) -> f64 {
        self.sheet.number(&self.key(window, word))
    }

    /// Place in a list of what a choice names; the first where nothing is named.
    fn place_of<'n>(
        &self,
        window: &PhaseWindow,
        word: &str,
        mut names: impl Iterator<Item = &'n str>,
    ) -> usize {
        let name = self.sheet.text(&self.key(window, word));
        // A name of nothing has been told already.
        names.position(|known| known == name).unwrap_or(0)
    }

    /// A phase as written, cut where loose feed begins or ends within it.
    fn phases_of(&self, window: &PhaseWindow, faults: &mut Faults) -> Vec<Phase> {
        let Names { lines, recipes, hookbaits, .. } = self.tackle;
        let recipe = self.place_of(window, "bait", recipes.iter().map(|r| r.name.as_str()));
        let feeds = self.feeds(window, recipe, faults);
        let whole = Phase {
            from_s: window.from_s,
            until_s: window.until_s,
            line: self.place_of(window, "line", lines.iter().map(|line| line.name.as_str())),
            recast_s: self.number(window, "recast"),
            load_kg: self.number(window, "load"),
            feeder_kg: self.number(window, "feeder"),
            recipe,
            buried: self.sheet.text(&self.key(window, "load_style")) == "buried",
            squeeze: self.number(window, "squeeze"),
            hookbait: self.place_of(
                window,
                "hookbait",
                hookbaits.iter().map(|hookbait| hookbait.name.as_str()),
            ),
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
                let thrown =
                    |timed: &&FeedWindow| timed.from_s <= middle_s && middle_s < timed.until_s;
                Phase {
                    from_s: ends[0],
                    until_s: ends[1],
                    loose_feed: feeds.iter().filter(thrown).map(|timed| timed.feed).collect(),
                    ..whole.clone()
                }
            })
            .collect()
    }

    /// Loose feed of a phase: the plan's own, changed and added to by the phase's.
    fn feeds(
        &self,
        window: &PhaseWindow,
        on_feeder: usize,
        faults: &mut Faults,
    ) -> Vec<FeedWindow> {
        let mut names = self.sheet.names(&format!("{}.feed", self.plan));
        let own = window.table.as_ref().map(|table| format!("{table}.feed"));
        for name in own.iter().flat_map(|table| self.sheet.names(table)) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let mut feeds = Vec::new();
        for name in names {
            let number = |word: &str| self.number(window, &format!("feed.{name}.{word}"));
            let amount_kg = number("amount");
            let line = self.tackle.lines.iter().position(|line| line.name == *name);
            let (Some(line), true) = (line, amount_kg > 0.0) else { continue };
            let bait = format!("feed.{name}.bait");
            let recipe = if self.sheet.has(&self.key(window, &bait)) {
                self.place_of(window, &bait, self.tackle.recipes.iter().map(|r| r.name.as_str()))
            } else {
                on_feeder
            };
            let [from, until] =
                ["from", "until"].map(|word| self.key(window, &format!("feed.{name}.{word}")));
            let from_s = self.sheet.given_number(&from).unwrap_or(0.0);
            let until_s = self.sheet.given_number(&until).unwrap_or(self.tackle.session_s);
            if self.sheet.has(&from) || self.sheet.has(&until) {
                let at = if self.sheet.has(&until) { &until } else { &from };
                self.check_feed_times(at, from_s, until_s, faults);
            }
            let feed = LooseFeed { line, recipe, every_s: number("every"), amount_kg };
            feeds.push(FeedWindow { feed, from_s, until_s });
        }
        feeds
    }

    /// As for a phase; a feed of the plan is met in each of its phases, and told once.
    fn check_feed_times(&self, at: &str, from_s: f64, until_s: f64, faults: &mut Faults) {
        let told = faults.list().iter().any(|fault| fault.key == at);
        if !told && !self.sheet.failed(at) {
            self.check_times(at, from_s, until_s, faults);
        }
    }
}
