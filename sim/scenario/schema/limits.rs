//! How many tables of a kind a scenario may have, so that every file is read quickly.

use super::keys::{Table, bait_keys, plan_keys, rule_keys, shoal_keys, water_keys};

/// Largest number of lines in one scenario.
pub const MAX_LINES: usize = 8;

/// A limit on the number of entries of one kind of table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct EntryLimit {
    /// The table whose entries are limited in number.
    pub(crate) table: Table,
    /// Largest number of entries.
    pub(crate) max: usize,
    /// What the limit says, after the number.
    pub(crate) words: &'static str,
}

/// All limits, in the order of the key reference.
pub(crate) const ENTRY_LIMITS: [EntryLimit; 10] = [
    limit(water_keys::LINES, MAX_LINES, "lines at most can be fished from one peg"),
    limit(water_keys::SOUNDINGS, 200, "soundings at most"),
    limit(water_keys::FEATURES, 50, "features at most"),
    limit(bait_keys::BAITS, 50, "baits of your own at most"),
    limit(bait_keys::CLASSES, 20, "classes of particles at most in one bait"),
    limit(bait_keys::HOOKBAITS, 50, "hookbaits of your own at most"),
    limit(shoal_keys::SHOALS, 50, "shoals at most"),
    limit(plan_keys::PLANS, 50, "plans at most can be compared"),
    limit(plan_keys::PHASES, 50, "phases at most in one plan"),
    limit(rule_keys::RULES, 50, "rules at most in one plan"),
];

const fn limit(table: Table, max: usize, words: &'static str) -> EntryLimit {
    EntryLimit { table, max, words }
}
