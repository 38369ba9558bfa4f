//! The keys of shoals: how many fish, how heavy, where they live and how they behave.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, Referent};
use super::typed_key::{Key, Table, define_keys};
use crate::fish::Trait;
use crate::params::DailyDistribution;
use crate::scenario::schema::units::Dimension::{Length, Mass};

/// Largest number of fish in one shoal.
pub(crate) const MAX_IN_SHOAL: f64 = 2000.0;

/// Shoals.
pub(crate) const SHOALS: Table = Table::new("shoal");

const FROM_BOOK: super::key::KeyDefault = Described("from the fish parameters");

const fn tendency(pattern: &'static str, description: &'static str) -> Key<DailyDistribution> {
    Key::number(pattern, FROM_BOOK, description).within(0.0, 1.0).varies()
}

define_keys! {
    COUNT: DailyDistribution = Key::whole(
        "shoal.*.count",
        Value("{ low = 50, high = 70 }"),
        "Number of fish within reach of the peg.",
    )
    .within(0.0, MAX_IN_SHOAL)
    .varies();
    WEIGHT: DailyDistribution =
        Key::quantity("shoal.*.weight", Mass, Value(r#""1.5 kg""#), "Mean weight of its fish.")
            .within(0.02, 40.0)
            .varies();
    WEIGHT_CV: f64 = Key::number(
        "shoal.*.weight_cv",
        Value("0.35"),
        "How much the weights of its fish differ: standard deviation over mean.",
    )
    .within(0.0, 1.5);
    HOME: String = Key::name_of(
        "shoal.*.home",
        Referent::Line,
        Described("the middle of the water"),
        "The line at the centre of its home range.",
    );
    HOME_ACROSS: f64 = Key::quantity(
        "shoal.*.home_across",
        Length,
        Described("0 m if only `home_out` is given"),
        "Centre of its home range along the bank, measured to the right of the peg. Use instead of `home`.",
    )
    .within(-500.0, 500.0);
    HOME_OUT: f64 = Key::quantity(
        "shoal.*.home_out",
        Length,
        Described("half the water's length if only `home_across` is given"),
        "Distance of the centre of its home range from the bank. Use instead of `home`.",
    )
    .within(0.0, 1000.0);
    HOME_HALF_LENGTH: f64 = Key::quantity(
        "shoal.*.home_half_length",
        Length,
        Described("8 m with `home`, otherwise half the water's width"),
        "Half the extent of its home range along the bank.",
    )
    .within(0.1, 500.0);
    HOME_HALF_WIDTH: f64 = Key::quantity(
        "shoal.*.home_half_width",
        Length,
        Described("5 m with `home`, otherwise half the water's length"),
        "Half the extent of its home range away from the bank.",
    )
    .within(0.1, 500.0);
    HOME_SHIFT: f64 = Key::quantity(
        "shoal.*.home_shift",
        Length,
        Value(r#""3 m""#),
        "How far the home range moves from day to day (standard deviation).",
    )
    .within(0.0, 200.0);
    COMES_TO_SPLASH: DailyDistribution = tendency(
        "shoal.*.comes_to_splash",
        "Share of hungry fish within hearing that come to a feeder's splash.",
    );
    STARTLES_AT_SPLASH: DailyDistribution = tendency(
        "shoal.*.startles_at_splash",
        "Share of nearby fish that a feeder's splash startles.",
    );
    COMES_TO_PATTER: DailyDistribution = tendency(
        "shoal.*.comes_to_patter",
        "Share of hungry fish within hearing that come to loose feed.",
    );
    STARTLES_AT_PATTER: DailyDistribution = tendency(
        "shoal.*.startles_at_patter",
        "Share of nearby fish that loose feed startles.",
    );
    STARTLES_AT_FIGHT: DailyDistribution = tendency(
        "shoal.*.startles_at_fight",
        "Share of nearby fish that flee when one is hooked.",
    );
    RISES: DailyDistribution = tendency("shoal.*.rises", "Readiness to come up for falling feed.");
    BOLDNESS: DailyDistribution = Key::number(
        "shoal.*.boldness",
        Value("1.0"),
        "How readily its fish take a hookbait, compared with ordinary fish.",
    )
    .within(0.0, 10.0)
    .varies();
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
