//! The keys of the session: title, units, length, rules of the match and keepnets.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, MAX_SESSION_S};
use super::typed_key::{Key, Table, define_keys};
use crate::scenario::schema::choices::{FoulHooked, SessionKind, Units};
use crate::scenario::schema::units::Dimension::{Mass, Time};

/// The keepnets.
pub(crate) const KEEPNET: Table = Table::new("keepnet");

define_keys! {
    /// A title, on one line.
    TITLE: String = Key::text("title", Described("the name of the file"));
    /// How weights and lengths are shown.
    UNITS: Units = Key::choice("units", Value(r#""metric""#));
    /// How long the session lasts.
    LENGTH: f64 =
        Key::quantity("session.length", Time, Value(r#""5 h""#)).within(60.0, MAX_SESSION_S);
    /// Date of the session as year, month and day, such as 2026-07-04. With it, light and temperature follow the hour of that day; `water.temperature` stays the mean that you give it, whatever the season.
    DATE: String =
        Key::text("session.date", Described("no date: full daylight and one temperature all day"));
    /// Clock time at which the session starts.
    START: String = Key::text("session.start", Value(r#""10:00""#));
    /// Latitude of the water in degrees, north positive.
    LATITUDE: f64 = Key::number("session.latitude", Value("52.0")).within(-66.0, 66.0);
    /// How far clocks at the water are ahead of the sun at its longitude (British summer time: 1 h).
    UTC_OFFSET: f64 =
        Key::quantity("session.utc_offset", Time, Value(r#""1 h""#)).within(-43_200.0, 50_400.0);
    /// Fish are kept until the end (match) or go back at once (pleasure).
    KIND: SessionKind = Key::choice("session.kind", Value(r#""match""#));
    /// Whether a fish hooked outside the mouth counts (counts) or goes back at once (goes-back). Common practice, no
    /// source: check the rules of your water.
    FOUL_HOOKED: FoulHooked = Key::choice("session.foul_hooked", Value(r#""counts""#));
    /// Most weight allowed in one net. Without a `keepnet` table there is no limit.
    NET_LIMIT: f64 = Key::quantity("keepnet.limit", Mass, Value(r#""50 lb""#)).within(1.0, 500.0);
    /// Number of nets you have.
    NETS: f64 = Key::whole("keepnet.nets", Value("2")).within(1.0, 50.0);
}
