//! The four books together, overlaid by the scenario's own values.

use crate::angler::AnglerParams;
use crate::bait::BaitParams;
use crate::fish::FishParams;
use crate::params::Book;
use crate::water::WaterParams;

/// Every parameter of the model.
#[derive(Clone, Debug, PartialEq)]
pub struct Books {
    /// Moving water.
    pub water: Book,
    /// Bait on the feeder and on the bed.
    pub bait: Book,
    /// Fish.
    pub fish: Book,
    /// Names and the person holding it.
    pub angler: Book,
}

impl Default for Books {
    fn default() -> Self {
        Self {
            water: WaterParams::book(),
            bait: BaitParams::book(),
            fish: FishParams::book(),
            angler: AnglerParams::book(),
        }
    }
}

impl Books {
    /// All books, in the order in which they are printed.
    #[must_use]
    pub fn all(&self) -> [&Book; 4] {
        [&self.water, &self.bait, &self.fish, &self.angler]
    }

    /// The book of that name.
    pub fn named(&mut self, name: &str) -> Option<&mut Book> {
        [&mut self.water, &mut self.bait, &mut self.fish, &mut self.angler]
            .into_iter()
            .find(|book| book.name == name)
    }
}
