//! A scenario's text taken apart into dotted keys, each with its line.

use toml_edit::{Document, Item, TableLike, TomlError, Value};

use super::fault::{Fault, Faults, Place, quoted};
use super::key::{Key, NAME, NUMBER, is_name, stands};
use super::keys::{key_of, keys};
use super::quantity::split;
use super::suggest::{listed, nearest};

/// A value as written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Written {
    /// In quotation marks.
    Text(String),
    /// A bare number.
    Number(f64),
    /// True or false.
    Flag(bool),
    /// A table where a value may stand, as `{ low = …, high = … }`.
    Parts(Vec<Leaf>),
    /// A list.
    List,
    /// A date or a time of day, as TOML knows them.
    Date(String),
}

/// One dotted key with what is written there.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Leaf {
    /// The dotted key; for a part of a value, its own name.
    pub(super) key: String,
    /// What is written.
    pub(super) written: Written,
    /// Where.
    pub(super) place: Place,
}

/// A text taken apart, in its own order.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Leaves {
    /// Values.
    pub(super) values: Vec<Leaf>,
    /// Tables, those above others included, at their first mention.
    pub(super) tables: Vec<(String, Place)>,
}

/// Offsets of a text as lines and columns.
struct Lines<'a>(&'a str);

impl Lines<'_> {
    fn at(&self, offset: usize) -> (usize, usize) {
        let mut end = offset.min(self.0.len());
        while !self.0.is_char_boundary(end) {
            end -= 1;
        }
        let before = &self.0[..end];
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }

    fn text_of(&self, line: usize) -> &str {
        self.0.lines().nth(line - 1).unwrap_or("")
    }
}

/// Takes a text apart; what cannot stand where it stands is added to `faults`.
///
/// None where the text is not TOML, which is a fault too.
pub(super) fn take_apart(text: &str, faults: &mut Faults) -> Option<Leaves> {
    let document = Document::parse(text).map_err(|why| faults.add(not_toml(text, &why))).ok()?;
    let lines = Lines(text);
    let place = |span: Option<std::ops::Range<usize>>| {
        span.map_or(Place::File, |span| Place::Line(lines.at(span.start).0))
    };
    let mut leaves = Leaves::default();
    walk(document.as_table(), "", &place, &mut leaves, faults);
    Some(leaves)
}

/// Turns a parsed value given for one key into leaves.
pub(super) fn take_in(key: &str, item: &Item, place: &Place, faults: &mut Faults) -> Leaves {
    let mut leaves = Leaves::default();
    visit(key, item, &Place::clone(place), &|_| place.clone(), &mut leaves, faults);
    leaves
}

type Placing<'a> = &'a dyn Fn(Option<std::ops::Range<usize>>) -> Place;

fn walk(
    table: &dyn TableLike,
    above: &str,
    place_of: Placing<'_>,
    leaves: &mut Leaves,
    faults: &mut Faults,
) {
    for (name, item) in table.iter() {
        let place = place_of(table.key(name).and_then(toml_edit::Key::span));
        if !is_name(name) {
            faults.add(Fault::new(
                &place,
                above,
                format!("{} cannot be a name", quoted(name)),
                "names have letters, digits, - and _, and 64 of them at most",
            ));
            continue;
        }
        let dotted = if above.is_empty() { name.to_owned() } else { format!("{above}.{name}") };
        visit(&dotted, item, &place, place_of, leaves, faults);
    }
}

fn visit(
    dotted: &str,
    item: &Item,
    place: &Place,
    place_of: Placing<'_>,
    leaves: &mut Leaves,
    faults: &mut Faults,
) {
    if key_of(dotted).is_some() {
        leaves.values.push(Leaf {
            key: dotted.to_owned(),
            written: written(item, place, place_of),
            place: place.clone(),
        });
        return;
    }
    let below = words_below(dotted);
    if below.is_empty() {
        faults.add(unknown(dotted, place));
    } else if let Some(table) = item.as_table_like() {
        leaves.tables.push((dotted.to_owned(), place.clone()));
        walk(table, dotted, place_of, leaves, faults);
    } else if item.is_array_of_tables() || item.is_array() {
        faults.add(Fault::new(
            place,
            dotted,
            "is a list; tables are keyed by name here",
            format!("write [{dotted}.{}] once for each", shown_word(below[0])),
        ));
    } else {
        let below = listed(below.into_iter().map(shown_word));
        faults.add(Fault::new(
            place,
            dotted,
            "is a table and takes no value of its own",
            format!("write [{dotted}] and below it: {below}"),
        ));
    }
}

fn written(item: &Item, place: &Place, place_of: Placing<'_>) -> Written {
    if let Some(table) = item.as_table_like() {
        let parts = table.iter().map(|(name, part)| {
            let span = table.key(name).and_then(toml_edit::Key::span);
            let place = if span.is_some() { place_of(span) } else { place.clone() };
            Leaf { key: name.to_owned(), written: written(part, &place, place_of), place }
        });
        return Written::Parts(parts.collect());
    }
    match item.as_value() {
        Some(Value::String(text)) => Written::Text(text.value().clone()),
        Some(Value::Integer(number)) => Written::Number(*number.value() as f64),
        Some(Value::Float(number)) => Written::Number(*number.value()),
        Some(Value::Boolean(flag)) => Written::Flag(*flag.value()),
        Some(Value::Datetime(date)) => Written::Date(date.value().to_string()),
        _ => Written::List,
    }
}

/// Words that may stand one step below a dotted name, `*` and `#` included.
fn words_below(dotted: &str) -> Vec<&'static str> {
    let mut below: Vec<&'static str> = Vec::new();
    for key in keys() {
        if let Some(word) = word_after(key, dotted)
            && !below.contains(&word)
        {
            below.push(word);
        }
    }
    below
}

fn word_after(key: &'static Key, dotted: &str) -> Option<&'static str> {
    let mut segments = key.segments();
    if !dotted.is_empty() {
        for word in dotted.split('.') {
            if !stands(segments.next()?, word) {
                return None;
            }
        }
    }
    segments.next()
}

fn shown_word(word: &str) -> &str {
    match word {
        NAME => "NAME",
        NUMBER => "1",
        literal => literal,
    }
}

/// The fault of a key that nothing reads.
pub(super) fn unknown(dotted: &str, place: &Place) -> Fault {
    let (above, word) = dotted.rsplit_once('.').unwrap_or(("", dotted));
    let below = words_below(above);
    let whole = |near: &str| {
        if above.is_empty() { near.to_owned() } else { format!("{above}.{near}") }
    };
    if below.contains(&NUMBER) {
        let mend = format!("phases are counted from 1: write [{above}.1]");
        return Fault::new(place, dotted, format!("{} counts no phase", quoted(word)), mend);
    }
    let near =
        nearest(word, below.iter().copied()).map(|near| whole(&near)).or_else(|| elsewhere(word));
    let allowed = listed(below.into_iter().map(shown_word));
    let mend = if above.is_empty() {
        format!("tables and keys of a scenario: {allowed}")
    } else {
        format!("keys of {above}: {allowed}")
    };
    Fault::new(place, dotted, "no such key", mend).near(near)
}

/// Where in the format a word stands that is not known where it was written.
fn elsewhere(word: &str) -> Option<String> {
    keys()
        .iter()
        .find(|key| !key.pattern.starts_with("book.") && key.segments().last() == Some(word))
        .map(Key::shown)
}

/// The fault of a text that is not TOML.
fn not_toml(text: &str, why: &TomlError) -> Fault {
    let lines = Lines(text);
    let (line, column) = lines.at(why.span().map_or(0, |span| span.start));
    let place = Place::Position { line, column };
    let written = lines.text_of(line).trim();
    if why.message().starts_with("duplicate key") {
        let first = text.lines().take(line - 1).position(|earlier| earlier.trim() == written);
        let earlier = first.map_or(String::new(), |at| format!(" (first on line {})", at + 1));
        let header = written.trim_matches(['[', ']']);
        let wrong = match header.split('.').collect::<Vec<_>>()[..] {
            [kind, name] if written.starts_with('[') => {
                format!("a second {kind} of the name {}{earlier}", quoted(name))
            }
            _ => format!("{} stands here a second time{earlier}", quoted(written)),
        };
        return Fault::new(&place, "", wrong, "give it a name of its own, or take one of them out");
    }
    if let Some((key, value)) = written.split_once('=') {
        let value = value.split('#').next().unwrap_or("").trim();
        let quantity = split(value).is_some_and(|parts| parts.iter().all(|p| !p.unit.is_empty()));
        if quantity && !value.contains(['"', '\'', '{', '[', ',']) {
            let key = key.trim();
            let wrong = format!("{} stands without quotation marks", quoted(value));
            return Fault::new(&place, key, wrong, format!("write {key} = {}", quoted(value)));
        }
    }
    let reason = why.message().lines().collect::<Vec<_>>().join(", ");
    Fault::new(
        &place,
        "",
        format!("not TOML from here on: {}", quoted(written)),
        format!("the parser says: {reason}"),
    )
}
