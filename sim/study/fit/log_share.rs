//! Shares of the simulated logs of a fit, made on several machines.

use crate::study::shard::Shard;

/// Logs that are simulated one after the other in the same share.
pub(super) const BLOCK_LOGS: u32 = 64;

/// The simulated logs of a fit, or a share of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LogShare {
    /// The share.
    pub shard: Shard,
    /// Logs of all shares together.
    pub logs: u32,
}

impl LogShare {
    /// Numbers of its waters, counted from 1, in order.
    #[must_use]
    pub fn waters(self) -> Vec<u32> {
        let block = |water: u32| u64::from((water - 1) / BLOCK_LOGS);
        (1..=self.logs).filter(|&water| self.shard.includes(block(water))).collect()
    }
}
