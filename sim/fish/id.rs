//! Which fish of a day's stock.

use schemars::JsonSchema;
use serde::Serialize;

use super::state::Fish;
use crate::engine::indexed_by;

/// A fish, by its index in the day's stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(transparent)]
pub struct FishId(pub usize);

impl FishId {
    /// Its number in messages, counted from 1.
    #[must_use]
    pub fn number(self) -> usize {
        self.0 + 1
    }

    /// Every fish of a stock of `count`.
    pub fn all(count: usize) -> impl Iterator<Item = Self> {
        (0..count).map(Self)
    }
}

indexed_by!(FishId: Fish);
