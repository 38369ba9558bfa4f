//! What the format says of one key: how its value is written, its range, its default and its description.

use crate::scenario::schema::units::{Dimension, tidy};

/// Longest session [s].
pub(crate) const MAX_SESSION_S: f64 = 86_400.0;
/// Largest coefficient of variation of a spread.
pub(crate) const MAX_CV: f64 = 3.0;

/// Placeholder in a pattern for the name of a line, plan, shoal or bait.
pub(crate) const NAME: &str = "*";
/// Placeholder in a pattern for the number of a phase.
pub(crate) const NUMBER: &str = "#";

/// What a value may refer to by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Referent {
    /// A line of the scenario.
    Line,
    /// A bait, built in or the scenario's own.
    Bait,
    /// A hookbait, built in or the scenario's own.
    Hookbait,
    /// A line or a feature of the scenario; if both have the name, the line.
    LineOrFeature,
}

impl Referent {
    /// The tables that define it.
    pub(crate) fn tables(self) -> &'static [&'static str] {
        match self {
            Self::Line => &["line"],
            Self::Bait => &["bait"],
            Self::Hookbait => &["hookbait"],
            Self::LineOrFeature => &["line", "water.feature"],
        }
    }

    /// Its name without an article.
    pub(crate) fn noun(self) -> &'static str {
        match self {
            Self::LineOrFeature => "line or feature",
            Self::Line | Self::Bait | Self::Hookbait => self.tables()[0],
        }
    }
}

/// How a value is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind {
    /// A string with a unit.
    Quantity(Dimension),
    /// A time, or the word that means no end, such as `"all session"`.
    TimeOr(&'static str),
    /// A bare number.
    Number,
    /// A bare whole number.
    Whole,
    /// Any text on one line.
    Text,
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// The name of something in the scenario.
    NameOf(Referent),
    /// True or false.
    Flag,
}

impl Kind {
    /// What its quantities measure. `None` if it is no quantity.
    pub(crate) fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Quantity(dimension) => Some(dimension),
            Self::TimeOr(_) => Some(Dimension::Time),
            _ => None,
        }
    }

    /// Whether its values are numbers, with or without a unit.
    pub(crate) fn is_numeric(self) -> bool {
        self.dimension().is_some() || matches!(self, Self::Number | Self::Whole)
    }

    /// A number in SI units as people write it.
    pub(crate) fn show(self, si: f64) -> String {
        self.dimension().map_or_else(|| tidy(si).to_string(), |dimension| dimension.show(si))
    }
}

/// What holds if a key is left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum KeyDefault {
    /// It must be written wherever its table is.
    Required,
    /// It must be written here or in the bait that this one is like.
    RequiredOrInherited,
    /// A value, written as in a file.
    Value(&'static str),
    /// A rule in words, followed by the code that assembles the scenario.
    Described(&'static str),
}

/// One row of the table of keys.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct KeySpec {
    /// The dotted name, with `*` for a name and `#` for the number of a phase.
    pub(crate) pattern: &'static str,
    /// How the value is written.
    pub(crate) kind: Kind,
    /// Whether the value may differ from day to day.
    pub(crate) varies: bool,
    /// Lowest and highest value [SI].
    pub(crate) range: (f64, f64),
    /// What holds if the key is left out.
    pub(crate) default: KeyDefault,
    /// What the key means, in one or a few sentences.
    pub(crate) description: &'static str,
}

impl KeySpec {
    /// The `cv` of a spread.
    pub(crate) const CV: Self = Self {
        pattern: "cv",
        kind: Kind::Number,
        varies: false,
        range: (0.0, MAX_CV),
        default: KeyDefault::Required,
        description: "Standard deviation over mean.",
    };

    /// The segments of the pattern.
    pub(crate) fn segments(&self) -> impl Iterator<Item = &'static str> {
        self.pattern.split('.')
    }

    /// Whether a dotted key follows this pattern.
    pub(crate) fn fits(&self, dotted: &str) -> bool {
        fits_pattern(self.pattern, dotted)
    }

    /// The pattern for people: `plan.NAME.phase.1.recast`.
    pub(crate) fn shown(&self) -> String {
        self.pattern
            .replace("feed.*", "feed.LINE")
            .replace("rule.*", "rule.RULE")
            .replace("move.*", "move.MOVE")
            .replace(NAME, "NAME")
            .replace(NUMBER, "1")
    }

    /// The range for people; empty if there is none.
    pub(crate) fn shown_range(&self) -> String {
        let (low, high) = self.range;
        if !low.is_finite() || !high.is_finite() {
            return String::new();
        }
        format!("{} to {}", self.kind.show(low), self.kind.show(high))
    }

    /// How a value is written, for a message or a table.
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
            Kind::NameOf(referent) => {
                format!("the name of a {} in quotation marks", referent.noun())
            }
            Kind::Flag => "true or false".to_owned(),
        }
    }

    /// The description as part of a sentence: no capital, no full stop.
    pub(crate) fn phrase(&self) -> String {
        let text = self.description.trim_end_matches('.');
        let mut letters = text.chars();
        letters.next().map_or_else(String::new, |first| {
            format!("{}{}", first.to_lowercase(), letters.as_str())
        })
    }
}

/// Whether a dotted key follows a pattern.
pub(super) fn fits_pattern(pattern: &str, dotted: &str) -> bool {
    let mut words = dotted.split('.');
    pattern.split('.').all(|segment| words.next().is_some_and(|word| fits_segment(segment, word)))
        && words.next().is_none()
}

/// Whether a word fits one segment of a pattern.
pub(crate) fn fits_segment(segment: &str, word: &str) -> bool {
    match segment {
        NAME => is_name(word),
        NUMBER => is_phase_number(word),
        literal => literal == word,
    }
}

/// Whether a word can be a name: letters, digits, `-` and `_`, at most 64 of them.
pub(crate) fn is_name(word: &str) -> bool {
    (1..=64).contains(&word.chars().count())
        && word.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
}

/// Whether a word can number a phase: 1 to 999, without leading zeros.
fn is_phase_number(word: &str) -> bool {
    (1..=3).contains(&word.len())
        && word.bytes().all(|b| b.is_ascii_digit())
        && !word.starts_with('0')
}
