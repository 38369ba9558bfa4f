//! Straight legs between places.

use crate::engine::Time;
use crate::water::Point;

/// One straight leg at constant speed; a fish at rest is on a leg of no length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Where it began.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// When it began.
    pub begins: Time,
    /// When it ends.
    pub ends: Time,
}

impl Leg {
    /// The way towards a goal, `length_m` long at most, at `speed_m_s`, begun at `now`.
    #[inline]
    #[must_use]
    pub fn towards(from: Point, goal: Point, length_m: f64, speed_m_s: f64, now: Time) -> Self {
        let way_m = from.distance_m(goal);
        if way_m <= length_m {
            return Self { from, to: goal, begins: now, ends: now.after(way_m / speed_m_s) };
        }
        let to = from.towards(goal, length_m / way_m);
        Self { from, to, begins: now, ends: now.after(length_m / speed_m_s) }
    }

    /// A leg from one place to another at `speed_m_s`, begun at `now`.
    #[must_use]
    pub fn new(from: Point, to: Point, speed_m_s: f64, now: Time) -> Self {
        Self { from, to, begins: now, ends: now.after(from.distance_m(to) / speed_m_s) }
    }

    /// Staying at a place.
    #[must_use]
    pub fn rest(at: Point, now: Time) -> Self {
        Self { from: at, to: at, begins: now, ends: now }
    }

    /// Where the fish is at `now`.
    #[inline]
    #[must_use]
    pub fn at(&self, now: Time) -> Point {
        if now >= self.ends {
            return self.to;
        }
        let share = now.seconds_since(self.begins) / self.ends.seconds_since(self.begins);
        self.from.towards(self.to, share)
    }
}
