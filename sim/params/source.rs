//! The bibliography: the sources that the books cite.

use std::collections::BTreeMap;

use serde::Deserialize;

/// One published source.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Authors, year, title and where it was published.
    pub cite: String,
    /// How it was read: `looked up`, `secondary` or `from memory`.
    pub read: String,
}

/// All sources by key.
///
/// # Panics
///
/// If the built-in bibliography is malformed; a test reads it.
#[must_use]
pub fn bibliography() -> BTreeMap<String, Source> {
    toml::from_str(include_str!("sources.toml"))
        .unwrap_or_else(|error| panic!("the built-in bibliography: {error}"))
}
