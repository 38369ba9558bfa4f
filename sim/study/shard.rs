//! Share of a study that is done on several machines: `--part K/N`.

use std::str::FromStr;

/// Maximum number of shares.
const MAX_SHARDS: u32 = 100_000;

/// Share number `part` of `of` shares; part 1 of 1 is the whole study.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shard {
    /// Number of the share, from 1.
    pub number: u32,
    /// Number of shares.
    pub count: u32,
}

impl Shard {
    /// The whole study.
    pub const WHOLE: Self = Self { number: 1, count: 1 };

    /// Whether this share includes the block with an index, counted from 0. Blocks are assigned round-robin, so that
    /// slow and fast blocks are balanced.
    #[must_use]
    pub fn includes(self, index: u64) -> bool {
        index % u64::from(self.count) == u64::from(self.number) - 1
    }

    /// Whether the share is the whole study.
    #[must_use]
    pub fn is_whole(self) -> bool {
        self.count == 1
    }
}

impl FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let numbers = text.split_once('/').and_then(|(part, of)| {
            Some(Self { number: part.trim().parse().ok()?, count: of.trim().parse().ok()? })
        });
        match numbers {
            Some(shard)
                if (1..=shard.count).contains(&shard.number) && shard.count <= MAX_SHARDS =>
            {
                Ok(shard)
            }
            _ => Err("give K/N with K from 1 to N, as in 3/12".to_owned()),
        }
    }
}

impl std::fmt::Display for Shard {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.number, self.count)
    }
}
