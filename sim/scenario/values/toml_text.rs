//! A scenario's text taken apart into dotted keys, each with its line.

use crate::scenario::diagnose::{Fault, Faults, Place, listed, nearest, quoted};
use crate::scenario::schema::{
    Key, NAME, NUMBER, fits_segment, is_name, key_of, keys, split_quantity,
};
use toml_edit::{Document, Item, TableLike, TomlError, Value};

/// A value as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum RawValue {
    /// In quotation marks.
    Text(String),
    /// A bare number.
    Number(f64),
    /// True or false.
    Flag(bool),
    /// A table where a value may stand, as `{ low = …, high = … }`.
    Parts(Vec<Entry>),
    /// A list.
    List,
    /// A date or a time of day, as TOML knows them.
    Date(String),
}

/// One dotted key with what is written there.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    /// The dotted key; for a part of a value, its own name.
    pub(crate) key: String,
    /// What is written.
    pub(crate) written: RawValue,
    /// Where.
    pub(crate) place: Place,
}

/// A text taken apart, in its own order.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Entries {
    /// Values.
    pub(crate) values: Vec<Entry>,
    /// Tables, those above others included, at their first mention.
    pub(crate) tables: Vec<(String, Place)>,
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
pub(crate) fn split_text(text: &str, faults: &mut Faults) -> Option<Entries> {
    let document = Document::parse(text).map_err(|why| faults.add(not_toml(text, &why))).ok()?;
    let lines = Lines(text);
    let place = |span: Option<std::ops::Range<usize>>| {
        span.map_or(Place::File, |span| Place::Line(lines.at(span.start).0))
    };
    let mut leaves = Entries::default();
    walk(document.as_table(), "", &place, &mut leaves, faults);
    Some(leaves)
}

/// Turns a parsed value given for one key into leaves.
pub(crate) fn split_item(key: &str, item: &Item, place: &Place, faults: &mut Faults) -> Entries {
    let mut leaves = Entries::default();
    visit(key, item, &Place::clone(place), &|_| place.clone(), &mut leaves, faults);
    leaves
}

type Placing<'a> = &'a dyn Fn(Option<std::ops::Range<usize>>) -> Place;

fn walk(
    table: &dyn TableLike,
    above: &str,
    place_of: Placing<'_>,
    leaves: &mut Entries,
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
    leaves: &mut Entries,
    faults: &mut Faults,
) {
    if key_of(dotted).is_some() {
        leaves.values.push(Entry {
            key: dotted.to_owned(),
            written: raw_value(item, place, place_of),
            place: place.clone(),
        });
        return;
    }
    let below = words_below(dotted);
    if below.is_empty() {
        faults.add(unknown_key(dotted, place));
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

fn raw_value(item: &Item, place: &Place, place_of: Placing<'_>) -> RawValue {
    if let Some(table) = item.as_table_like() {
        let parts = table.iter().map(|(name, part)| {
            let span = table.key(name).and_then(toml_edit::Key::span);
            let place = if span.is_some() { place_of(span) } else { place.clone() };
            Entry { key: name.to_owned(), written: raw_value(part, &place, place_of), place }
        });
        return RawValue::Parts(parts.collect());
    }
    match item.as_value() {
        Some(Value::String(text)) => RawValue::Text(text.value().clone()),
        Some(Value::Integer(number)) => RawValue::Number(*number.value() as f64),
        Some(Value::Float(number)) => RawValue::Number(*number.value()),
        Some(Value::Boolean(flag)) => RawValue::Flag(*flag.value()),
        Some(Value::Datetime(date)) => RawValue::Date(date.value().to_string()),
        _ => RawValue::List,
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
            if !fits_segment(segments.next()?, word) {
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
pub(crate) fn unknown_key(dotted: &str, place: &Place) -> Fault {
    let (above, word) = dotted.rsplit_once('.').unwrap_or(("", dotted));
    let below = words_below(above);
    let whole = |near: &str| {
        if above.is_empty() { near.to_owned() } else { format!("{above}.{near}") }
    };
    if below.contains(&NUMBER) {
        let mend = format!("phases are counted from 1: write [{above}.1]");
        return Fault::new(place, dotted, format!("{} counts no phase", quoted(word)), mend);
    }
    if below.is_empty() {
        return Fault::new(place, dotted, "no such key", format!("{above} takes one value"));
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
        let quantity =
            split_quantity(value).is_some_and(|parts| parts.iter().all(|p| !p.unit.is_empty()));
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
