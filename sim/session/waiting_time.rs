//! A stationary swim: bites come after given waiting times, not from fish that find the hookbait.

use super::day::Day;
use super::streams::Purpose;
use crate::engine::Dice;

/// A model of waiting times: the time from the feeder's landing to a bite [s]; infinite if no fish ever bites.
pub type WaitingTimeModel<'a> = dyn Fn(&mut Dice) -> f64 + Sync + 'a;

/// A model of waiting times with its random stream.
pub(super) struct WaitingTimes<'a> {
    model: &'a WaitingTimeModel<'a>,
    dice: Dice,
}

impl<'a> WaitingTimes<'a> {
    pub(super) fn new(model: &'a WaitingTimeModel<'a>, day: &Day) -> Self {
        Self { model, dice: day.stream(Purpose::WaitingTime) }
    }

    /// Draws one waiting time [s].
    pub(super) fn draw_s(&mut self) -> f64 {
        (self.model)(&mut self.dice)
    }
}
