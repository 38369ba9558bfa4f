//! Share of a study that is fished on several machines: `--part K/N`.

use std::str::FromStr;

/// Maximum number of shares.
const MAX_SHARES: u32 = 100_000;

/// Share number `part` of `of` shares; part 1 of 1 is the whole study.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// Number of the share, from 1.
    pub part: u32,
    /// Number of shares.
    pub of: u32,
}

impl Share {
    /// The whole study.
    pub const WHOLE: Self = Self { part: 1, of: 1 };

    /// Whether this share includes the block with an index, counted from 0. Blocks are assigned round-robin, so that
    /// slow and fast blocks are balanced.
    #[must_use]
    pub fn takes(self, place: u64) -> bool {
        place % u64::from(self.of) == u64::from(self.part) - 1
    }

    /// Whether it is the whole study.
    #[must_use]
    pub fn is_whole(self) -> bool {
        self.of == 1
    }
}

impl FromStr for Share {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let numbers = text.split_once('/').and_then(|(part, of)| {
            Some(Self { part: part.trim().parse().ok()?, of: of.trim().parse().ok()? })
        });
        match numbers {
            Some(share) if (1..=share.of).contains(&share.part) && share.of <= MAX_SHARES => {
                Ok(share)
            }
            _ => Err("give K/N with K from 1 to N, as in 3/12".to_owned()),
        }
    }
}

impl std::fmt::Display for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.part, self.of)
    }
}
