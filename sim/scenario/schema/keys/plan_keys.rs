//! The keys of plans, of their phases and of loose feed.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, MAX_SESSION_S, Referent};
use super::typed_key::{Key, Table, define_shared_keys, shared_keys};
use crate::angler::{FeedMethod, HookSize};
use crate::bait::LoadStyle;
use crate::scenario::schema::units::Dimension::{Bait, Mass, Time};

/// Plans.
pub(crate) const PLANS: Table = Table::new("plan");
/// Phases of one plan.
pub(crate) const PHASES: Table = Table::new("plan.*.phase");
/// Loose feed of one plan, by line.
pub(crate) const FEEDS: Table = Table::new("plan.*.feed");
/// Loose feed of one phase, by line.
pub(crate) const PHASE_FEEDS: Table = Table::new("plan.*.phase.#.feed");

/// Bait that may be used in the whole session.
pub(crate) const BAIT_LIMIT: Key<f64> =
    Key::quantity("plan.*.bait_limit", Bait, Described("no limit"))
        .within(0.0, 100.0)
        .described("Most bait that may be used in the session.");
/// When a phase begins.
pub(crate) const PHASE_FROM: Key<f64> = Key::quantity(
    "plan.*.phase.#.from",
    Time,
    Described("the end of the phase before, or the start"),
)
.within(0.0, MAX_SESSION_S)
.described(
    "When the phase begins, counted from the start of the session. In a gap between phases the rod is out of the water.",
);
/// When a phase ends.
pub(crate) const PHASE_UNTIL: Key<f64> = Key::quantity(
    "plan.*.phase.#.until",
    Time,
    Described("the beginning of the next phase, or the end"),
)
.within(0.0, MAX_SESSION_S)
.described("When the phase ends.");

define_shared_keys! {
    /// What a plan chooses for all its phases, and a phase or a rule may choose differently.
    ChoiceKeys {
        line: String,
        recast: f64,
        bait: String,
        load: f64,
        feeder: f64,
        load_style: LoadStyle,
        squeeze: f64,
        hookbait: String,
        line_strength: f64,
        hook: HookSize,
    }
}

/// The choices of one table; `otherwise` says what holds there if one is left out.
macro_rules! choice_keys {
    ($table:literal, $otherwise:expr) => {
        shared_keys! { ChoiceKeys, $otherwise;
            /// The line to fish.
            line: Key::name_of(
                concat!($table, ".line"), Referent::Line, Described("the first line of the file"));
            /// Longest time between a cast and winding it in.
            recast: Key::quantity(concat!($table, ".recast"), Time, Value(r#""5 min""#))
                .within(10.0, MAX_SESSION_S);
            /// The bait on the feeder.
            bait: Key::name_of(
                concat!($table, ".bait"), Referent::Bait, Value(r#""groundbait""#));
            /// Bait on the feeder for one cast. 0 g means a bare lead.
            load: Key::quantity(concat!($table, ".load"), Bait, Value(r#""25 g""#))
                .within(0.0, 2.0);
            /// Weight of the feeder or lead without its load.
            feeder: Key::quantity(concat!($table, ".feeder"), Mass, Value(r#""30 g""#))
                .within(0.001, 0.5);
            /// Hookbait pushed into the top of the load, or buried in the middle.
            load_style: Key::choice(concat!($table, ".load_style"), Value(r#""top""#));
            /// How hard the load is pressed: 1 is ordinary; 2 takes twice as long to open.
            squeeze: Key::number(concat!($table, ".squeeze"), Value("1.0")).within(0.1, 10.0);
            /// The bait on the hook.
            hookbait: Key::name_of(
                concat!($table, ".hookbait"), Referent::Hookbait, Value(r#""soft-pellet""#));
            /// Load at which the fishing line or hooklength breaks. A thin line is seen less in clear water and loses
            /// more large fish, most of all near cover.
            line_strength: Key::quantity(
                concat!($table, ".line_strength"), Mass,
                Described("that of the line; if none is written there, ordinary"),
            ).within(0.2, 30.0);
            /// The size of the hook: a small one gets more bites and pulls out of more large fish.
            hook: Key::choice(
                concat!($table, ".hook"),
                Described("that of the line; if none is written there, ordinary"));
        }
    };
}
pub(super) use choice_keys;

define_shared_keys! {
    /// What is thrown on a line and how often.
    FeedKeys { bait: String, every: f64, amount: f64, by: FeedMethod }
}

/// The loose feed of one table; `otherwise` says what holds there if a key is left out.
macro_rules! feed_keys {
    ($table:literal, $otherwise:expr) => {
        shared_keys! { FeedKeys, $otherwise;
            /// The bait thrown on that line.
            bait: Key::name_of(
                concat!($table, ".feed.*.bait"), Referent::Bait, Described("the bait on the feeder"));
            /// Time between throws.
            every: Key::quantity(concat!($table, ".feed.*.every"), Time, Value(r#""3 min""#))
                .within(5.0, MAX_SESSION_S);
            /// Amount thrown each time. 0 g means none.
            amount: Key::quantity(concat!($table, ".feed.*.amount"), Bait, Value(r#""15 g""#))
                .within(0.0, 5.0);
            /// How the feed gets there: by catapult, by hand, in a pot on a pole, or pressed into a ball that breaks up
            /// on the bed. If it is written, reach and amount are checked: 60, 14, 16 and 40 m; 60, 150, 350 and 500 g.
            by: Key::choice(concat!($table, ".feed.*.by"), Value(r#""catapult""#));
        }
    };
}
pub(super) use feed_keys;

define_shared_keys! {
    /// The times between which loose feed is thrown.
    FeedTimes { from: f64, until: f64 }
}

/// The feeding times of one table; `otherwise` says what holds there if one is left out.
macro_rules! feed_times {
    ($table:literal, $otherwise:expr) => {
        shared_keys! { FeedTimes, $otherwise;
            /// When feeding begins.
            from: Key::quantity(concat!($table, ".feed.*.from"), Time, Described("the start"))
                .within(0.0, MAX_SESSION_S);
            /// When feeding ends.
            until: Key::quantity(concat!($table, ".feed.*.until"), Time, Described("the end"))
                .within(0.0, MAX_SESSION_S);
        }
    };
}

const AS_PLAN: Option<&str> = Some("as in the plan");
const FEED_AS_PLAN: Option<&str> = Some("as in the plan's own feed on that line");

/// What a plan chooses for all its phases.
pub(crate) const CHOICES: ChoiceKeys = choice_keys!("plan.*", None);
/// What one phase chooses differently.
pub(crate) const PHASE_CHOICES: ChoiceKeys = choice_keys!("plan.*.phase.#", AS_PLAN);
/// Loose feed in all phases of a plan.
pub(crate) const FEED: FeedKeys = feed_keys!("plan.*", None);
/// Loose feed that is different in one phase.
pub(crate) const PHASE_FEED: FeedKeys = feed_keys!("plan.*.phase.#", FEED_AS_PLAN);
/// Feeding times in all phases of a plan.
pub(crate) const FEED_TIMES: FeedTimes = feed_times!("plan.*", None);
/// Feeding times that are different in one phase.
pub(crate) const PHASE_FEED_TIMES: FeedTimes = feed_times!("plan.*.phase.#", FEED_AS_PLAN);

/// The keys of a plan for all its phases, in the order of the reference.
pub(super) fn plan_wide() -> Vec<KeySpec> {
    let mut keys = vec![BAIT_LIMIT.spec()];
    keys.extend(CHOICES.all());
    keys.extend(FEED.all());
    keys.extend(FEED_TIMES.all());
    keys
}

/// The keys of one phase, in the order of the reference.
pub(super) fn phases() -> Vec<KeySpec> {
    let mut keys = vec![PHASE_FROM.spec(), PHASE_UNTIL.spec()];
    keys.extend(PHASE_CHOICES.all());
    keys.extend(PHASE_FEED.all());
    keys.extend(PHASE_FEED_TIMES.all());
    keys
}
