//! Parts of the model that could be built otherwise, where nobody knows which way is right.

use super::mechanism::{BEYOND_ALL, TINY};
use super::scenario::Scenario;

/// Another way to build a part of the model: not without it, but with another answer to the same question.
///
/// ```
/// use sim::scenario::{Alternative, read};
/// let text = "[line.a]\ndistance = \"20 m\"\n[shoal.carp]\nweight = \"2 kg\"\n[plan.p]\n";
/// let mut scenario = read(text, "a", &[]).expect("sound");
/// scenario.build_otherwise(Alternative::PileByArea);
/// let row = scenario.books.fish.rows().iter().find(|row| row.key == "pile_by_area").expect("a row");
/// assert!((row.value - 1.0).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alternative {
    /// How a pile is searched: place by place, and not suck by suck among what it is worth.
    PileByArea,
    /// What sound does: it startles fish and draws none.
    SilentFeed,
    /// What a fright costs: the fish shuns every line for a while, and not only the place.
    FearOfAllLines,
}

impl Alternative {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::PileByArea, Self::SilentFeed, Self::FearOfAllLines];

    /// What would be so, as a clause.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PileByArea => "fish search a pile place by place, whatever feed lies there",
            Self::SilentFeed => "the sound of feed draws no fish",
            Self::FearOfAllLines => "frightened fish shun all lines alike",
        }
    }

    /// Rows of the books, by book and name, with their values if it is so.
    fn rows(self) -> &'static [(&'static str, &'static str, f64)] {
        match self {
            Self::PileByArea => &[("fish", "pile_by_area", 1.0)],
            Self::SilentFeed => &[("fish", "hearing_m", TINY)],
            Self::FearOfAllLines => &[("fish", "fright_place_m", BEYOND_ALL)],
        }
    }
}

impl Scenario {
    /// Builds a part of the model in another way, on every day.
    ///
    /// # Panics
    ///
    /// If an alternative names a row that no book has; a test builds each of them.
    pub fn build_otherwise(&mut self, alternative: Alternative) {
        self.fix_rows(alternative.rows());
    }
}
