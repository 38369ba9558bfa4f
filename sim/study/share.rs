//! One share of a study that is fished on several machines: `--part K/N`.

use std::str::FromStr;

/// Share `part` of `of`; part 1 of 1 is the whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// Which, from 1.
    pub part: u32,
    /// Of how many.
    pub of: u32,
}

impl Share {
    /// All of it.
    pub const WHOLE: Self = Self { part: 1, of: 1 };

    /// Whether the piece of work at a place, counted from 0, is this share's: they are dealt out like cards, so
    /// that dear and cheap ones are mixed.
    #[must_use]
    pub fn takes(self, place: u64) -> bool {
        place % u64::from(self.of) == u64::from(self.part) - 1
    }

    /// Whether it is all of it.
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
            Some(share) if (1..=share.of).contains(&share.part) && share.of <= 100_000 => Ok(share),
            _ => Err("give K/N with K from 1 to N, as in 3/12".to_owned()),
        }
    }
}

impl std::fmt::Display for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.part, self.of)
    }
}
