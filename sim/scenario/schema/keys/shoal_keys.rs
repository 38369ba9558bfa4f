//! The keys of shoals: how many fish, how heavy, where they live, when they move and how they behave.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, MAX_SESSION_S, Referent};
use super::typed_key::{Key, Table, define_keys};
use crate::fish::{Species, Trait};
use crate::params::DailyDistribution;
use crate::scenario::schema::units::Dimension::{Length, Mass, Stock, TemperatureDifference, Time};

/// Largest number of fish in one shoal.
pub(crate) const MAX_IN_SHOAL: f64 = 2000.0;

/// Shoals.
pub(crate) const SHOALS: Table = Table::new("shoal");

/// Moves of one shoal.
pub(crate) const MOVES: Table = Table::new("shoal.*.move");

const FROM_BOOK: super::key::KeyDefault = Described("from the fish parameters");

const fn tendency(pattern: &'static str) -> Key<DailyDistribution> {
    Key::number(pattern, FROM_BOOK).within(0.0, 1.0).varies()
}

define_keys! {
    /// Its species: how long a fish of a weight is, how wide its mouth opens, and how cold the water is in which it
    /// feeds.
    SPECIES: Species = Key::choice("shoal.*.species", Value(r#""common-carp""#));
    /// Diameter of its fish's open mouth over their length. Items too large for the mouth are not taken.
    GAPE: f64 = Key::number("shoal.*.gape", Described("from the species")).within(0.02, 0.2);
    /// How much colder than for common carp the water is in which its fish still feed.
    COLD_SHIFT: f64 =
        Key::quantity("shoal.*.cold_shift", TemperatureDifference, Described("from the species"))
            .within(-10.0, 10.0);
    /// Number of fish within reach of the peg. It can be written as `stock` instead.
    COUNT: DailyDistribution =
        Key::whole("shoal.*.count", Value("{ low = 50, high = 70 }"))
            .within(0.0, MAX_IN_SHOAL).varies();
    /// Mass of fish over the area of its home range that is water. Use instead of `count`; the number of fish follows
    /// from their mean weight.
    STOCK: DailyDistribution =
        Key::quantity("shoal.*.stock", Stock, Described("from `count`")).within(0.0, 2.0).varies();
    /// Share of that stock that this shoal is, where several shoals share a water.
    STOCK_SHARE: f64 = Key::number("shoal.*.stock_share", Value("1.0")).within(0.0, 1.0);
    /// Mean weight of its fish.
    WEIGHT: DailyDistribution =
        Key::quantity("shoal.*.weight", Mass, Value(r#""1.5 kg""#)).within(0.02, 40.0).varies();
    /// How much the weights of its fish differ: standard deviation over mean.
    WEIGHT_CV: f64 = Key::number("shoal.*.weight_cv", Value("0.35")).within(0.0, 1.5);
    /// The line or feature at the centre of its home range; the line if both have the name. A line counts where the
    /// file has it, so that `--set` and `--vary` of a line move no fish.
    HOME: String =
        Key::name_of("shoal.*.home", Referent::LineOrFeature, Described("the middle of the water"));
    /// Centre of its home range along the bank, measured to the right of the peg. Use instead of `home`.
    HOME_ACROSS: f64 =
        Key::quantity("shoal.*.home_across", Length, Described("0 m if only `home_out` is given"))
            .within(-500.0, 500.0);
    /// Distance of the centre of its home range from the bank. Use instead of `home`.
    HOME_OUT: f64 = Key::quantity(
        "shoal.*.home_out",
        Length,
        Described("half the water's length if only `home_across` is given"),
    ).within(0.0, 1000.0);
    /// Half the extent of its home range along the bank.
    HOME_HALF_LENGTH: f64 = Key::quantity(
        "shoal.*.home_half_length",
        Length,
        Described("8 m at a line, the feature's own at a feature, otherwise half the water's width"),
    ).within(0.1, 500.0);
    /// Half the extent of its home range away from the bank.
    HOME_HALF_WIDTH: f64 = Key::quantity(
        "shoal.*.home_half_width",
        Length,
        Described("5 m at a line, the feature's own at a feature, otherwise half the water's length"),
    ).within(0.1, 500.0);
    /// How far the home range moves from day to day (standard deviation).
    HOME_SHIFT: f64 =
        Key::quantity("shoal.*.home_shift", Length, Value(r#""3 m""#)).within(0.0, 200.0);
    /// Clock time at which its home range moves, such as 18:30. Needs `session.start` or `session.date`.
    MOVE_AT: String = Key::text("shoal.*.move.*.at", Described("instead: `after`"));
    /// Time since the start of the session at which its home range moves.
    MOVE_AFTER: f64 =
        Key::quantity("shoal.*.move.*.after", Time, Described("instead: `at`"))
            .within(1.0, MAX_SESSION_S);
    /// The line or feature at which its home range lies from then on; its size stays.
    MOVE_TO: String = Key::name_of(
        "shoal.*.move.*.to",
        Referent::LineOrFeature,
        Described("instead: `to_across` and `to_out`"),
    );
    /// Centre of its home range from then on, along the bank, to the right of the peg. Use instead of `to`.
    MOVE_TO_ACROSS: f64 = Key::quantity(
        "shoal.*.move.*.to_across",
        Length,
        Described("0 m if only `to_out` is given"),
    ).within(-500.0, 500.0);
    /// Distance of the centre of its home range from the bank from then on. Use instead of `to`.
    MOVE_TO_OUT: f64 = Key::quantity(
        "shoal.*.move.*.to_out",
        Length,
        Described("half the water's length if only `to_across` is given"),
    ).within(0.0, 1000.0);
    /// Share of hungry fish within hearing that come to a feeder's splash.
    COMES_TO_SPLASH: DailyDistribution = tendency("shoal.*.comes_to_splash");
    /// Share of nearby fish that a feeder's splash startles.
    STARTLES_AT_SPLASH: DailyDistribution = tendency("shoal.*.startles_at_splash");
    /// Share of hungry fish within hearing that come to loose feed.
    COMES_TO_PATTER: DailyDistribution = tendency("shoal.*.comes_to_patter");
    /// Share of nearby fish that loose feed startles.
    STARTLES_AT_PATTER: DailyDistribution = tendency("shoal.*.startles_at_patter");
    /// Share of nearby fish that flee when one is hooked.
    STARTLES_AT_FIGHT: DailyDistribution = tendency("shoal.*.startles_at_fight");
    /// Readiness to come up for falling feed.
    RISES: DailyDistribution = tendency("shoal.*.rises");
    /// How readily its fish take a hookbait, compared with ordinary fish.
    BOLDNESS: DailyDistribution =
        Key::number("shoal.*.boldness", Value("1.0")).within(0.0, 10.0).varies();
}

/// The key of a trait.
pub(crate) const fn of_trait(of: Trait) -> Key<DailyDistribution> {
    match of {
        Trait::ComesToSplash => COMES_TO_SPLASH,
        Trait::StartlesAtSplash => STARTLES_AT_SPLASH,
        Trait::ComesToPatter => COMES_TO_PATTER,
        Trait::StartlesAtPatter => STARTLES_AT_PATTER,
        Trait::StartlesAtFight => STARTLES_AT_FIGHT,
        Trait::Rises => RISES,
        Trait::Boldness => BOLDNESS,
    }
}
