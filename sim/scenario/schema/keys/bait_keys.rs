//! The keys of baits, their particle classes, and hookbaits.

use super::key::KeyDefault::{Described, RequiredOrInherited, Value};
use super::key::{KeySpec, MAX_SESSION_S, Referent};
use super::typed_key::{Key, Table, define_keys};
use crate::bait::ParticleShape;
use crate::params::DailyDistribution;
use crate::scenario::schema::choices::Smell;
use crate::scenario::schema::units::Dimension::{Attractant, Density, Length, Mass, Time};

/// Baits.
pub(crate) const BAITS: Table = Table::new("bait");
/// Particle classes of one bait.
pub(crate) const CLASSES: Table = Table::new("bait.*.class");
/// Hookbaits.
pub(crate) const HOOKBAITS: Table = Table::new("hookbait");

define_keys! {
    /// A bait to start from; write only what differs.
    BAIT_LIKE: String = Key::name_of("bait.*.like", Referent::Bait, Described("no other bait"));
    /// Amount that a fish takes at a time.
    MOUTHFUL: DailyDistribution =
        Key::quantity("bait.*.mouthful", Mass, Value(r#""0.4 g""#)).within(1e-5, 0.1).varies();
    /// Soluble attractant per mass of bait.
    ATTRACTANT: DailyDistribution =
        Key::quantity("bait.*.attractant", Attractant, Value(r#""90 mmol/kg""#))
            .within(0.0, 5.0).varies();
    /// How strongly it smells, in words: about 20, 60 or 150 mmol/kg, each with a cv of 0.5. Use instead of
    /// `attractant`.
    SMELL: Smell = Key::choice("bait.*.smell", Described("from `attractant`"));
    /// Typical time from landing until a load of it starts to open.
    OPENS_AFTER: DailyDistribution =
        Key::quantity("bait.*.opens_after", Time, Value(r#""40 s""#)).within(1.0, 7200.0).varies();
    /// Diameter of the particles of this class.
    CLASS_DIAMETER: f64 =
        Key::quantity("bait.*.class.*.diameter", Length, RequiredOrInherited).within(1e-6, 0.05);
    /// Density of the soaked particle; water has about 1000 kg/m3.
    CLASS_DENSITY: f64 =
        Key::quantity("bait.*.class.*.density", Density, Value(r#""1150 kg/m3""#))
            .within(500.0, 3000.0);
    /// Share of the bait's mass. The shares of a bait add up to 1; a share of 0 removes the class.
    CLASS_SHARE: f64 = Key::number("bait.*.class.*.share", RequiredOrInherited).within(0.0, 1.0);
    /// Share of the class that is food; the rest only attracts by sight and smell.
    CLASS_EDIBLE: DailyDistribution =
        Key::number("bait.*.class.*.edible", Value("1.0")).within(0.0, 1.0).varies();
    /// Smooth and rounded (sphere), or rough and irregular (grain).
    CLASS_SHAPE: ParticleShape = Key::choice("bait.*.class.*.shape", Value(r#""grain""#));
    /// A hookbait to start from; write only what differs.
    HOOKBAIT_LIKE: String =
        Key::name_of("hookbait.*.like", Referent::Hookbait, Described("no other hookbait"));
    /// Mean time until it is stolen, knocked off or buried.
    LASTS: f64 =
        Key::time_or("hookbait.*.lasts", "all session", Value(r#""10 min""#))
            .within(5.0, MAX_SESSION_S);
    /// Chance that a fish that refuses it displaces it.
    DISPLACED: DailyDistribution =
        Key::number("hookbait.*.displaced", Value("0.2")).within(0.0, 1.0).varies();
    /// How tempting it is compared with an ordinary hookbait.
    TEMPTING: DailyDistribution =
        Key::number("hookbait.*.tempting", Value("1.0")).within(0.0, 10.0).varies();
    /// Its diameter. A fish whose mouth is small for it takes it less readily.
    HOOKBAIT_SIZE: f64 =
        Key::quantity("hookbait.*.size", Length, Value(r#""8 mm""#)).within(0.001, 0.05);
}
