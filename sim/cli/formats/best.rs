//! The document of `best`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::SearchResult;

/// The result of a search, with the command that fishes the best plan again.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct BestDocument<'a> {
    #[serde(flatten)]
    pub(in crate::cli) result: &'a SearchResult,
    /// Name of the best plan.
    pub(in crate::cli) plan: &'a str,
    /// The best values, as `--set` takes them.
    pub(in crate::cli) sets: Vec<String>,
    /// The command that fishes the best plan on the days on which it was confirmed.
    pub(in crate::cli) compare: String,
}
