//! The values of all books on one day.

use super::streams::{Purpose, day_stream};
use crate::angler::AnglerParams;
use crate::bait::BaitParams;
use crate::fish::FishParams;
use crate::scenario::{Scenario, UnknownTarget};
use crate::water::WaterParams;

/// The values of all books on one day, before the day's weather acts on them.
pub(super) struct DrawnBooks {
    pub(super) water: WaterParams,
    pub(super) bait: BaitParams,
    pub(super) fish: FishParams,
    pub(super) angler: AnglerParams,
    /// By what the number of fish of each shoal is multiplied; one without a learned book.
    pub(super) stock_factors: Vec<f64>,
    /// Rows of all books, in their order.
    pub(super) drawn: Vec<f64>,
}

impl DrawnBooks {
    /// Draws every row from its prior, then puts `learned` values in place of those that are not fixed.
    pub(super) fn draw(
        scenario: &Scenario,
        seed: u64,
        inputs_day: u32,
        learned: Option<(&[UnknownTarget], &[f64])>,
    ) -> Self {
        let mut drawn = Vec::new();
        for (book, stream) in scenario.books.all().into_iter().zip(0..) {
            drawn.extend(book.draw(&mut day_stream(seed, inputs_day, Purpose::Books, stream)));
        }
        let mut stock_factors = vec![1.0; scenario.shoals.len()];
        if let Some((targets, values)) = learned {
            for (target, value) in targets.iter().zip(values) {
                match *target {
                    UnknownTarget::Row(place) if !scenario.is_fixed_row(place) => {
                        drawn[place] = *value;
                    }
                    UnknownTarget::Row(_) => {}
                    UnknownTarget::StockFactor(shoal) => stock_factors[shoal] = *value,
                }
            }
        }
        let mut rest = drawn.as_slice();
        let mut next = |count: usize| {
            let (book, after) = rest.split_at(count);
            rest = after;
            book
        };
        Self {
            water: WaterParams::from_values(next(WaterParams::FIELDS.len())),
            bait: BaitParams::from_values(next(BaitParams::FIELDS.len())),
            fish: FishParams::from_values(next(FishParams::FIELDS.len())),
            angler: AnglerParams::from_values(next(AnglerParams::FIELDS.len())),
            stock_factors,
            drawn,
        }
    }
}
