//! Settings that one turns while looking for a better plan: what each may be, and where it stands.

use crate::params::Spread;
use crate::scenario::diagnose::Faults;
use crate::scenario::read::{Written, value_table};
use crate::scenario::schema::{Dimension, Key, Kind, Thing, key_of, read_quantity, tidy};
use crate::scenario::values::ValueTable;

/// One value that a dial can stand at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// As it is written after `KEY=`; none leaves what the file says.
    pub written: Option<String>,
    /// As it is shown.
    pub shown: String,
}

/// One setting that can be turned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dial {
    /// The plan it belongs to; none for the water and its fish.
    pub plan: Option<String>,
    /// Its dotted key.
    pub key: String,
    /// What it is called.
    pub name: String,
    /// One sentence from the table of keys.
    pub says: String,
    /// Whether its stops are in order, from least to most, rather than a choice of names.
    pub ordered: bool,
    /// What it can stand at.
    pub stops: Vec<Stop>,
    /// Which of them holds.
    pub at: usize,
}

/// Stops of a quantity, by the last word of its key.
const STOPS: &[(&str, &str, &str)] = &[
    (
        "recast",
        "recast after",
        "30 s,45 s,1 min,1 min 30 s,2 min,2 min 30 s,3 min,4 min,5 min,6 min,8 min,10 min,12 min,15 min,20 min,30 min",
    ),
    ("load", "bait a cast", "0 g,5 g,8 g,12 g,18 g,25 g,35 g,50 g,70 g,100 g,150 g"),
    ("squeeze", "pressed", "0.5,1,1.5,2,3,5"),
    ("feeder", "feeder", "10 g,20 g,30 g,40 g,60 g,80 g"),
    ("amount", "a handful", "0 g,2 g,4 g,6 g,8 g,10 g,15 g,20 g,30 g,50 g,80 g,120 g"),
    (
        "every",
        "every",
        "30 s,1 min,1 min 30 s,2 min,3 min,4 min,5 min,6 min,8 min,10 min,15 min,20 min",
    ),
    (
        "until",
        "until",
        "30 min,1 h,1 h 30 min,2 h,2 h 30 min,3 h,3 h 30 min,4 h,4 h 30 min,5 h,5 h 30 min,6 h,7 h,8 h",
    ),
    ("count", "fish in reach", "5,10,20,30,40,60,80,120,200"),
    ("temperature", "water", "4 C,6 C,8 C,10 C,12 C,14 C,16 C,18 C,20 C,22 C,24 C"),
    ("wind", "wind", "0 km/h,5 km/h,10 km/h,15 km/h,20 km/h,30 km/h,40 km/h"),
];

/// What a plan chooses, in the order in which one asks for it.
const CHOICES: [&str; 8] =
    ["line", "recast", "load", "bait", "hookbait", "load_style", "squeeze", "feeder"];

/// Every dial of a scenario: those of each plan, phase by phase, then those of the water.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn dials(written: &Written) -> Result<Vec<Dial>, Faults> {
    let mut faults = Faults::default();
    let sheet = value_table(&written.text, &[], &mut faults).filter(|_| faults.is_empty());
    let Some(sheet) = sheet else { return Err(faults.in_file(&format!("{}.toml", written.name))) };
    let desk = Desk { sheet: &sheet };
    let mut all = Vec::new();
    for plan in sheet.names("plan") {
        all.extend(desk.plan(plan));
    }
    for shoal in sheet.names("shoal") {
        let called = format!("{}: fish in reach", shown_name(shoal));
        all.extend(desk.dial(None, &[format!("shoal.{shoal}.count")], &called));
    }
    all.extend(desk.dial(None, &["water.temperature".to_owned()], "water temperature"));
    all.extend(desk.dial(None, &["water.wind".to_owned()], "wind"));
    Ok(all)
}

/// A name as it is read: `island edge` for `island-edge`.
fn shown_name(name: &str) -> String {
    name.replace(['-', '_'], " ")
}

struct Desk<'a> {
    sheet: &'a ValueTable,
}

impl Desk<'_> {
    /// The dials of one plan: of each of its phases, then of its loose feed.
    fn plan(&self, plan: &str) -> Vec<Dial> {
        let own = format!("plan.{plan}");
        let phases = self.sheet.names(&format!("{own}.phase"));
        let mut tables: Vec<(Option<String>, String)> = phases
            .iter()
            .map(|number| (Some(format!("{own}.phase.{number}")), format!("phase {number}: ")))
            .collect();
        if tables.is_empty() {
            tables.push((None, String::new()));
        }
        let mut all = Vec::new();
        for (table, called) in &tables {
            let keys = |word: &str| -> Vec<String> {
                let tables = table.iter().chain([&own]);
                tables.map(|table| format!("{table}.{word}")).collect()
            };
            if table.is_some() && self.sheet.has(&keys("until")[0]) {
                all.extend(self.dial(Some(plan), &keys("until")[..1], &format!("{called}until")));
            }
            for word in CHOICES {
                let name = STOPS.iter().find(|(known, _, _)| *known == word);
                let name = name.map_or_else(|| shown_name(word), |(_, name, _)| (*name).to_owned());
                all.extend(self.dial(Some(plan), &keys(word), &format!("{called}{name}")));
            }
        }
        for line in self.sheet.names("line") {
            all.extend(self.feed(plan, &format!("{own}.feed.{line}"), line));
        }
        all
    }

    /// The dials of what is loose fed on one line; where nothing is, they stand at nothing.
    fn feed(&self, plan: &str, table: &str, line: &str) -> Vec<Dial> {
        let line = shown_name(line);
        let key = |word: &str| [format!("{table}.{word}")];
        let mut amount = self.dial(Some(plan), &key("amount"), &format!("loose feed, {line}"));
        if let (Some(dial), false) = (&mut amount, self.sheet.has_table(table)) {
            let none = dial.stops.iter().position(|stop| stop.shown == "0 g");
            dial.at = none.unwrap_or(dial.at);
        }
        let thrown = amount.as_ref().is_some_and(|dial| dial.stops[dial.at].shown != "0 g");
        let mut all: Vec<Dial> = amount.into_iter().collect();
        if thrown {
            all.extend(self.dial(Some(plan), &key("every"), &format!("feed {line} every")));
            let from_feeder = format!("plan.{plan}.bait");
            let keys = [key("bait")[0].clone(), from_feeder];
            all.extend(self.dial(Some(plan), &keys, &format!("feed on {line}")));
        }
        all
    }

    /// One dial; `keys` are the key that is set and those whose value holds where it is left out.
    fn dial(&self, plan: Option<&str>, keys: &[String], name: &str) -> Option<Dial> {
        let dotted = keys.first()?;
        let key = key_of(dotted)?;
        let holds = keys.iter().find(|key| self.sheet.has(key)).or(keys.last())?;
        let (stops, at) = match key.kind {
            Kind::Choice(words) => self.names(words.iter().copied(), holds),
            Kind::NameOf(thing) => self.names(self.sheet.names(thing.table()).into_iter(), holds),
            Kind::Quantity(dimension) => self.quantities(key, Some(dimension), dotted, holds),
            Kind::Number | Kind::Whole => self.quantities(key, None, dotted, holds),
            Kind::TimeOr(_) | Kind::Text | Kind::Flag => return None,
        };
        let is_default_line = key.kind == Kind::NameOf(Thing::Line);
        (stops.len() > 1 || is_default_line).then(|| Dial {
            plan: plan.map(str::to_owned),
            key: dotted.clone(),
            name: name.to_owned(),
            says: key.says.clone(),
            ordered: matches!(key.kind, Kind::Quantity(_) | Kind::Number | Kind::Whole),
            stops,
            at,
        })
    }

    fn names<'n>(&self, names: impl Iterator<Item = &'n str>, holds: &str) -> (Vec<Stop>, usize) {
        let stops: Vec<Stop> = names
            .map(|name| Stop { written: Some(name.to_owned()), shown: shown_name(name) })
            .collect();
        let text = self.sheet.text(holds);
        let at = stops.iter().position(|stop| stop.written.as_deref() == Some(text.as_str()));
        (stops, at.unwrap_or(0))
    }

    /// The stops within a key's range, the value that holds among them.
    fn quantities(
        &self,
        key: &Key,
        dimension: Option<Dimension>,
        dotted: &str,
        holds: &str,
    ) -> (Vec<Stop>, usize) {
        let si = |text: &str| match dimension {
            Some(dimension) => read_quantity(text, dimension).ok(),
            None => text.parse().ok(),
        };
        let show = |si: f64| match dimension {
            Some(dimension) => dimension.show(si),
            None => tidy(si).to_string(),
        };
        let word = dotted.rsplit('.').next().unwrap_or(dotted);
        let texts = STOPS.iter().find(|(known, _, _)| *known == word).map_or("", |(_, _, s)| s);
        let mut stops: Vec<(f64, Stop)> = texts
            .split(',')
            .filter_map(|text| {
                let stop = Stop { written: Some(text.to_owned()), shown: text.to_owned() };
                Some((si(text)?, stop))
            })
            .filter(|(si, _)| (key.range.0..=key.range.1).contains(si))
            .collect();
        let spread = if key.spreads { self.sheet.spread(holds) } else { Spread::Fixed(0.0) };
        let fixed = match spread {
            Spread::Fixed(si) if key.spreads => si,
            Spread::Fixed(_) => self.sheet.number(holds),
            Spread::Between { low, high } => {
                let shown = format!("{} to {}", show(low), show(high));
                return as_written(stops, shown);
            }
            Spread::About { mean, .. } => {
                return as_written(stops, format!("about {}", show(mean)));
            }
        };
        let same = |si: f64| (si - fixed).abs() <= 1e-9 * fixed.abs().max(1.0);
        if !stops.iter().any(|(si, _)| same(*si)) {
            let shown = show(fixed);
            stops.push((fixed, Stop { written: Some(shown.clone()), shown }));
        }
        stops.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = stops.iter().position(|(si, _)| same(*si)).unwrap_or(0);
        (stops.into_iter().map(|(_, stop)| stop).collect(), at)
    }
}

/// Stops for what differs from day to day: first that it goes on doing so.
fn as_written(stops: Vec<(f64, Stop)>, shown: String) -> (Vec<Stop>, usize) {
    let first = Stop { written: None, shown };
    (std::iter::once(first).chain(stops.into_iter().map(|(_, stop)| stop)).collect(), 0)
}
