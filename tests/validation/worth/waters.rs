//! Small invented waters on which it depends on the unknowns which of two plans is the better one.

use sim::angler::{Phase, Plan, Rules};
use sim::scenario::{Scenario, read};

/// Length of a session [s].
pub(super) const SESSION_S: f64 = 3600.0;

/// Two lines with a shoal each: which has more fish?
const TWO_LINES: &str = "session.length = \"1 h\"\n\
    line.bar.distance = \"20 m\"\nline.bar.bearing = \"-45 deg\"\n\
    line.reeds.distance = \"20 m\"\nline.reeds.bearing = \"45 deg\"\n\
    shoal.bar-fish.count = 55\nshoal.bar-fish.home = \"bar\"\nshoal.bar-fish.weight = \"1.4 kg\"\n\
    shoal.reed-fish.count = 50\nshoal.reed-fish.home = \"reeds\"\nshoal.reed-fish.weight = \"1.5 kg\"\n\
    plan.bar.line = \"bar\"\nplan.reeds.line = \"reeds\"\n";

/// One line, a short or a long wait: do splashes call fish or frighten them?
const RECAST: &str = "session.length = \"1 h\"\nline.bar.distance = \"20 m\"\n\
    shoal.residents.count = 60\nshoal.residents.home = \"bar\"\n\
    shoal.residents.home_half_length = \"12 m\"\nshoal.residents.home_half_width = \"10 m\"\n\
    plan.often.recast = \"2 min\"\nplan.seldom.recast = \"8 min\"\n";

/// Few large fish close in and many small ones farther out, on lines of their own: which of the two?
const NEAR_OR_FAR: &str = "session.length = \"1 h\"\n\
    line.margin.distance = \"8 m\"\nline.margin.bearing = \"-50 deg\"\nline.open.distance = \"24 m\"\n\
    shoal.margin-fish.count = 25\nshoal.margin-fish.weight = \"2 kg\"\nshoal.margin-fish.home = \"margin\"\n\
    shoal.open-fish.count = 50\nshoal.open-fish.weight = \"1 kg\"\nshoal.open-fish.home = \"open\"\n\
    plan.margin.line = \"margin\"\nplan.margin.recast = \"6 min\"\n\
    plan.open.line = \"open\"\nplan.open.recast = \"3 min\"\n";

/// Many small fish and some large ones at the same line, a small bait or a large one: the small one is better on nearly all such
/// waters.
const SMALL_BAIT: &str = "session.length = \"1 h\"\nline.open.distance = \"20 m\"\n\
    shoal.pennies.species = \"carp-crucian-hybrid\"\nshoal.pennies.count = 50\n\
    shoal.pennies.weight = \"0.5 kg\"\nshoal.pennies.home = \"open\"\n\
    shoal.pounds.count = 16\nshoal.pounds.weight = \"4 kg\"\nshoal.pounds.home = \"open\"\n\
    hookbait.small.like = \"banded-pellet\"\nhookbait.small.size = \"6 mm\"\n\
    hookbait.large.like = \"banded-pellet\"\nhookbait.large.size = \"16 mm\"\n\
    plan.small.hookbait = \"small\"\nplan.large.hookbait = \"large\"\n";

/// Two lines alike, and nobody knows at which one the fish are: from nearly none to many at either.
const EITHER_LINE: &str = "session.length = \"1 h\"\n\
    line.bar.distance = \"20 m\"\nline.bar.bearing = \"-45 deg\"\n\
    line.reeds.distance = \"20 m\"\nline.reeds.bearing = \"45 deg\"\n\
    shoal.bar-fish.count = { low = 1, high = 110 }\nshoal.bar-fish.home = \"bar\"\n\
    shoal.bar-fish.weight = \"1.5 kg\"\n\
    shoal.reed-fish.count = { low = 1, high = 110 }\nshoal.reed-fish.home = \"reeds\"\n\
    shoal.reed-fish.weight = \"1.5 kg\"\n\
    plan.bar.line = \"bar\"\nplan.reeds.line = \"reeds\"\n";

/// As [`NEAR_OR_FAR`], but either line may turn out blank.
const BLANK_LINE: &str = "session.length = \"1 h\"\n\
    line.margin.distance = \"8 m\"\nline.margin.bearing = \"-50 deg\"\nline.open.distance = \"24 m\"\n\
    shoal.margin-fish.count = { low = 1, high = 50 }\nshoal.margin-fish.weight = \"2 kg\"\n\
    shoal.margin-fish.home = \"margin\"\n\
    shoal.open-fish.count = { low = 1, high = 100 }\nshoal.open-fish.weight = \"1 kg\"\n\
    shoal.open-fish.home = \"open\"\n\
    plan.margin.line = \"margin\"\nplan.margin.recast = \"6 min\"\n\
    plan.open.line = \"open\"\nplan.open.recast = \"3 min\"\n";

/// Three lines alike, each with few fish or many.
const THREE_LINES: &str = "session.length = \"1 h\"\n\
    line.left.distance = \"20 m\"\nline.left.bearing = \"-60 deg\"\n\
    line.middle.distance = \"20 m\"\n\
    line.right.distance = \"20 m\"\nline.right.bearing = \"60 deg\"\n\
    shoal.left-fish.count = { low = 1, high = 80 }\nshoal.left-fish.home = \"left\"\n\
    shoal.left-fish.weight = \"1.5 kg\"\n\
    shoal.middle-fish.count = { low = 1, high = 80 }\nshoal.middle-fish.home = \"middle\"\n\
    shoal.middle-fish.weight = \"1.5 kg\"\n\
    shoal.right-fish.count = { low = 1, high = 80 }\nshoal.right-fish.home = \"right\"\n\
    shoal.right-fish.weight = \"1.5 kg\"\n\
    plan.left.line = \"left\"\nplan.middle.line = \"middle\"\nplan.right.line = \"right\"\n";

/// One shoal that may be near either line, between them or beyond.
const ONE_SHOAL: &str = "session.length = \"1 h\"\n\
    line.bar.distance = \"20 m\"\nline.bar.bearing = \"-45 deg\"\n\
    line.reeds.distance = \"20 m\"\nline.reeds.bearing = \"45 deg\"\n\
    shoal.carp.count = { low = 30, high = 110 }\nshoal.carp.weight = \"1.5 kg\"\n\
    shoal.carp.home_across = \"0 m\"\nshoal.carp.home_out = \"14 m\"\n\
    shoal.carp.home_half_length = \"8 m\"\nshoal.carp.home_half_width = \"5 m\"\n\
    shoal.carp.home_shift = \"15 m\"\n\
    plan.bar.line = \"bar\"\nplan.reeds.line = \"reeds\"\n";

/// Waters on which nobody knows where the fish are, each with its name.
pub(super) const SOMEWHERE: [(&str, &str); 4] = [
    ("either line", EITHER_LINE),
    ("a blank line", BLANK_LINE),
    ("three lines", THREE_LINES),
    ("one shoal", ONE_SHOAL),
];

/// Waters for advice during a match: on the last one the plan is right.
pub(super) const ADVISED: [(&str, &str); 3] =
    [("two lines", TWO_LINES), ("recast", RECAST), ("small bait", SMALL_BAIT)];

/// The family, each with its name.
pub(super) const FAMILY: [(&str, &str); 3] =
    [("two lines", TWO_LINES), ("near or far", NEAR_OR_FAR), ("recast", RECAST)];

pub(super) fn scenario(name: &str, text: &str) -> Scenario {
    read(text, name, &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A practice session of both plans, half of the time each; `first` is fished first.
pub(super) fn half_and_half(scenario: &Scenario, first: usize) -> Plan {
    let half_s = 0.5 * scenario.session_s;
    let phase = |plan: usize, from_s: f64| Phase {
        from_s,
        until_s: from_s + half_s,
        ..scenario.plans[plan].phases[0].clone()
    };
    Plan {
        name: "practice".to_owned(),
        phases: vec![phase(first, 0.0), phase(1 - first, half_s)],
        bait_limit_kg: None,
        rules: Rules::default(),
    }
}
