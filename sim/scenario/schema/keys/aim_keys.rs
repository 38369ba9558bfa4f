//! The keys of the aims: margin, target, worst days, and the section with its rivals.

use super::key::KeyDefault::{Described, Value};
use super::key::KeySpec;
use super::typed_key::{Key, Table, define_keys};
use crate::params::DailyDistribution;
use crate::scenario::schema::units::Dimension::Mass;

/// The section.
pub(crate) const SECTION: Table = Table::new("section");

define_keys! {
    /// Plans whose mean weights differ by less than this count as level. A comparison stops once that is certain.
    MARGIN: f64 =
        Key::quantity("aim.margin", Mass, Described("2 % of the heaviest plan's mean"))
            .within(0.01, 100.0);
    /// A weight to reach. The chance of reaching it is shown for every plan.
    TARGET: f64 = Key::quantity("aim.target", Mass, Described("no target")).within(0.01, 1000.0);
    /// Share of days that count as the worst. The mean weight on these days is shown for every plan.
    WORST_DAYS: f64 =
        Key::number("aim.worst_days", Described("one day in ten, 0.1")).within(0.01, 0.5);
    /// Number of rivals in your section. A section of ten has nine.
    RIVALS: f64 = Key::whole("section.rivals", Value("9")).within(1.0, 200.0);
    /// Number of places in the section that frame, the first included.
    PLACES: f64 = Key::whole("section.places", Value("3")).within(1.0, 200.0);
    /// Weight that one rival weighs in on a day.
    RIVAL_WEIGHT: DailyDistribution =
        Key::quantity("section.weight", Mass, Described("from `section.weigh_ins`"))
            .within(0.0, 1000.0).varies();
    /// Past weigh-ins of rivals: the name of a CSV file in the folder of the scenario, with a column `weight`.
    WEIGH_INS: String = Key::text("section.weigh_ins", Described("from `section.weight`"));
    /// How closely a rival's weight follows the quality of your day: 0 not at all, 1 completely (rank correlation over
    /// days).
    SHARED: f64 = Key::number("section.shared", Value("0.5")).within(0.0, 0.95);
}
