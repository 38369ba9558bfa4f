//! The bibliography: the sources that the books cite.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One published source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reference {
    /// Authors, year, title and where it was published.
    #[serde(rename = "cite")]
    pub citation: String,
    /// How it was read: `looked up`, `secondary` or `from memory`.
    #[serde(rename = "read")]
    pub how_read: String,
}

/// All sources by key.
///
/// # Panics
///
/// If the built-in bibliography is malformed; a test reads it.
#[must_use]
pub fn bibliography() -> BTreeMap<String, Reference> {
    toml::from_str(include_str!("sources.toml"))
        .unwrap_or_else(|error| panic!("the built-in bibliography: {error}"))
}
