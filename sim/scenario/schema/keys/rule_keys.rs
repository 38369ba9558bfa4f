//! The keys of a plan's rules: conditions, how long and how often a rule acts, and what it changes.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, MAX_SESSION_S, Referent};
use super::plan_keys::{ChoiceKeys, FeedKeys, choice_keys, feed_keys};
use super::typed_key::{Key, Table, define_keys, shared_keys};
use crate::scenario::schema::units::Dimension::{Bait, Mass, Speed, Time};

/// Rules of one plan.
pub(crate) const RULES: Table = Table::new("plan.*.rule");
/// Loose feed that one rule changes, by line.
pub(crate) const RULE_FEEDS: Table = Table::new("plan.*.rule.*.feed");

const NO_CONDITION: super::key::KeyDefault = Described("no condition");

const fn count(pattern: &'static str, low: f64) -> Key<f64> {
    Key::whole(pattern, NO_CONDITION).within(low, 1000.0)
}

const fn time(pattern: &'static str) -> Key<f64> {
    Key::quantity(pattern, Time, NO_CONDITION).within(1.0, MAX_SESSION_S)
}

const fn weight(pattern: &'static str) -> Key<f64> {
    Key::quantity(pattern, Mass, NO_CONDITION).within(0.0, 1000.0)
}

define_keys! {
    /// Target weight at the end, for rules with `behind` or `ahead`.
    TARGET: f64 = Key::quantity("plan.*.target", Mass, Described("none")).within(0.01, 1000.0);
    /// This line is being fished.
    ON_LINE: String = Key::name_of("plan.*.rule.*.on_line", Referent::Line, NO_CONDITION);
    /// No bite for at least this long on the line being fished, counted from when you started on it.
    NO_BITE_FOR: f64 = time("plan.*.rule.*.no_bite_for");
    /// At least this many recent bites on the line being fished.
    BITES_AT_LEAST: f64 = count("plan.*.rule.*.bites_at_least", 1.0);
    /// At most this many recent bites on the line being fished, once it has been fished for the whole of `within`.
    BITES_AT_MOST: f64 = count("plan.*.rule.*.bites_at_most", 0.0);
    /// Fish showed at the surface at least this many times recently.
    FISH_SHOW: f64 = count("plan.*.rule.*.fish_show", 1.0);
    /// The line over which fish show.
    OVER: String = Key::name_of("plan.*.rule.*.over", Referent::Line, Described("any line"));
    /// At least this many recent line bites on the line being fished.
    LINE_BITES: f64 = count("plan.*.rule.*.line_bites", 1.0);
    /// At least this many fish were hooked and lost recently on the line being fished.
    FISH_LOST: f64 = count("plan.*.rule.*.fish_lost", 1.0);
    /// At least this many recent bites on the line being fished did not hook a fish.
    BITES_MISSED: f64 = count("plan.*.rule.*.bites_missed", 1.0);
    /// At least this many bites on the line being fished were missed one after another, up to the last one.
    MISSED_IN_A_ROW: f64 = count("plan.*.rule.*.missed_in_a_row", 1.0);
    /// At least this many fish that count were landed recently on the line being fished.
    LANDED_AT_LEAST: f64 = count("plan.*.rule.*.landed_at_least", 1.0);
    /// At most this many fish that count were landed recently on the line being fished, once it has been fished for the
    /// whole of `within`.
    LANDED_AT_MOST: f64 = count("plan.*.rule.*.landed_at_most", 0.0);
    /// At least this many fish landed recently on the line being fished were foul-hooked.
    FOUL_HOOKED: f64 = count("plan.*.rule.*.foul_hooked", 1.0);
    /// The time that counts as recent for whatever the rule counts. As long as the session: since you started on the
    /// line.
    WITHIN: f64 =
        Key::quantity("plan.*.rule.*.within", Time, Value(r#""10 min""#))
            .within(1.0, MAX_SESSION_S);
    /// The last fish landed on the line being fished weigh less than this in the mean, by your guesses.
    FISH_BELOW: f64 =
        Key::quantity("plan.*.rule.*.fish_below", Mass, NO_CONDITION).within(0.001, 1000.0);
    /// How many fish `fish_below` looks at; with fewer landed on the line, the rule waits.
    OF_LAST: f64 = Key::whole("plan.*.rule.*.of_last", Value("3")).within(1.0, 1000.0);
    /// The wind is at least this strong. Without `session.date` it stays the same all day.
    WIND_AT_LEAST: f64 =
        Key::quantity("plan.*.rule.*.wind_at_least", Speed, NO_CONDITION).within(0.0, 25.0);
    /// The wind is at most this strong.
    WIND_AT_MOST: f64 =
        Key::quantity("plan.*.rule.*.wind_at_most", Speed, NO_CONDITION).within(0.0, 25.0);
    /// The sun sets in at most this time, or has set. Needs `session.date`.
    TO_SUNSET: f64 =
        Key::quantity("plan.*.rule.*.to_sunset", Time, NO_CONDITION).within(0.0, MAX_SESSION_S);
    /// The clock shows this time or a later one, such as 18:30. Needs `session.start` or `session.date`.
    CLOCK_FROM: String = Key::text("plan.*.rule.*.clock_from", NO_CONDITION);
    /// At least this much of the session has passed.
    AFTER: f64 = time("plan.*.rule.*.after");
    /// At most this much of the session is left.
    TIME_LEFT: f64 = time("plan.*.rule.*.time_left");
    /// The `line` that the rule changes to has not been fished for at least this long.
    RESTED_FOR: f64 = time("plan.*.rule.*.rested_for");
    /// The estimated weight in the net is at least this far below the target's share for the time passed.
    BEHIND: f64 = weight("plan.*.rule.*.behind");
    /// The estimated weight in the net is at least this far above the target's share for the time passed.
    AHEAD: f64 = weight("plan.*.rule.*.ahead");
    /// How long the changes of the rule last.
    LASTS: f64 =
        Key::time_or("plan.*.rule.*.lasts", "all session", Described("until the plan's next phase"))
            .within(1.0, MAX_SESSION_S);
    /// Shortest time until the rule can fire again.
    AGAIN_AFTER: f64 =
        Key::quantity("plan.*.rule.*.again_after", Time, Value(r#""5 min""#))
            .within(0.0, MAX_SESSION_S);
    /// Most times that the rule fires in one session.
    AT_MOST: f64 = Key::whole("plan.*.rule.*.at_most", Described("no limit")).within(1.0, 1000.0);
}

/// What a rule changes.
pub(crate) const CHANGES: ChoiceKeys = choice_keys!("plan.*.rule.*", Some("unchanged"));
/// Loose feed that a rule changes.
pub(crate) const FEED: FeedKeys =
    feed_keys!("plan.*.rule.*", Some("unchanged; on a line not fed before, as for a plan"));

/// All keys of rules, in the order of the reference.
pub(super) fn all() -> Vec<KeySpec> {
    let mut keys = ALL.to_vec();
    keys.extend(CHANGES.all());
    keys.extend(FEED.all());
    keys
}
