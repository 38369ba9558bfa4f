//! The table of keys for other programs: what a generator, an editor or a test needs to write scenarios.

use super::keys::{KeyDefault, KeySpec, Kind, keys};

/// One key of the format, as a program that writes scenarios needs it.
#[derive(Clone, Copy, Debug)]
pub struct FormatKey {
    spec: &'static KeySpec,
}

/// Which values a key takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FormatValues {
    /// Numbers, with or without a unit.
    Numbers {
        /// Lowest value, in SI units.
        low: f64,
        /// Highest value, in SI units.
        high: f64,
        /// SI unit as in column names; empty for bare numbers.
        unit: &'static str,
        /// A word that may stand for a time without end.
        word: Option<&'static str>,
    },
    /// One of some words.
    Words(&'static [&'static str]),
    /// The name of an entry of one of these tables.
    NamesOf(&'static [&'static str]),
    /// One line of text.
    Text,
    /// `true` or `false`.
    Flag,
}

impl FormatKey {
    /// The dotted name, with `*` for a name and `#` for the number of a phase.
    #[must_use]
    pub fn pattern(&self) -> &'static str {
        self.spec.pattern
    }

    /// Which values it takes.
    #[must_use]
    pub fn values(&self) -> FormatValues {
        let (low, high) = self.spec.range;
        match self.spec.kind {
            Kind::Quantity(dimension) => {
                FormatValues::Numbers { low, high, unit: dimension.column_unit(), word: None }
            }
            Kind::TimeOr(word) => FormatValues::Numbers { low, high, unit: "s", word: Some(word) },
            Kind::Number | Kind::Whole => FormatValues::Numbers { low, high, unit: "", word: None },
            Kind::Choice(words) => FormatValues::Words(words),
            Kind::NameOf(referent) => FormatValues::NamesOf(referent.tables()),
            Kind::Text => FormatValues::Text,
            Kind::Flag => FormatValues::Flag,
        }
    }

    /// Whether it may have a spread instead of one value.
    #[must_use]
    pub fn varies(&self) -> bool {
        self.spec.varies
    }

    /// Whether it must be written wherever its table is.
    #[must_use]
    pub fn is_required(&self) -> bool {
        matches!(self.spec.default, KeyDefault::Required | KeyDefault::RequiredOrInherited)
    }

    /// A number in SI units as it is written in a file.
    ///
    /// ```
    /// let recast = sim::scenario::format_keys().find(|key| key.pattern() == "plan.*.recast").expect("a key");
    /// assert_eq!(recast.written(90.0), "\"1.5 min\"");
    /// ```
    #[must_use]
    pub fn written(&self, si: f64) -> String {
        match self.spec.kind {
            Kind::Whole => format!("{:.0}", si.round()),
            kind if kind.dimension().is_some() => format!("\"{}\"", kind.show(si)),
            kind => kind.show(si),
        }
    }
}

/// Every key of the format, in the order of the key reference.
pub fn format_keys() -> impl Iterator<Item = FormatKey> {
    keys().map(|spec| FormatKey { spec })
}
