//! The keys of the water: its extent, depths, features and weather, and the lines fished.

use super::key::KeyDefault::{Described, Required, Value};
use super::key::KeySpec;
use super::typed_key::{Key, Table, define_keys};
use crate::angler::HookSize;
use crate::params::DailyDistribution;
use crate::scenario::schema::choices::WindFrom;
use crate::scenario::schema::units::Dimension::{Angle, Length, Mass, Oxygen, Speed, Temperature};
use crate::water::Clarity;

/// Depths that were measured, by distance from the bank or at a place.
pub(crate) const SOUNDINGS: Table = Table::new("water.sounding");
/// Bars, shelves, margins and reed beds.
pub(crate) const FEATURES: Table = Table::new("water.feature");
/// Places to fish.
pub(crate) const LINES: Table = Table::new("line");

define_keys! {
    /// Extent along the bank, with the peg in the middle.
    WIDTH: f64 = Key::quantity("water.width", Length, Value(r#""60 m""#)).within(5.0, 1000.0);
    /// Extent away from the bank.
    LENGTH: f64 = Key::quantity("water.length", Length, Value(r#""45 m""#)).within(5.0, 1000.0);
    /// Depth everywhere, for a water without soundings by distance from the bank.
    DEPTH: f64 = Key::quantity("water.depth", Length, Value(r#""1.6 m""#)).within(0.1, 30.0);
    /// How far a depth counts that was measured at one place: half of what it differs from the depths along the bank is
    /// left at half this distance, nothing beyond it.
    SOUNDING_REACH: f64 =
        Key::quantity("water.sounding_reach", Length, Value(r#""12 m""#)).within(0.5, 200.0);
    /// Water temperature.
    TEMPERATURE: DailyDistribution =
        Key::quantity("water.temperature", Temperature, Value(r#"{ low = "15 C", high = "20 C" }"#))
            .within(0.5, 35.0).varies();
    /// Wind speed, as in the forecast.
    WIND: DailyDistribution =
        Key::quantity("water.wind", Speed, Value(r#"{ low = "0 km/h", high = "20 km/h" }"#))
            .within(0.0, 25.0).varies();
    /// Where the wind comes from when you face the water, the same every day. Use instead of `wind_to`.
    WIND_FROM: WindFrom = Key::choice("water.wind_from", Described("from `wind_to`"));
    /// Direction the wind blows to: 0 deg is to the right along the bank, 90 deg straight out.
    WIND_TO: DailyDistribution =
        Key::quantity("water.wind_to", Angle, Value(r#"{ low = "0 deg", high = "360 deg" }"#))
            .within(-360.0, 360.0).varies();
    /// Dissolved oxygen.
    OXYGEN: DailyDistribution =
        Key::quantity("water.oxygen", Oxygen, Value(r#"{ low = "7 mg/L", high = "9 mg/L" }"#))
            .within(0.0, 20.0).varies();
    /// Share of the sky that is cloud, 0 to 1. Only counts if the session has a date.
    CLOUD: DailyDistribution =
        Key::number("water.cloud", Value("{ low = 0.2, high = 0.9 }")).within(0.0, 1.0).varies();
    /// How clear the water is. Fish see bait from farther in clear water, and are more easily frightened there.
    CLARITY: Clarity = Key::choice("water.clarity", Value(r#""coloured""#));
    /// Distance from the bank at which this depth holds all along it; with `bearing`, distance from the peg of the one
    /// place where it was measured. Depths in between are interpolated.
    SOUNDING_DISTANCE: f64 =
        Key::quantity("water.sounding.*.distance", Length, Described("instead: `across` and `out`"))
            .within(0.0, 1000.0);
    /// Direction of the place where it was measured, seen from the peg: 0 deg is straight out, positive angles are to
    /// the right.
    SOUNDING_BEARING: f64 = Key::quantity(
        "water.sounding.*.bearing",
        Angle,
        Described("the depth holds all along the bank"),
    ).within(-90.0, 90.0);
    /// The place where it was measured, along the bank, to the right of the peg. Use together with `out`.
    SOUNDING_ACROSS: f64 =
        Key::quantity("water.sounding.*.across", Length, Described("instead: `distance`"))
            .within(-500.0, 500.0);
    /// The place where it was measured, away from the bank. Use together with `across`.
    SOUNDING_OUT: f64 =
        Key::quantity("water.sounding.*.out", Length, Described("instead: `distance`"))
            .within(0.0, 1000.0);
    /// Depth measured there.
    SOUNDING_DEPTH: f64 =
        Key::quantity("water.sounding.*.depth", Length, Required).within(0.1, 30.0);
    /// Centre of a bar, shelf, margin or reed bed along the bank, measured to the right of the peg.
    FEATURE_ACROSS: f64 =
        Key::quantity("water.feature.*.across", Length, Value(r#""0 m""#)).within(-500.0, 500.0);
    /// Distance of the feature's centre from the bank.
    FEATURE_OUT: f64 = Key::quantity("water.feature.*.out", Length, Required).within(0.0, 1000.0);
    /// Half the feature's length along the bank. It is an ellipse.
    FEATURE_HALF_LENGTH: f64 =
        Key::quantity("water.feature.*.half_length", Length, Required).within(0.1, 500.0);
    /// Half the feature's width away from the bank.
    FEATURE_HALF_WIDTH: f64 =
        Key::quantity("water.feature.*.half_width", Length, Required).within(0.1, 500.0);
    /// Depth over the feature.
    FEATURE_DEPTH: f64 =
        Key::quantity("water.feature.*.depth", Length, Described("the depth of the water there"))
            .within(0.1, 30.0);
    /// Whether a cast that lands in the feature can snag.
    FEATURE_COVER: bool = Key::flag("water.feature.*.cover", Value("false"));
    /// Distance of the line from the peg.
    LINE_DISTANCE: f64 = Key::quantity("line.*.distance", Length, Required).within(2.0, 150.0);
    /// Direction of the line: 0 deg is straight out, positive angles are to the right.
    LINE_BEARING: f64 =
        Key::quantity("line.*.bearing", Angle, Value(r#""0 deg""#)).within(-90.0, 90.0);
    /// Depth where the line is. It counts as a sounding measured there.
    LINE_DEPTH: f64 =
        Key::quantity("line.*.depth", Length, Described("from the soundings")).within(0.1, 30.0);
    /// Strength of the fishing line or hooklength on this line, for plans that state none.
    LINE_STRENGTH: f64 =
        Key::quantity("line.*.line_strength", Mass, Described("ordinary")).within(0.2, 30.0);
    /// The hook on this line, for plans that state none.
    LINE_HOOK: HookSize = Key::choice("line.*.hook", Described("ordinary"));
}
