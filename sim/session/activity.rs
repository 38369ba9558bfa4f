//! What the angler's time is spent on.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::{Index, IndexMut};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::{Map, Value, json};

/// What the angler's time is spent on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Activity {
    /// Winding in, casting, waiting for the rig to sink.
    Casting,
    /// Waiting for a bite, hands free.
    Waiting,
    /// Playing a fish.
    Playing,
    /// Unhooking, loading, baiting.
    Rebaiting,
    /// Loose feeding.
    Feeding,
    /// Snags, changing line, nothing to do.
    Other,
}

impl Activity {
    /// Every activity, in the order of files.
    pub const ALL: [Self; 6] =
        [Self::Casting, Self::Waiting, Self::Playing, Self::Rebaiting, Self::Feeding, Self::Other];

    /// What it is, for readers of files.
    fn meaning(self) -> &'static str {
        match self {
            Self::Casting => "Winding in, casting, waiting for the rig to sink.",
            Self::Waiting => "Waiting for a bite, hands free.",
            Self::Playing => "Playing a fish.",
            Self::Rebaiting => "Unhooking, loading, baiting.",
            Self::Feeding => "Loose feeding.",
            Self::Other => "Snags, changing line, nothing to do.",
        }
    }

    /// Its name in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Casting => "casting",
            Self::Waiting => "waiting",
            Self::Playing => "playing",
            Self::Rebaiting => "rebaiting",
            Self::Feeding => "feeding",
            Self::Other => "other",
        }
    }
}

/// Time by activity: seconds of one session, or shares of many.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TimeUse([f64; Activity::ALL.len()]);

impl TimeUse {
    /// The time of each activity, as a function says.
    pub fn from_fn(time: impl FnMut(Activity) -> f64) -> Self {
        Self(Activity::ALL.map(time))
    }

    /// Total over all activities.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.0.iter().sum()
    }
}

impl Index<Activity> for TimeUse {
    type Output = f64;

    fn index(&self, activity: Activity) -> &f64 {
        &self.0[activity as usize]
    }
}

impl IndexMut<Activity> for TimeUse {
    fn index_mut(&mut self, activity: Activity) -> &mut f64 {
        &mut self.0[activity as usize]
    }
}

impl Serialize for TimeUse {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(Activity::ALL.map(|activity| (activity.name(), self[activity])))
    }
}

impl JsonSchema for TimeUse {
    fn schema_name() -> Cow<'static, str> {
        "TimeUse".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let field = |activity: Activity| {
            let schema = json!({ "type": "number", "description": activity.meaning() });
            (activity.name().to_owned(), schema)
        };
        json_schema!({
            "type": "object",
            "properties": Activity::ALL.map(field).into_iter().collect::<Map<String, Value>>(),
            "required": Activity::ALL.map(Activity::name),
        })
    }
}

// In the stored outcome of a session the names of times end in `_s`.

fn name_s(activity: Activity) -> String {
    format!("{}_s", activity.name())
}

/// Writes the times of a stored outcome [s].
pub(super) fn write_times_s<S: Serializer>(
    time_s: &TimeUse,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_map(Activity::ALL.map(|activity| (name_s(activity), time_s[activity])))
}

/// Reads the times of a stored outcome [s].
pub(super) fn read_times_s<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<TimeUse, D::Error> {
    let stored: BTreeMap<String, f64> = BTreeMap::deserialize(deserializer)?;
    let mut time_s = TimeUse::default();
    for activity in Activity::ALL {
        let name = name_s(activity);
        let missing = || D::Error::custom(format!("missing field `{name}`"));
        time_s[activity] = *stored.get(&name).ok_or_else(missing)?;
    }
    Ok(time_s)
}
