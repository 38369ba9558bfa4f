//! The document of `params`.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::params::{Parameter, Reference, bibliography};

/// Every parameter with its source.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct ParamsDocument<'a> {
    /// Name and version of the format.
    format: &'static str,
    /// All parameters, in the order of the books.
    parameters: Vec<ParameterEntry<'a>>,
    /// Bibliography, by the keys that parameters cite.
    sources: BTreeMap<String, Reference>,
}

/// A parameter with its dotted key.
#[derive(Debug, Serialize, JsonSchema)]
struct ParameterEntry<'a> {
    /// Dotted key, as `--set` takes it.
    key: String,
    #[serde(flatten)]
    row: &'a Parameter,
}

impl<'a> ParamsDocument<'a> {
    /// Name and version of the format.
    pub(super) const FORMAT: &'static str = "shoalwise/params/1";

    /// The document of parameters, each with its dotted key.
    pub(in crate::cli) fn new(rows: impl Iterator<Item = (String, &'a Parameter)>) -> Self {
        let parameters = rows.map(|(key, row)| ParameterEntry { key, row }).collect();
        Self { format: Self::FORMAT, parameters, sources: bibliography() }
    }
}
