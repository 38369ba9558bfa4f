//! The keys of the session: title, units, length, rules of the match and keepnets.

use super::key::KeyDefault::{Described, Value};
use super::key::{KeySpec, MAX_SESSION_S};
use super::typed_key::{Key, Table, define_keys};
use crate::scenario::schema::choices::{FoulHooked, SessionKind, Units};
use crate::scenario::schema::units::Dimension::{Mass, Time};

/// The keepnets.
pub(crate) const KEEPNET: Table = Table::new("keepnet");

define_keys! {
    TITLE: String = Key::text("title", Described("the name of the file"), "A title, on one line.");
    UNITS: Units = Key::choice("units", Value(r#""metric""#), "How weights and lengths are shown.");
    LENGTH: f64 =
        Key::quantity("session.length", Time, Value(r#""5 h""#), "How long the session lasts.")
            .within(60.0, MAX_SESSION_S);
    KIND: SessionKind = Key::choice(
        "session.kind",
        Value(r#""match""#),
        "Fish are kept until the end (match) or go back at once (pleasure).",
    );
    FOUL_HOOKED: FoulHooked = Key::choice(
        "session.foul_hooked",
        Value(r#""counts""#),
        "Whether a fish hooked outside the mouth counts (counts) or goes back at once (goes-back). Common practice, no \
         source: check the rules of your water.",
    );
    NET_LIMIT: f64 = Key::quantity(
        "keepnet.limit",
        Mass,
        Value(r#""50 lb""#),
        "Most weight allowed in one net. Without a `keepnet` table there is no limit.",
    )
    .within(1.0, 500.0);
    NETS: f64 = Key::whole("keepnet.nets", Value("2"), "Number of nets you have.").within(1.0, 50.0);
}
