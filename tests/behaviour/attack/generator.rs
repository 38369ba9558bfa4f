//! Makes whole scenarios out of the table of keys, and spoils them.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use sim::scenario::{FormatKey, FormatValues, Scenario, format_keys, read};

use super::inputs::Tape;

/// Names of entries.
const NAMES: [&str; 6] = ["bar", "b-2", "3", "Größe_7", "open", "x"];

/// Ranges that are narrower than those of the keys, so that most scenarios are sound and fish quickly [SI].
const NARROW: [(&str, f64, f64); 9] = [
    ("session.length", 60.0, 1200.0),
    ("shoal.*.count", 0.0, 150.0),
    ("shoal.*.stock", 0.0, 0.05),
    ("line.*.distance", 2.0, 25.0),
    ("line.*.bearing", -40.0, 40.0),
    ("water.width", 60.0, 1000.0),
    ("water.length", 30.0, 1000.0),
    ("water.sounding.*.distance", 0.0, 30.0),
    ("water.feature.*.out", 0.0, 30.0),
];

/// Past weigh-ins for a scenario that names some.
pub(super) const WEIGH_INS: &str = "weight\n12 kg\n9 lb 4 oz\n8 kg\n7 kg\n6 kg\n0 kg\n";

/// Baits and hookbaits that come with the program, below the table whose entries they are.
static BUILT_IN: LazyLock<BTreeMap<&str, Vec<String>>> = LazyLock::new(|| {
    let small = read("line.a.distance = \"9 m\"\nplan.b.recast = \"2 min\"\n", "pond", &[]);
    let Scenario { recipes, hookbaits, .. } = small.expect("sound");
    let baits = recipes.into_iter().map(|bait| bait.name).collect();
    let hookbaits = hookbaits.into_iter().map(|hookbait| hookbait.name).collect();
    BTreeMap::from([("bait", baits), ("hookbait", hookbaits)])
});

/// A key as it is written, the pattern that it follows, and its value.
#[derive(Clone, Debug)]
pub(super) struct WrittenKey {
    pub(super) dotted: String,
    pub(super) pattern: &'static str,
    pub(super) value: String,
}

/// The text of a scenario as keys with values.
#[derive(Clone, Debug)]
pub(super) struct WrittenKeys(pub(super) Vec<WrittenKey>);

impl WrittenKeys {
    /// Each key on a line of its own, with its full name.
    pub(super) fn dotted(&self) -> String {
        self.0.iter().map(|key| format!("{} = {}\n", in_toml(&key.dotted), key.value)).collect()
    }

    /// Each key below the header of its table, tables in the order of their first mention, each before those below it.
    pub(super) fn with_headers(&self) -> String {
        let above = |key: &WrittenKey| -> String {
            key.dotted.rsplit_once('.').map_or_else(String::new, |(above, _)| above.to_owned())
        };
        let mut tables: Vec<String> = vec![String::new()];
        for table in self.0.iter().map(above) {
            let ends = table.match_indices('.').map(|(at, _)| at).chain([table.len()]);
            let all: Vec<&str> = ends.map(|end| &table[..end]).collect();
            for part in all {
                let has_keys = self.0.iter().any(|key| above(key) == part);
                if has_keys && !tables.iter().any(|known| known == part) {
                    tables.push(part.to_owned());
                }
            }
        }
        let mut text = String::new();
        for table in tables {
            if !table.is_empty() {
                text.push_str(&format!("\n[{}]\n", in_toml(&table)));
            }
            for key in self.0.iter().filter(|key| above(key) == table) {
                let word = key.dotted.rsplit('.').next().unwrap_or_default();
                text.push_str(&format!("{word} = {}\n", key.value));
            }
        }
        text
    }

    /// Removes what a fault names: the key itself, or all keys of the nearest table above it that has some. Returns whether
    /// there was any.
    pub(super) fn remove(&mut self, named: &str) -> bool {
        let before = self.0.len();
        let mut named = named;
        while !named.is_empty() && self.0.len() == before {
            let below = format!("{named}.");
            self.0.retain(|key| key.dotted != named && !key.dotted.starts_with(&below));
            named = named.rsplit_once('.').map_or("", |(above, _)| above);
        }
        self.0.len() < before
    }

    /// Adds a line or a plan if there is none.
    pub(super) fn complete(&mut self) {
        for (table, pattern, value) in
            [("line.bar", "line.*.distance", "\"3 m\""), ("plan.bar", "plan.*.recast", "\"2 min\"")]
        {
            let (above, word) = (&table[..5], pattern.rsplit('.').next().unwrap_or_default());
            if !self.0.iter().any(|key| key.dotted.starts_with(above)) {
                let (dotted, value) = (format!("{table}.{word}"), value.to_owned());
                self.0.push(WrittenKey { dotted, pattern, value });
            }
        }
    }
}

/// A dotted key as TOML has it: names with other letters than those of English stand in quotation marks.
fn in_toml(dotted: &str) -> String {
    let quoted = |word: &str| match word.is_ascii() {
        true => word.to_owned(),
        false => format!("\"{word}\""),
    };
    dotted.split('.').map(quoted).collect::<Vec<_>>().join(".")
}

/// Makes one scenario.
struct Generator<'a> {
    tape: &'a mut Tape,
    /// The entries of each table that has some.
    entries: BTreeMap<String, Vec<String>>,
    /// One key in this many is written.
    sparsity: usize,
    /// Whether all values of a key's range are used.
    is_wide: bool,
    session_s: f64,
}

/// A scenario made from the table of keys; its keys may contradict each other.
pub(super) fn generated(tape: &mut Tape) -> WrittenKeys {
    let sparsity = *tape.pick(&[24, 12, 6, 3, 2]);
    let is_wide = tape.is_hit(8);
    let entries = BTreeMap::new();
    let mut generator = Generator { tape, entries, sparsity, is_wide, session_s: 600.0 };
    let mut keys = Vec::new();
    for key in format_keys() {
        for dotted in generator.places(key.pattern()) {
            let sparsity = match key.pattern().split('.').next() {
                Some("book") => 10 * generator.sparsity,
                _ => generator.sparsity,
            };
            let is_always = key.is_required() || key.pattern() == "session.length";
            if (is_always || generator.tape.is_hit(sparsity))
                && let Some(value) = generator.value(key, &dotted)
            {
                keys.push(WrittenKey { dotted, pattern: key.pattern(), value });
            }
        }
    }
    let mut keys = WrittenKeys(keys);
    keys.complete();
    keys
}

impl Generator<'_> {
    /// Every name that a key has in this scenario.
    fn places(&mut self, pattern: &str) -> Vec<String> {
        let mut places = vec![String::new()];
        for segment in pattern.split('.') {
            let mut longer = Vec::new();
            for above in places {
                let words = match segment {
                    "*" | "#" => self.entries(&above, segment),
                    word => vec![word.to_owned()],
                };
                let dot = if above.is_empty() { "" } else { "." };
                longer.extend(words.iter().map(|word| format!("{above}{dot}{word}")));
            }
            places = longer;
        }
        places
    }

    /// The entries of a table.
    fn entries(&mut self, table: &str, segment: &str) -> Vec<String> {
        if let Some(known) = self.entries.get(table) {
            return known.clone();
        }
        let lines = if table.ends_with(".feed") { self.entries("line", "*") } else { Vec::new() };
        let least = usize::from(table == "line" || table == "plan" || table.ends_with(".class"));
        let count = least + if self.tape.is_hit(2) { self.tape.below(3) } else { 0 };
        let mut names: Vec<String> = Vec::new();
        for number in 1..=count {
            let name = match (segment, BUILT_IN.get(table)) {
                ("#", _) => number.to_string(),
                (_, Some(built_in)) if self.tape.is_hit(3) => self.tape.pick(built_in).clone(),
                _ if !lines.is_empty() => self.tape.pick(&lines).clone(),
                _ => (*self.tape.pick(&NAMES)).to_owned(),
            };
            if !names.contains(&name) {
                names.push(name);
            }
        }
        self.entries.insert(table.to_owned(), names.clone());
        names
    }

    /// A value of a key, as it is written. `None` if the scenario has nothing that it could name.
    fn value(&mut self, key: FormatKey, dotted: &str) -> Option<String> {
        match key.values() {
            FormatValues::Words(words) => Some(format!("\"{}\"", self.tape.pick(words))),
            FormatValues::Flag => Some(self.tape.is_hit(2).to_string()),
            FormatValues::Text => Some(format!("\"{}\"", self.text(key.pattern()))),
            FormatValues::NamesOf(tables) => {
                let mut known: Vec<String> = Vec::new();
                for table in tables {
                    known.extend(self.entries(table, "*"));
                    known.extend(BUILT_IN.get(table).into_iter().flatten().cloned());
                }
                (!known.is_empty()).then(|| format!("\"{}\"", self.tape.pick(&known)))
            }
            FormatValues::Numbers { word: Some(word), .. } if self.tape.is_hit(4) => {
                Some(format!("\"{word}\""))
            }
            FormatValues::Numbers { low, high, unit, .. } => {
                Some(self.number(key, dotted, (low, high), unit))
            }
        }
    }

    fn text(&mut self, pattern: &str) -> String {
        let clock = format!("{}:{:02}", self.tape.below(24), self.tape.below(60));
        match pattern.rsplit('.').next() {
            Some("date") => {
                format!("2026-{:02}-{:02}", 1 + self.tape.below(12), 1 + self.tape.below(28))
            }
            Some("start" | "at" | "clock_from") => clock,
            Some("weigh_ins") => "rivals.csv".to_owned(),
            _ => (*self.tape.pick(&["A pond", "", "Größe = 1 # no", "]["])).to_owned(),
        }
    }

    fn number(
        &mut self,
        key: FormatKey,
        dotted: &str,
        (low, high): (f64, f64),
        unit: &str,
    ) -> String {
        let pattern = key.pattern();
        if pattern == "bait.*.class.*.share" {
            let classes = dotted.rsplit_once('.').and_then(|(class, _)| class.rsplit_once('.'));
            let count = self.entries(classes.map_or("", |(table, _)| table), "*").len();
            let shares = ["1.0", "0.5", "0.333333333333"];
            return shares.get(count - 1).copied().unwrap_or("0.25").to_owned();
        }
        let (mut low, mut high) = (low, high);
        let narrow = NARROW.iter().find(|(narrow, ..)| *narrow == pattern);
        if let Some((_, narrow_low, narrow_high)) = narrow
            && (!self.is_wide || pattern == "session.length")
        {
            (low, high) = (*narrow_low, *narrow_high);
        } else if unit == "s" && low >= 0.0 && !self.is_wide {
            high = high.min(self.session_s.max(low));
        }
        let mut si = self.within(low, high);
        if pattern == "session.length" {
            self.session_s = si;
        }
        if !key.varies() || !self.tape.is_hit(3) {
            return key.written(si);
        }
        if self.tape.is_hit(2) {
            let cv = (self.tape.share() * 100.0).round() / 100.0;
            return format!(
                "{{ mean = {}, cv = {cv:?} }}",
                key.written(0.2_f64.mul_add(si, 0.8 * low))
            );
        }
        let mut other = self.within(low, high);
        if si > other {
            std::mem::swap(&mut si, &mut other);
        }
        format!("{{ low = {}, high = {} }}", key.written(si), key.written(other))
    }

    /// A number of a range, now and then one of its ends.
    fn within(&mut self, low: f64, high: f64) -> f64 {
        match self.tape.below(8) {
            6 => low,
            7 => high,
            _ if low > 0.0 => low * (high / low).powf(self.tape.share()),
            _ => low + (high - low) * self.tape.share().powi(2),
        }
    }
}

/// Pieces that stand where others are expected.
const PIECES: [&str; 36] = [
    "\"2 min\"",
    "\"5 h\"",
    "\"-1 kg\"",
    "\"1e999 m\"",
    "\"0 g\"",
    "nan",
    "-inf",
    "1e308",
    "-1",
    "0",
    "2.5",
    "true",
    "[]",
    "[1, 2]",
    "{}",
    "{ low = 1 }",
    "{ mean = 1, cv = 9 }",
    "{ low = 3, high = 1 }",
    "\"\"",
    "''",
    "\"x",
    "1979-05-27",
    "05:00:00",
    "\"\\u202e\"",
    "\"\\u0000\"",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{0}",
    "\u{feff}",
    "=",
    "#",
    "[[plan]]",
    "\"\"\"",
    "\r\n",
    "2 min",
    "99999999999999999999",
];

/// A text with some changes, each such as a slip of the hand makes, or a file that is damaged.
pub(super) fn spoiled(text: &str, tape: &mut Tape) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=tape.below(3) {
        if lines.is_empty() {
            break;
        }
        let (at, other) = (tape.below(lines.len()), tape.below(lines.len()));
        let piece = *tape.pick(&PIECES);
        let (key, value) = match lines[at].split_once(" = ") {
            Some((key, value)) => (key.to_owned(), value.to_owned()),
            None => (lines[at].clone(), String::new()),
        };
        let cut = tape.below(lines[at].len() + 1);
        let cut = (0..=cut).rev().find(|cut| lines[at].is_char_boundary(*cut)).unwrap_or(0);
        match tape.below(13) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(at, lines[other].clone()),
            2 => lines.swap(at, other),
            3 => lines[at].truncate(cut),
            4 => lines[at].insert_str(cut, piece),
            5 => lines[at] = format!("{key} = {piece}"),
            6 => {
                let taken = lines[other].split_once(" = ").map_or("1", |(_, value)| value);
                lines[at] = format!("{key} = {taken}");
            }
            7 => lines[at] = format!("{key} = [{value}]"),
            8 => lines[at] = format!("{key}.{piece} = {value}"),
            9 => lines[at] = format!("[{key}]"),
            10 => lines[at] = format!("{piece} = {value}"),
            11 => {
                let letters: Vec<char> = lines[at].chars().collect();
                let without = tape.below(letters.len().max(1));
                let kept = letters.iter().enumerate().filter(|(index, _)| *index != without);
                lines[at] = kept.map(|(_, letter)| letter).collect();
            }
            _ => lines.truncate(at),
        }
    }
    lines.join(if tape.is_hit(9) { "\r\n" } else { "\n" })
}
