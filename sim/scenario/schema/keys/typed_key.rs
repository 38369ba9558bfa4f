//! Keys as constants with the type of their value; the user's names are filled in where a value is read.

use std::marker::PhantomData;

use super::key::{KeyDefault, KeySpec, Kind, NAME, NUMBER, Referent, fits_pattern};
use crate::params::DailyDistribution;
use crate::scenario::schema::choices::Choice;
use crate::scenario::schema::units::Dimension;

/// One key of the format with a value of type `T`.
#[derive(Debug)]
pub(crate) struct Key<T> {
    spec: KeySpec,
    value: PhantomData<fn() -> T>,
}

impl<T> Clone for Key<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Key<T> {}

impl<T> Key<T> {
    const fn new(pattern: &'static str, kind: Kind, default: KeyDefault) -> Self {
        let range = (f64::NEG_INFINITY, f64::INFINITY);
        let spec = KeySpec { pattern, kind, varies: false, range, default, description: "" };
        Self { spec, value: PhantomData }
    }

    /// The same key; if left out, `rule` holds, where one is given.
    pub(super) const fn or(mut self, rule: Option<&'static str>) -> Self {
        if let Some(rule) = rule {
            self.spec.default = KeyDefault::Described(rule);
        }
        self
    }

    /// The same key with a description: the lines of its doc comment.
    pub(super) const fn described(mut self, lines: &'static str) -> Self {
        self.spec.description = lines.trim_ascii_start();
        self
    }

    /// Its row in the table of keys.
    pub(crate) const fn spec(self) -> KeySpec {
        self.spec
    }

    /// The key of one scenario: the names replace the placeholders in order.
    ///
    /// # Panics
    ///
    /// If there are more or fewer names than placeholders.
    pub(crate) fn at(self, names: &[&str]) -> KeyPath<T> {
        KeyPath { dotted: fill(self.spec.pattern, names), spec: self.spec, value: PhantomData }
    }
}

impl Key<f64> {
    /// A key with a quantity.
    pub(super) const fn quantity(
        pattern: &'static str,
        dimension: Dimension,
        default: KeyDefault,
    ) -> Self {
        Self::new(pattern, Kind::Quantity(dimension), default)
    }

    /// A key with a time, or a word for one without end.
    pub(super) const fn time_or(
        pattern: &'static str,
        word: &'static str,
        default: KeyDefault,
    ) -> Self {
        Self::new(pattern, Kind::TimeOr(word), default)
    }

    /// A key with a bare number.
    pub(super) const fn number(pattern: &'static str, default: KeyDefault) -> Self {
        Self::new(pattern, Kind::Number, default)
    }

    /// A key with a bare whole number.
    pub(super) const fn whole(pattern: &'static str, default: KeyDefault) -> Self {
        Self::new(pattern, Kind::Whole, default)
    }

    /// The same key with values from `low` to `high` [SI].
    pub(super) const fn within(mut self, low: f64, high: f64) -> Self {
        self.spec.range = (low, high);
        self
    }

    /// The same key with a value that may differ from day to day.
    pub(super) const fn varies(mut self) -> Key<DailyDistribution> {
        self.spec.varies = true;
        Key { spec: self.spec, value: PhantomData }
    }
}

impl Key<String> {
    /// A key with any text.
    pub(super) const fn text(pattern: &'static str, default: KeyDefault) -> Self {
        Self::new(pattern, Kind::Text, default)
    }

    /// A key with the name of something in the scenario.
    pub(super) const fn name_of(
        pattern: &'static str,
        referent: Referent,
        default: KeyDefault,
    ) -> Self {
        Self::new(pattern, Kind::NameOf(referent), default)
    }
}

impl Key<bool> {
    /// A key that is true or false.
    pub(super) const fn flag(pattern: &'static str, default: KeyDefault) -> Self {
        Self::new(pattern, Kind::Flag, default)
    }
}

impl<C: Choice> Key<C> {
    /// A key with one of a few words.
    pub(super) const fn choice(pattern: &'static str, default: KeyDefault) -> Self {
        Self::new(pattern, Kind::Choice(C::WORDS), default)
    }
}

/// A key of one scenario, the user's names filled in.
#[derive(Debug)]
pub(crate) struct KeyPath<T> {
    dotted: String,
    spec: KeySpec,
    value: PhantomData<fn() -> T>,
}

impl KeySpec {
    /// The key of one scenario, its value of any type; the names replace the placeholders in order.
    pub(crate) fn at(&self, names: &[&str]) -> KeyPath<()> {
        KeyPath { dotted: fill(self.pattern, names), spec: *self, value: PhantomData }
    }
}

/// A key whose dotted name is complete: a [`Key`] without placeholders, or a [`KeyPath`].
pub(crate) trait FullKey {
    /// The type of its value.
    type Value;
    /// Its dotted name.
    fn dotted(&self) -> &str;
    /// Its row in the table of keys.
    fn spec(&self) -> &KeySpec;
}

impl<T> FullKey for Key<T> {
    type Value = T;

    fn dotted(&self) -> &str {
        debug_assert!(!self.spec.pattern.contains(['*', '#']), "a name is missing");
        self.spec.pattern
    }

    fn spec(&self) -> &KeySpec {
        &self.spec
    }
}

impl<T> FullKey for KeyPath<T> {
    type Value = T;

    fn dotted(&self) -> &str {
        &self.dotted
    }

    fn spec(&self) -> &KeySpec {
        &self.spec
    }
}

/// A table with entries that the user names, as `line`, or numbers, as `plan.NAME.phase`, or one without.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Table {
    pattern: &'static str,
}

impl Table {
    /// The table of a pattern.
    pub(super) const fn new(pattern: &'static str) -> Self {
        Self { pattern }
    }

    /// Its dotted name; the names replace the placeholders in order.
    pub(crate) fn at(self, names: &[&str]) -> String {
        fill(self.pattern, names)
    }

    /// The dotted name of one of its entries, which is the last of `names`.
    pub(crate) fn entry(self, names: &[&str]) -> String {
        let (name, above) = names.split_last().expect("an entry has a name");
        format!("{}.{name}", self.at(above))
    }

    /// Whether a dotted name is this table's.
    pub(crate) fn fits(self, dotted: &str) -> bool {
        fits_pattern(self.pattern, dotted)
    }

    /// Whether a key is below it.
    #[cfg(test)]
    pub(super) fn holds(self, key: &KeySpec) -> bool {
        key.pattern.strip_prefix(self.pattern).is_some_and(|rest| rest.starts_with('.'))
    }

    /// Its last word: `line`, `rule`.
    pub(crate) fn noun(self) -> &'static str {
        self.pattern.rsplit('.').next().unwrap_or(self.pattern)
    }
}

/// A pattern with its placeholders replaced in order.
fn fill(pattern: &str, names: &[&str]) -> String {
    let mut names = names.iter();
    let words: Vec<&str> = pattern
        .split('.')
        .map(|segment| match segment {
            NAME | NUMBER => *names.next().expect("a name for each placeholder"),
            literal => literal,
        })
        .collect();
    assert!(names.next().is_none(), "{pattern} takes fewer names");
    words.join(".")
}

/// Defines the keys of one subject as constants, and `ALL` of them in the order of the reference. The doc comment of a key
/// is its description in messages, schema and reference.
macro_rules! define_keys {
    ($($(#[doc = $line:literal])+ $name:ident: $value:ty = $key:expr;)+) => {
        $($(#[doc = $line])+ pub(crate) const $name: Key<$value> = $key.described(concat!($($line),+));)+

        /// All keys of this subject, in the order of the reference.
        pub(super) const ALL: &[KeySpec] = &[$($name.spec()),+];
    };
}

/// Defines keys that several tables have, as the fields of a struct.
macro_rules! define_shared_keys {
    ($(#[$doc:meta])+ $name:ident { $($key:ident: $value:ty),+ $(,)? }) => {
        $(#[$doc])+
        #[derive(Clone, Copy, Debug)]
        pub(crate) struct $name { $(pub(crate) $key: Key<$value>),+ }

        impl $name {
            /// All of them, in the order of the reference.
            pub(super) fn all(self) -> Vec<KeySpec> {
                vec![$(self.$key.spec()),+]
            }
        }
    };
}

/// Such keys in one table. The doc comment of a key is its description; `otherwise` holds if it is left out.
macro_rules! shared_keys {
    ($keys:ident, $otherwise:expr; $($(#[doc = $line:literal])+ $name:ident: $key:expr;)+) => {
        $keys { $($name: $key.or($otherwise).described(concat!($($line),+))),+ }
    };
}

pub(super) use {define_keys, define_shared_keys, shared_keys};
