//! The table of every key of the format; reading, `--set`, the schema and the reference all follow it.

use std::sync::LazyLock;

use super::key::{KeyDefault, KeySpec, Kind};
use super::{aim_keys, bait_keys, plan_keys, rule_keys, session_keys, shoal_keys, water_keys};
use crate::scenario::schema::books::Books;

/// Keys that stand below one heading of the reference.
#[derive(Clone, Debug)]
pub(crate) struct KeyGroup {
    /// The heading.
    pub(crate) heading: &'static str,
    /// What holds for all of them; may be empty.
    pub(crate) note: &'static str,
    /// The keys, in the order of the reference.
    pub(crate) keys: Vec<KeySpec>,
    /// Whether they are rows of the parameter books.
    pub(crate) are_book_rows: bool,
}

/// Every key, by subject.
pub(crate) fn groups() -> &'static [KeyGroup] {
    static GROUPS: LazyLock<Vec<KeyGroup>> = LazyLock::new(|| {
        let group = |heading, note, keys| KeyGroup { heading, note, keys, are_book_rows: false };
        vec![
            group("The session", "", session_keys::ALL.to_vec()),
            group(
                "Aims of the day",
                "In addition to mean weight and the chance of a blank, which are always shown.",
                aim_keys::ALL.to_vec(),
            ),
            group("The water", "At least one line is needed.", water_keys::ALL.to_vec()),
            group(
                "Baits and hookbaits",
                "Built-in ones can be used without a table; a table of the same name changes single values of them.",
                bait_keys::ALL.to_vec(),
            ),
            group(
                "Shoals",
                "A scenario without a shoal has no fish, which is allowed.",
                shoal_keys::ALL.to_vec(),
            ),
            group(
                "Plans",
                "At least one plan is needed. The keys of a plan hold in all its phases; a plan without phases is one \
                 phase over the whole session.",
                plan_keys::plan_wide(),
            ),
            group(
                "Phases of a plan",
                "A phase can change every choice of its plan; `feed.LINE.amount = \"0 g\"` stops a feed.",
                plan_keys::phases(),
            ),
            group(
                "Rules of a plan",
                "A rule fires when all its conditions hold at once, and then makes the changes written below it. If two \
                 rules hold at once and disagree, the first in the file wins.",
                rule_keys::all(),
            ),
            KeyGroup {
                heading: "Parameters",
                note: "`book.BOOK.ROW = NUMBER` fixes one row of a parameter book at a value of your own, in the row's \
                       own unit.",
                keys: book_rows(),
                are_book_rows: true,
            },
        ]
    });
    &GROUPS
}

/// Every key, in the order of the reference.
pub(crate) fn keys() -> impl Iterator<Item = &'static KeySpec> {
    groups().iter().flat_map(|group| &group.keys)
}

/// The key of a dotted name.
pub(crate) fn key_of(dotted: &str) -> Option<&'static KeySpec> {
    keys().find(|key| key.fits(dotted))
}

/// A key for every row of every book.
fn book_rows() -> Vec<KeySpec> {
    let books = Books::default();
    let row_key = |book: &str, row: &crate::params::Parameter| {
        let unit = if row.unit.is_empty() { String::new() } else { format!(" [{}]", row.unit) };
        KeySpec {
            pattern: format!("book.{book}.{}", row.key).leak(),
            kind: Kind::Number,
            varies: false,
            range: (row.range[0], row.range[1]),
            default: KeyDefault::Described("drawn for each day as the book says"),
            description: format!("{}{unit}", row.meaning).leak(),
        }
    };
    let books = books.all();
    books.iter().flat_map(|book| book.rows().iter().map(|row| row_key(book.name, row))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_that_code_names_is_in_the_table_of_keys() {
        let tables = [
            session_keys::KEEPNET,
            aim_keys::SECTION,
            water_keys::SOUNDINGS,
            water_keys::FEATURES,
            water_keys::LINES,
            bait_keys::BAITS,
            bait_keys::CLASSES,
            bait_keys::HOOKBAITS,
            shoal_keys::SHOALS,
            shoal_keys::MOVES,
            plan_keys::PLANS,
            plan_keys::PHASES,
            plan_keys::FEEDS,
            plan_keys::PHASE_FEEDS,
            rule_keys::RULES,
            rule_keys::RULE_FEEDS,
        ];
        for table in tables {
            assert!(keys().any(|key| table.holds(key)), "no key is below {table:?}");
        }
    }

    #[test]
    fn no_key_is_in_the_table_twice() {
        let mut patterns: Vec<_> = keys().map(|key| key.pattern).collect();
        let count = patterns.len();
        patterns.sort_unstable();
        patterns.dedup();
        assert_eq!(patterns.len(), count);
    }
}
