//! A scenario's text split into dotted keys, each with its line.

use std::ops::Range;

use toml_edit::{Document, Item, TableLike, TomlError, Value as TomlValue};

use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, listed, nearest_name, quoted,
};
use crate::scenario::schema::{
    KeySpec, NAME, NUMBER, fits_segment, is_name, key_of, keys, split_quantity,
};

/// A value as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum RawValue {
    /// In quotation marks.
    Text(String),
    /// A bare number.
    Number(f64),
    /// True or false.
    Flag(bool),
    /// A table instead of a single value: `{ low = …, high = … }`.
    Parts(Vec<Entry>),
    /// A list.
    List,
    /// A date or a time of day of TOML.
    Date(String),
}

/// One dotted key with what is written there.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    /// The dotted key; for a part of a value, such as `low` in `{ low = 1 }`, only the name of the part.
    pub(crate) key: String,
    /// What is written.
    pub(crate) raw: RawValue,
    /// Place in the file where the entry is written.
    pub(crate) place: SourceLocation,
}

/// The keys and tables of a text, in its own order.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Entries {
    /// Keys with values.
    pub(crate) values: Vec<Entry>,
    /// Tables at their first mention, those that contain others included.
    pub(crate) tables: Vec<(String, SourceLocation)>,
}

/// A text whose offsets are converted to lines and columns.
struct LineIndex<'a> {
    text: &'a str,
    /// Offset of the first byte of each line.
    starts: Vec<usize>,
}

impl<'a> LineIndex<'a> {
    fn new(text: &'a str) -> Self {
        let breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        Self { text, starts: std::iter::once(0).chain(breaks).collect() }
    }

    /// Line of an offset, counted from 1.
    fn line(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset.min(self.text.len()))
    }

    /// Line and column of an offset, both counted from 1.
    fn position(&self, offset: usize) -> (usize, usize) {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let line = self.line(end);
        (line, self.text[self.starts[line - 1]..end].chars().count() + 1)
    }

    fn text_of(&self, line: usize) -> &str {
        self.text.lines().nth(line - 1).unwrap_or("")
    }
}

/// The place of a span of a text; the file as a whole if there is no span.
pub(crate) fn place_in(text: &str, span: Option<Range<usize>>) -> SourceLocation {
    span.map_or(SourceLocation::File, |span| {
        SourceLocation::Line(LineIndex::new(text).line(span.start))
    })
}

/// Splits a text into entries; what is misplaced is added to `faults`.
///
/// `None` if the text is not TOML, which is a fault too.
pub(crate) fn split_text(text: &str, faults: &mut Diagnostics) -> Option<Entries> {
    let document =
        Document::parse(text).map_err(|error| faults.add(not_toml(text, &error))).ok()?;
    let lines = LineIndex::new(text);
    let place_of = |span: Option<Range<usize>>| {
        span.map_or(SourceLocation::File, |span| SourceLocation::Line(lines.line(span.start)))
    };
    let mut walker = Walker { place_of: &place_of, entries: Entries::default(), faults };
    walker.walk(document.as_table(), "");
    Some(walker.entries)
}

/// Splits a parsed value that was given for one key into entries.
pub(super) fn split_item(
    key: &str,
    item: &Item,
    place: &SourceLocation,
    faults: &mut Diagnostics,
) -> Entries {
    let place_of = |_| place.clone();
    let mut walker = Walker { place_of: &place_of, entries: Entries::default(), faults };
    walker.visit(key, item, place);
    walker.entries
}

/// The place of a span of the text.
type PlaceOf<'a> = &'a dyn Fn(Option<Range<usize>>) -> SourceLocation;

/// Walks through a document and collects its entries.
struct Walker<'a> {
    place_of: PlaceOf<'a>,
    entries: Entries,
    faults: &'a mut Diagnostics,
}

impl Walker<'_> {
    fn walk(&mut self, table: &dyn TableLike, above: &str) {
        for (name, item) in table.iter() {
            if self.faults.is_full() {
                self.faults.count_one();
                continue;
            }
            let place = (self.place_of)(table.key(name).and_then(toml_edit::Key::span));
            if !is_name(name) {
                self.faults.add(Diagnostic::new(
                    &place,
                    above,
                    format!("{} cannot be a name", quoted(name)),
                    "names have letters, digits, - and _, at most 64 of them",
                ));
                continue;
            }
            let dotted = if above.is_empty() { name.to_owned() } else { format!("{above}.{name}") };
            self.visit(&dotted, item, &place);
        }
    }

    fn visit(&mut self, dotted: &str, item: &Item, place: &SourceLocation) {
        if key_of(dotted).is_some() {
            self.entries.values.push(Entry {
                key: dotted.to_owned(),
                raw: raw_value(item, place, self.place_of),
                place: place.clone(),
            });
            return;
        }
        let below = words_below(dotted);
        if below.is_empty() {
            self.faults.add(unknown_key(dotted, place));
        } else if let Some(table) = item.as_table_like() {
            self.entries.tables.push((dotted.to_owned(), place.clone()));
            self.walk(table, dotted);
        } else if item.is_array_of_tables() || item.is_array() {
            self.faults.add(Diagnostic::new(
                place,
                dotted,
                "is a list; here each table has a name",
                format!("write one table [{dotted}.{}] for each", shown_word(below[0])),
            ));
        } else {
            let below = listed(below.into_iter().map(shown_word));
            self.faults.add(Diagnostic::new(
                place,
                dotted,
                "is a table and takes no value of its own",
                format!("write [{dotted}] and below it: {below}"),
            ));
        }
    }
}

/// What is written, not yet checked against a key.
pub(super) fn raw_value(item: &Item, place: &SourceLocation, place_of: PlaceOf<'_>) -> RawValue {
    if let Some(table) = item.as_table_like() {
        let parts = table.iter().map(|(name, part)| {
            let span = table.key(name).and_then(toml_edit::Key::span);
            let place = if span.is_some() { place_of(span) } else { place.clone() };
            Entry { key: name.to_owned(), raw: raw_value(part, &place, place_of), place }
        });
        return RawValue::Parts(parts.collect());
    }
    match item.as_value() {
        Some(TomlValue::String(text)) => RawValue::Text(text.value().clone()),
        Some(TomlValue::Integer(number)) => RawValue::Number(*number.value() as f64),
        Some(TomlValue::Float(number)) => RawValue::Number(*number.value()),
        Some(TomlValue::Boolean(flag)) => RawValue::Flag(*flag.value()),
        Some(TomlValue::Datetime(date)) => RawValue::Date(date.value().to_string()),
        _ => RawValue::List,
    }
}

/// The words that may follow a dotted name, `*` and `#` included.
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

fn word_after(key: &KeySpec, dotted: &str) -> Option<&'static str> {
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

/// The fault of an unknown key.
pub(crate) fn unknown_key(dotted: &str, place: &SourceLocation) -> Diagnostic {
    let (above, word) = dotted.rsplit_once('.').unwrap_or(("", dotted));
    let below = words_below(above);
    let full = |near: &str| {
        if above.is_empty() { near.to_owned() } else { format!("{above}.{near}") }
    };
    if below.contains(&NUMBER) {
        let fix = format!("phases are counted from 1: write [{above}.1]");
        let problem = format!("{} is not the number of a phase", quoted(word));
        return Diagnostic::new(place, dotted, problem, fix);
    }
    if below.is_empty() {
        return Diagnostic::new(place, dotted, "no such key", format!("{above} takes one value"));
    }
    let near = nearest_name(word, below.iter().copied())
        .map(|near| full(&near))
        .or_else(|| elsewhere(word));
    let allowed = listed(below.into_iter().map(shown_word));
    let fix = if above.is_empty() {
        format!("tables and keys of a scenario: {allowed}")
    } else {
        format!("keys of {above}: {allowed}")
    };
    Diagnostic::new(place, dotted, "no such key", fix).near(near)
}

/// The first key anywhere in the format that ends in a word.
fn elsewhere(word: &str) -> Option<String> {
    keys()
        .find(|key| !key.pattern.starts_with("book.") && key.segments().last() == Some(word))
        .map(KeySpec::shown)
}

/// The fault of a text that is not TOML.
pub(crate) fn not_toml(text: &str, error: &TomlError) -> Diagnostic {
    let lines = LineIndex::new(text);
    let (line, column) = lines.position(error.span().map_or(0, |span| span.start));
    let place = SourceLocation::Position { line, column };
    let written = lines.text_of(line).trim();
    if error.message().starts_with("duplicate key") {
        return duplicate(text, line, written, &place);
    }
    if let Some(fault) = missing_quotation_marks(written, &place) {
        return fault;
    }
    if written.contains(['“', '”', '„', '‘', '’', '«', '»']) {
        let straight = written.replace(['“', '”', '„', '«', '»'], "\"").replace(['‘', '’'], "'");
        let problem = "has the quotation marks of a text program";
        return Diagnostic::new(&place, "", problem, format!("write straight ones: {straight}"));
    }
    let reason = error.message().lines().collect::<Vec<_>>().join(", ");
    let problem = format!("not TOML from here on: {}", quoted(written));
    Diagnostic::new(&place, "", problem, format!("the parser reports: {reason}"))
}

/// The fault of a table or a key that was written before.
fn duplicate(text: &str, line: usize, written: &str, place: &SourceLocation) -> Diagnostic {
    let first = text.lines().take(line - 1).position(|earlier| earlier.trim() == written);
    let earlier = first.map_or(String::new(), |index| format!(" (first on line {})", index + 1));
    let header = written.trim_matches(['[', ']']);
    let problem = match header.split('.').collect::<Vec<_>>()[..] {
        [kind, name] if written.starts_with('[') => {
            format!("a second {kind} with the name {}{earlier}", quoted(name))
        }
        _ => format!("{} is here a second time{earlier}", quoted(written)),
    };
    Diagnostic::new(place, "", problem, "give it a name of its own, or remove one of them")
}

/// The fault of a line `recast = 2 min`. `None` if the line is not of that kind.
fn missing_quotation_marks(written: &str, place: &SourceLocation) -> Option<Diagnostic> {
    let (key, value) = written.split_once('=')?;
    let (key, value) = (key.trim(), value.split('#').next().unwrap_or("").trim());
    let is_quantity = split_quantity(value)?.iter().all(|term| !term.unit.is_empty());
    (is_quantity && !value.contains(['"', '\'', '{', '[', ','])).then(|| {
        let problem = format!("{} has no quotation marks", quoted(value));
        Diagnostic::new(place, key, problem, format!("write {key} = {}", quoted(value)))
    })
}
