//! The table of every key of the format; reading, `--set`, the schema and the reference all follow it.

use std::sync::LazyLock;

use super::key::{Key, Kind, LeftOut, MAX_SESSION_S, Thing};
use super::plan_keys::plans;
use super::rule_keys::rules;
use super::units::Dimension::{
    Angle, Attractant, Density, Length, Mass, Oxygen, Speed, Temperature, Time,
};
use crate::scenario::ready::Books;

use Kind::{Choice, Flag, NameOf, Number, Quantity, Text, TimeOr, Whole};
use LeftOut::{Is, Required, Rule};

/// Most fish in one shoal.
pub(crate) const MOST_IN_SHOAL: f64 = 2000.0;

/// Every key, in the order of the reference.
pub(crate) fn keys() -> &'static [Key] {
    static KEYS: LazyLock<Vec<Key>> = LazyLock::new(|| {
        let mut keys = general();
        keys.extend(aims());
        keys.extend(water());
        keys.extend(baits());
        keys.extend(shoals());
        keys.extend(plans());
        keys.extend(rules());
        keys.extend(book_rows());
        keys
    });
    &KEYS
}

/// The key of a dotted name.
pub(crate) fn key_of(dotted: &str) -> Option<&'static Key> {
    keys().iter().find(|key| key.fits(dotted))
}

fn general() -> Vec<Key> {
    vec![
        Key::new("title", Text, Rule("the name of the file"), "One line for people."),
        Key::new(
            "units",
            Choice(&["metric", "imperial"]),
            Is(r#""metric""#),
            "How weights and lengths are shown.",
        ),
        Key::new("session.length", Quantity(Time), Is(r#""5 h""#), "How long the session lasts.")
            .within(60.0, MAX_SESSION_S),
        Key::new(
            "session.kind",
            Choice(&["match", "pleasure"]),
            Is(r#""match""#),
            "Fish are kept until the end (match) or go back at once (pleasure).",
        ),
        Key::new(
            "session.foul_hooked",
            Choice(&["counts", "goes-back"]),
            Is(r#""counts""#),
            "Whether a fish hooked outside the mouth counts (counts) or goes back at once (goes-back). Common practice, no \
             source: ask the rules of the water.",
        ),
        Key::new(
            "keepnet.limit",
            Quantity(Mass),
            Is(r#""50 lb""#),
            "Most weight that one net may hold; without a `keepnet` table there is no limit.",
        )
        .within(1.0, 500.0),
        Key::new("keepnet.nets", Whole, Is("2"), "Nets at hand.").within(1.0, 50.0),
    ]
}

/// What the day is for, beside weight.
fn aims() -> Vec<Key> {
    vec![
        Key::new(
            "aim.margin",
            Quantity(Mass),
            Rule("2 % of the heaviest plan's mean"),
            "Plans nearer than this in mean weight count as level; a comparison stops once that is sure.",
        )
        .within(0.01, 100.0),
        Key::new(
            "aim.target",
            Quantity(Mass),
            Rule("no target"),
            "A weight to pass: the chance of it is told for every plan.",
        )
        .within(0.01, 1000.0),
        Key::new(
            "aim.worst_days",
            Number,
            Rule("one day in ten, 0.1"),
            "Share of days that count as the worst; their mean weight is told for every plan.",
        )
        .within(0.01, 0.5),
        Key::new("section.rivals", Whole, Is("9"), "Rivals in your section; a section of ten has nine.")
            .within(1.0, 200.0),
        Key::new("section.places", Whole, Is("3"), "Places of the section that frame, the first included.")
            .within(1.0, 200.0),
        Key::new(
            "section.weight",
            Quantity(Mass),
            Rule("as `section.weigh_ins` says"),
            "What one rival weighs in on a day.",
        )
        .within(0.0, 1000.0)
        .spreads(),
        Key::new(
            "section.weigh_ins",
            Text,
            Rule("as `section.weight` says"),
            "Past weigh-ins of rivals instead: a CSV file beside the scenario, with a column `weight`.",
        ),
        Key::new(
            "section.shared",
            Number,
            Is("0.5"),
            "How far a rival's weight goes up and down with how the day fishes for you: 0 not at all, 1 always \
             (rank correlation over days).",
        )
        .within(0.0, 0.95),
    ]
}

fn water() -> Vec<Key> {
    let side = |pattern, default, says| {
        Key::new(pattern, Quantity(Length), Is(default), says).within(5.0, 1000.0)
    };
    let depth = |pattern, default, says| {
        Key::new(pattern, Quantity(Length), default, says).within(0.1, 30.0)
    };
    let half =
        |pattern, says| Key::new(pattern, Quantity(Length), Required, says).within(0.1, 500.0);
    vec![
        side("water.width", r#""60 m""#, "Extent along the bank, the peg in its middle."),
        side("water.length", r#""45 m""#, "Extent away from the bank."),
        depth(
            "water.depth",
            Is(r#""1.6 m""#),
            "Depth everywhere, for a water without soundings.",
        ),
        Key::new(
            "water.temperature",
            Quantity(Temperature),
            Is(r#"{ low = "15 C", high = "20 C" }"#),
            "Temperature of the water.",
        )
        .within(0.5, 35.0)
        .spreads(),
        Key::new(
            "water.wind",
            Quantity(Speed),
            Is(r#"{ low = "0 km/h", high = "20 km/h" }"#),
            "Wind of the forecast.",
        )
        .within(0.0, 25.0)
        .spreads(),
        Key::new(
            "water.wind_to",
            Quantity(Angle),
            Is(r#"{ low = "0 deg", high = "360 deg" }"#),
            "Where the wind blows to: 0 deg to the right along the bank, 90 deg straight out.",
        )
        .within(-360.0, 360.0)
        .spreads(),
        Key::new(
            "water.oxygen",
            Quantity(Oxygen),
            Is(r#"{ low = "7 mg/L", high = "9 mg/L" }"#),
            "Dissolved oxygen.",
        )
        .within(0.0, 20.0)
        .spreads(),
        Key::new(
            "water.sounding.*.distance",
            Quantity(Length),
            Required,
            "Distance from the peg at which the depth was found; between soundings it is interpolated.",
        )
        .within(0.0, 1000.0),
        depth("water.sounding.*.depth", Required, "Depth found there."),
        Key::new(
            "water.feature.*.across",
            Quantity(Length),
            Is(r#""0 m""#),
            "Centre of a bar, shelf, margin or reed bed along the bank, to the right of the peg.",
        )
        .within(-500.0, 500.0),
        Key::new(
            "water.feature.*.out",
            Quantity(Length),
            Required,
            "Centre of the feature away from the bank.",
        )
        .within(0.0, 1000.0),
        half("water.feature.*.half_length", "Half its length along the bank; it is an ellipse."),
        half("water.feature.*.half_width", "Half its width away from the bank."),
        depth(
            "water.feature.*.depth",
            Rule("as the soundings say"),
            "Depth over the feature.",
        ),
        Key::new(
            "water.feature.*.cover",
            Flag,
            Is("false"),
            "Whether a cast that lands in it can snag.",
        ),
        Key::new(
            "line.*.distance",
            Quantity(Length),
            Required,
            "Distance of the line from the peg.",
        )
        .within(2.0, 150.0),
        Key::new(
            "line.*.bearing",
            Quantity(Angle),
            Is(r#""0 deg""#),
            "Direction of the line: 0 deg straight out, positive to the right.",
        )
        .within(-90.0, 90.0),
    ]
}

fn baits() -> Vec<Key> {
    let share = |pattern, default, says| Key::new(pattern, Number, default, says).within(0.0, 1.0);
    vec![
        Key::new(
            "bait.*.like",
            NameOf(Thing::Bait),
            Rule("stands on its own"),
            "A bait to start from; only what differs need be written.",
        ),
        Key::new(
            "bait.*.mouthful",
            Quantity(Mass),
            Is(r#""0.4 g""#),
            "What a fish takes at a time.",
        )
        .within(1e-5, 0.1),
        Key::new(
            "bait.*.attractant",
            Quantity(Attractant),
            Is(r#""90 mmol/kg""#),
            "Dissolvable attractant per mass of bait.",
        )
        .within(0.0, 5.0),
        Key::new(
            "bait.*.opens_after",
            Quantity(Time),
            Is(r#""40 s""#),
            "Typical time from landing until a load of it starts to open.",
        )
        .within(1.0, 7200.0),
        Key::new(
            "bait.*.class.*.diameter",
            Quantity(Length),
            Required,
            "Diameter of the particles of this class.",
        )
        .within(1e-6, 0.05),
        Key::new(
            "bait.*.class.*.density",
            Quantity(Density),
            Is(r#""1150 kg/m3""#),
            "Density of the soaked particle; water has about 1000 kg/m3.",
        )
        .within(500.0, 3000.0),
        share(
            "bait.*.class.*.share",
            Required,
            "Share of the bait's mass; the shares of a bait add up to 1, and 0 takes a class out.",
        ),
        share(
            "bait.*.class.*.edible",
            Is("1.0"),
            "Share of the class that is food; the rest only looks and smells.",
        ),
        Key::new(
            "bait.*.class.*.shape",
            Choice(&["sphere", "grain"]),
            Is(r#""grain""#),
            "Smooth and rounded, or rough and irregular.",
        ),
        Key::new(
            "hookbait.*.like",
            NameOf(Thing::Hookbait),
            Rule("stands on its own"),
            "A hookbait to start from; only what differs need be written.",
        ),
        Key::new(
            "hookbait.*.lasts",
            TimeOr("all session"),
            Is(r#""10 min""#),
            "Mean time until it is robbed, knocked off or buried.",
        )
        .within(5.0, MAX_SESSION_S),
        share("hookbait.*.displaced", Is("0.2"), "Chance that a fish's refusal displaces it."),
        Key::new(
            "hookbait.*.tempting",
            Number,
            Is("1.0"),
            "How tempting it is beside an ordinary one.",
        )
        .within(0.0, 10.0),
    ]
}

fn shoals() -> Vec<Key> {
    const BOOK: LeftOut = Rule("the book of fish");
    let half = |pattern, default, says| {
        Key::new(pattern, Quantity(Length), Rule(default), says).within(0.1, 500.0)
    };
    let tendency = |name: &str, says| {
        Key::new(&format!("shoal.*.{name}"), Number, BOOK, says).within(0.0, 1.0).spreads()
    };
    vec![
        Key::new(
            "shoal.*.count",
            Whole,
            Is("{ low = 50, high = 70 }"),
            "Fish in reach of the peg.",
        )
        .within(0.0, MOST_IN_SHOAL)
        .spreads(),
        Key::new("shoal.*.weight", Quantity(Mass), Is(r#""1.5 kg""#), "Mean mass of its fish.")
            .within(0.02, 40.0)
            .spreads(),
        Key::new(
            "shoal.*.weight_cv",
            Number,
            Is("0.35"),
            "Spread of mass between its fish: standard deviation over mean.",
        )
        .within(0.0, 1.5),
        Key::new(
            "shoal.*.home",
            NameOf(Thing::Line),
            Rule("the middle of the water"),
            "A line at which its home range is centred.",
        ),
        Key::new(
            "shoal.*.home_across",
            Quantity(Length),
            Rule("0 m where only `home_out` is given"),
            "Centre of its home range along the bank, to the right of the peg, instead of `home`.",
        )
        .within(-500.0, 500.0),
        Key::new(
            "shoal.*.home_out",
            Quantity(Length),
            Rule("half the water's length where only `home_across` is given"),
            "Centre of its home range away from the bank, instead of `home`.",
        )
        .within(0.0, 1000.0),
        half(
            "shoal.*.home_half_length",
            "8 m with `home`, else half the water's width",
            "Half the extent of its home range along the bank.",
        ),
        half(
            "shoal.*.home_half_width",
            "5 m with `home`, else half the water's length",
            "Half the extent of its home range away from the bank.",
        ),
        Key::new(
            "shoal.*.home_shift",
            Quantity(Length),
            Is(r#""3 m""#),
            "How far the home range lies from there on a given day (standard deviation).",
        )
        .within(0.0, 200.0),
        tendency(
            "comes_to_splash",
            "Share of hungry fish within hearing that come to a feeder's splash.",
        ),
        tendency("startles_at_splash", "Share of fish close by that a feeder's splash startles."),
        tendency("comes_to_patter", "Share of hungry fish within hearing that come to loose feed."),
        tendency("startles_at_patter", "Share of fish close by that loose feed startles."),
        tendency("startles_at_fight", "Share of fish close by that flee when one is hooked."),
        tendency("rises", "Readiness to come up for falling feed."),
        Key::new(
            "shoal.*.boldness",
            Number,
            Is("1.0"),
            "How readily its fish take a hookbait beside ordinary ones.",
        )
        .within(0.0, 10.0)
        .spreads(),
    ]
}

/// A key for every row of every book.
fn book_rows() -> Vec<Key> {
    let books = Books::default();
    let mut keys = Vec::new();
    for book in books.all() {
        for row in book.rows() {
            let unit = if row.unit.is_empty() { String::new() } else { format!(" [{}]", row.unit) };
            let pattern = format!("book.{}.{}", book.name, row.key);
            let default = Rule("drawn day by day as the book says");
            let says = format!("{}{unit}", row.says);
            keys.push(
                Key::new(&pattern, Number, default, &says).within(row.range[0], row.range[1]),
            );
        }
    }
    keys
}
