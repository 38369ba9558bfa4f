//! One key of the format: what may be written there and what it means.

use super::units::{Dimension, tidy};

/// Longest session [s].
pub(crate) const MAX_SESSION_S: f64 = 86_400.0;
/// Greatest coefficient of variation of a spread.
pub(crate) const MAX_CV: f64 = 3.0;
/// What may stand as the name of a line, plan, shoal or bait, in a pattern.
pub(crate) const NAME: &str = "*";
/// What stands for the number of a phase, in a pattern.
pub(crate) const NUMBER: &str = "#";

/// Things that a value may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    /// A line of the scenario.
    Line,
    /// A bait, built in or the scenario's own.
    Bait,
    /// A hookbait, built in or the scenario's own.
    Hookbait,
}

impl Thing {
    /// The table in which such things stand.
    pub(crate) fn table(self) -> &'static str {
        match self {
            Self::Line => "line",
            Self::Bait => "bait",
            Self::Hookbait => "hookbait",
        }
    }
}

/// What is written as a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind {
    /// A string with a unit.
    Quantity(Dimension),
    /// A time, or a word for one without end.
    TimeOr(&'static str),
    /// A bare number.
    Number,
    /// A bare whole number.
    Whole,
    /// Any one line of text.
    Text,
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// The name of something.
    NameOf(Thing),
    /// True or false.
    Flag,
}

/// What holds where a key is left out.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum LeftOut {
    /// It may not be left out of its table.
    Required,
    /// A value, written as in a file.
    Is(&'static str),
    /// A rule in words; the code that assembles the scenario follows it.
    Rule(&'static str),
}

/// One key of the format.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Key {
    /// Its dotted name, with `*` for a name and `#` for the number of a phase.
    pub(crate) pattern: String,
    /// What is written there.
    pub(crate) kind: Kind,
    /// Whether it may differ from day to day.
    pub(crate) spreads: bool,
    /// Lowest and highest value, in SI units.
    pub(crate) range: (f64, f64),
    /// What holds where it is left out.
    pub(crate) default: LeftOut,
    /// One sentence.
    pub(crate) says: String,
}

impl Key {
    /// A key with a range that holds for everything.
    pub(crate) fn new(pattern: &str, kind: Kind, default: LeftOut, says: &str) -> Self {
        Self {
            pattern: pattern.to_owned(),
            kind,
            spreads: false,
            range: (f64::NEG_INFINITY, f64::INFINITY),
            default,
            says: says.to_owned(),
        }
    }

    /// The same key, its values within `low` and `high` [SI].
    pub(crate) fn within(mut self, low: f64, high: f64) -> Self {
        self.range = (low, high);
        self
    }

    /// The same key, free to differ from day to day.
    pub(crate) fn spreads(mut self) -> Self {
        self.spreads = true;
        self
    }

    /// Parts of the pattern.
    pub(crate) fn segments(&self) -> impl Iterator<Item = &str> {
        self.pattern.split('.')
    }

    /// Whether a dotted key is of this pattern.
    pub(crate) fn fits(&self, dotted: &str) -> bool {
        let mut written = dotted.split('.');
        self.segments()
            .all(|segment| written.next().is_some_and(|word| fits_segment(segment, word)))
            && written.next().is_none()
    }

    /// The pattern as people read it: `plan.NAME.phase.1.recast`.
    pub(crate) fn shown(&self) -> String {
        self.pattern
            .replace("feed.*", "feed.LINE")
            .replace("rule.*", "rule.RULE")
            .replace(NAME, "NAME")
            .replace(NUMBER, "1")
    }

    /// The range as people read it; empty where there is none.
    pub(crate) fn shown_range(&self) -> String {
        let (low, high) = self.range;
        if !low.is_finite() || !high.is_finite() {
            return String::new();
        }
        match self.kind {
            Kind::Quantity(dimension) => {
                format!("{} to {}", dimension.show(low), dimension.show(high))
            }
            Kind::TimeOr(_) => {
                format!("{} to {}", Dimension::Time.show(low), Dimension::Time.show(high))
            }
            _ => format!("{} to {}", tidy(low), tidy(high)),
        }
    }

    /// How a value is written, as a message or a table says it.
    pub(crate) fn such_as(&self) -> String {
        match self.kind {
            Kind::Quantity(dimension) => dimension.such_as().to_owned(),
            Kind::TimeOr(word) => format!("{} or {word:?}", Dimension::Time.such_as()),
            Kind::Number => "a bare number".to_owned(),
            Kind::Whole => "a bare whole number".to_owned(),
            Kind::Text => "one line of text in quotation marks".to_owned(),
            Kind::Choice(words) => {
                let words: Vec<_> = words.iter().map(|word| format!("{word:?}")).collect();
                words.join(" or ")
            }
            Kind::NameOf(thing) => format!("the name of a {} in quotation marks", thing.table()),
            Kind::Flag => "true or false".to_owned(),
        }
    }
}

/// Whether a written word may stand for one segment of a pattern.
pub(crate) fn fits_segment(segment: &str, word: &str) -> bool {
    match segment {
        NAME => is_name(word),
        NUMBER => is_count(word),
        literal => literal == word,
    }
}

/// Whether a word can name something: letters, digits, `-` and `_`, 64 at most.
pub(crate) fn is_name(word: &str) -> bool {
    (1..=64).contains(&word.chars().count())
        && word.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
}

/// Whether a word counts a phase: 1 to 999, without leading noughts.
fn is_count(word: &str) -> bool {
    (1..=3).contains(&word.len())
        && word.bytes().all(|b| b.is_ascii_digit())
        && !word.starts_with('0')
}
