//! The keys of plans, of their phases and of loose feed.

use super::key::{Key, Kind, LeftOut, MAX_SESSION_S, Thing};
use super::units::Dimension::{Bait, Mass, Time};

use Kind::{Choice, NameOf, Number, Quantity};
use LeftOut::{Is, Rule};

/// Every key of a plan: what it chooses for all its phases, then what one phase chooses anew.
pub(crate) fn plans() -> Vec<Key> {
    let mut keys = plan_level();
    keys.extend(plan_choices("plan.*", None));
    keys.extend(feeds("plan.*", None));
    keys.extend(phase_times());
    keys.extend(plan_choices("plan.*.phase.#", Some("the plan's own")));
    keys.extend(feeds("plan.*.phase.#", Some("the plan's own feed on that line")));
    keys
}

fn plan_level() -> Vec<Key> {
    vec![
        Key::new(
            "plan.*.bait_limit",
            Quantity(Bait),
            Rule("no limit"),
            "Bait that may be used at most in the session.",
        )
        .within(0.0, 100.0),
    ]
}

fn phase_times() -> Vec<Key> {
    vec![
        Key::new(
            "plan.*.phase.#.from",
            Quantity(Time),
            Rule("the end of the phase before, or the start"),
            "When the phase begins, from the start of the session; in a gap the rod is out.",
        )
        .within(0.0, MAX_SESSION_S),
        Key::new(
            "plan.*.phase.#.until",
            Quantity(Time),
            Rule("the beginning of the next phase, or the end"),
            "When the phase ends.",
        )
        .within(0.0, MAX_SESSION_S),
    ]
}

/// What a plan chooses, for all its phases (`plan.*`), or anew in a phase or by a rule, which says what holds
/// where it is left out there.
pub(crate) fn plan_choices(table: &str, anew: Option<&'static str>) -> Vec<Key> {
    let choice = |name: &str, kind, default, says| {
        let default = anew.map_or(default, Rule);
        Key::new(&format!("{table}.{name}"), kind, default, says)
    };
    vec![
        choice("line", NameOf(Thing::Line), Rule("the first line of the file"), "The line fished."),
        choice(
            "recast",
            Quantity(Time),
            Is(r#""5 min""#),
            "Longest time from one cast to winding it in.",
        )
        .within(10.0, MAX_SESSION_S),
        choice("bait", NameOf(Thing::Bait), Is(r#""groundbait""#), "The bait on the feeder."),
        choice(
            "load",
            Quantity(Bait),
            Is(r#""25 g""#),
            "Bait on the feeder for one cast; 0 g fishes a bare lead.",
        )
        .within(0.0, 2.0),
        choice("feeder", Quantity(Mass), Is(r#""30 g""#), "Feeder or lead without its load.")
            .within(0.001, 0.5),
        choice(
            "load_style",
            Choice(&["top", "buried"]),
            Is(r#""top""#),
            "Hookbait pushed into the top of the load, or in its middle.",
        ),
        choice(
            "squeeze",
            Number,
            Is("1.0"),
            "How hard the load is pressed: 1 is ordinary, 2 opens in twice the time.",
        )
        .within(0.1, 10.0),
        choice("hookbait", NameOf(Thing::Hookbait), Is(r#""soft-pellet""#), "What is on the hook."),
    ]
}

/// Loose feed with its times, for all phases of a plan (`plan.*`) or anew for one (`plan.*.phase.#`).
fn feeds(table: &str, anew: Option<&'static str>) -> Vec<Key> {
    let time = |name: &str, default, says| {
        let default = Rule(anew.unwrap_or(default));
        Key::new(&format!("{table}.feed.*.{name}"), Quantity(Time), default, says)
            .within(0.0, MAX_SESSION_S)
    };
    let mut keys = feed_choices(table, anew);
    keys.push(time("from", "the start", "When feeding begins."));
    keys.push(time("until", "the end", "When feeding ends."));
    keys
}

/// What is thrown on a line and how often, for a plan, or anew in a phase or by a rule.
pub(crate) fn feed_choices(table: &str, anew: Option<&'static str>) -> Vec<Key> {
    let feed = |name: &str, kind, default, says| {
        let default = anew.map_or(default, Rule);
        Key::new(&format!("{table}.feed.*.{name}"), kind, default, says)
    };
    vec![
        feed(
            "bait",
            NameOf(Thing::Bait),
            Rule("the bait on the feeder"),
            "Bait thrown on that line.",
        ),
        feed("every", Quantity(Time), Is(r#""3 min""#), "Time between throws.")
            .within(5.0, MAX_SESSION_S),
        feed("amount", Quantity(Bait), Is(r#""15 g""#), "Thrown each time; 0 g throws none.")
            .within(0.0, 5.0),
    ]
}
