//! The bibliography that rows of the books point into.

use std::collections::BTreeMap;

use serde::Deserialize;

/// One published source.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Authors, year, title, where.
    pub cite: String,
    /// How much of it was read: `looked up`, `secondary` or `from memory`.
    pub read: String,
}

/// Every source by its key.
///
/// # Panics
///
/// If the built-in bibliography is not well formed; a test reads it.
#[must_use]
pub fn bibliography() -> BTreeMap<String, Source> {
    toml::from_str(include_str!("sources.toml"))
        .unwrap_or_else(|why| panic!("the built-in bibliography: {why}"))
}
