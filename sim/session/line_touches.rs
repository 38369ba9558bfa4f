//! Fish that touch the line between rig and rod tip: a Poisson process whose rate follows the fish at the rig.

use super::day::Day;
use super::streams::Purpose;
use crate::angler::AnglerParams;
use crate::engine::{Dice, Time};

/// The Poisson process of touches.
#[derive(Clone, Debug)]
pub(super) struct LineTouches {
    /// Fish up in the water and on the bed at the rig, as last counted.
    fish: (usize, usize),
    rate_per_s: f64,
    /// What remains until the next touch, in mean waiting times.
    remaining: f64,
    since: Time,
    /// Number of the touch that is scheduled; an earlier one is ignored.
    number: u32,
    dice: Dice,
}

impl LineTouches {
    pub(super) fn new(day: &Day) -> Self {
        let mut dice = day.stream(Purpose::LineTouch);
        let remaining = dice.exponential(1.0);
        let (fish, since) = ((0, 0), Time::ZERO);
        Self { fish, rate_per_s: 0.0, remaining, since, number: 0, dice }
    }

    pub(super) fn is_current(&self, number: u32) -> bool {
        self.number == number
    }

    /// Sets how many fish are (up, on the bed) at the rig; returns whether the next touch has to be scheduled again.
    pub(super) fn set_fish(
        &mut self,
        fish: (usize, usize),
        now: Time,
        params: &AnglerParams,
    ) -> bool {
        if fish == self.fish {
            return false;
        }
        self.remaining -= now.seconds_since(self.since) * self.rate_per_s;
        self.remaining = self.remaining.max(0.0);
        self.fish = fish;
        let (up, on_bed) = (fish.0 as f64, fish.1 as f64);
        self.rate_per_s = (params.touch_up_per_h * up + params.touch_below_per_h * on_bed) / 3600.0;
        true
    }

    /// Draws the wait for the touch after this one.
    pub(super) fn draw_next(&mut self) {
        self.remaining = self.dice.exponential(1.0);
    }

    /// Number and time of the next touch; `None` while no fish is at the rig.
    pub(super) fn next(&mut self, now: Time) -> Option<(u32, Time)> {
        self.since = now;
        self.number += 1;
        (self.rate_per_s > 0.0).then(|| (self.number, now.after(self.remaining / self.rate_per_s)))
    }
}
