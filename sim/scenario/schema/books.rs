//! The four parameter books of the model, whose rows are keys of the format too.

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
    /// Tackle and the person holding it.
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
    /// All books, in the order of the tables.
    #[must_use]
    pub fn all(&self) -> [&Book; 4] {
        [&self.water, &self.bait, &self.fish, &self.angler]
    }

    /// The book with a name. `None` if there is none.
    pub fn book_mut(&mut self, name: &str) -> Option<&mut Book> {
        [&mut self.water, &mut self.bait, &mut self.fish, &mut self.angler]
            .into_iter()
            .find(|book| book.name == name)
    }
}
