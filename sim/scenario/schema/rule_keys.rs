//! The keys of a plan's rules: what has to be perceived, and how long and how often a rule acts.

use super::key::{Key, Kind, LeftOut, MAX_SESSION_S, Thing};
use super::plan_keys::{feed_choices, plan_choices};
use super::units::Dimension::{Mass, Time};

use Kind::{NameOf, Quantity, TimeOr, Whole};
use LeftOut::{Is, Rule};

/// The table of one rule.
const TABLE: &str = "plan.*.rule.*";
/// The word for a choice that holds to the end.
const TO_THE_END: &str = "all session";

/// Every key of a rule: what it asks for, its limits, then what it chooses anew.
pub(crate) fn rules() -> Vec<Key> {
    let mut keys = vec![
        Key::new(
            "plan.*.target",
            Quantity(Mass),
            Rule("none"),
            "Weight aimed at by the end, for rules that ask whether the angler is behind or ahead of it.",
        )
        .within(0.01, 1000.0),
    ];
    keys.extend(asked());
    keys.extend(limits());
    keys.extend(plan_choices(TABLE, Some("as it was")));
    keys.extend(feed_choices(TABLE, Some("as it was; on a line not yet fed, as for a plan")));
    keys
}

fn asked() -> Vec<Key> {
    let asks = |name: &str, kind, says| {
        Key::new(&format!("{TABLE}.{name}"), kind, Rule("not asked"), says)
    };
    let count = |name, low, says| asks(name, Whole, says).within(low, 1000.0);
    let time = |name, says| asks(name, Quantity(Time), says).within(1.0, MAX_SESSION_S);
    let weight = |name, says| asks(name, Quantity(Mass), says).within(0.0, 1000.0);
    vec![
        asks("on_line", NameOf(Thing::Line), "This line is being fished."),
        time("no_bite_for", "No bite for so long on the line fished, since it was taken up."),
        count("bites_at_least", 1.0, "So many bites or more lately on the line fished."),
        count(
            "bites_at_most",
            0.0,
            "So many bites or fewer lately on the line fished, once it was fished for all that time.",
        ),
        count("fish_show", 1.0, "A fish showed at the surface so many times or more lately."),
        Key::new(
            &format!("{TABLE}.over"),
            NameOf(Thing::Line),
            Rule("over any line"),
            "The line over which fish show.",
        ),
        count("line_bites", 1.0, "So many line bites or more lately on the line fished."),
        Key::new(
            &format!("{TABLE}.within"),
            Quantity(Time),
            Is(r#""10 min""#),
            "What counts as lately, for bites, shows and line bites.",
        )
        .within(1.0, MAX_SESSION_S),
        time("after", "So much of the session is gone."),
        time("time_left", "No more than this is left of the session."),
        time("rested_for", "The `line` to which the rule changes was not fished for so long."),
        weight(
            "behind",
            "The net, as guessed, is so much short of the target's share for the time gone.",
        ),
        weight("ahead", "The net, as guessed, is so much over the target's share."),
    ]
}

fn limits() -> Vec<Key> {
    let limit =
        |name: &str, kind, default, says| Key::new(&format!("{TABLE}.{name}"), kind, default, says);
    vec![
        limit(
            "lasts",
            TimeOr(TO_THE_END),
            Rule("until the plan's next phase"),
            "How long what the rule chooses holds.",
        )
        .within(1.0, MAX_SESSION_S),
        limit(
            "again_after",
            Quantity(Time),
            Is(r#""5 min""#),
            "Time from one firing to the next, at the least.",
        )
        .within(0.0, MAX_SESSION_S),
        limit("at_most", Whole, Rule("no limit"), "Times that it fires in a session, at most.")
            .within(1.0, 1000.0),
    ]
}
