//! Straight legs that fish swim, and the ways that they make.

use crate::engine::Time;
use crate::water::Point;

/// One straight leg at constant speed; a fish at rest is on a leg of length zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Start.
    pub from: Point,
    /// End.
    pub to: Point,
    /// Time of departure.
    pub begins: Time,
    /// Time of arrival.
    pub ends: Time,
}

impl Leg {
    /// A leg towards a goal, at most `length_m` long, at `speed_m_s`, from `now` on.
    #[inline]
    #[must_use]
    pub fn towards(from: Point, goal: Point, length_m: f64, speed_m_s: f64, now: Time) -> Self {
        let distance_m = from.distance_m(goal);
        if distance_m <= length_m {
            return Self { from, to: goal, begins: now, ends: now.after(distance_m / speed_m_s) };
        }
        let to = from.towards(goal, length_m / distance_m);
        Self { from, to, begins: now, ends: now.after(length_m / speed_m_s) }
    }

    /// A leg from one point to another at `speed_m_s`, from `now` on.
    #[must_use]
    pub fn new(from: Point, to: Point, speed_m_s: f64, now: Time) -> Self {
        Self { from, to, begins: now, ends: now.after(from.distance_m(to) / speed_m_s) }
    }

    /// A leg of length zero: the fish stays where it is.
    #[must_use]
    pub fn at_rest(at: Point, now: Time) -> Self {
        Self { from: at, to: at, begins: now, ends: now }
    }

    /// Square of the distance from a place to the nearest point of the leg [m²].
    #[inline]
    #[must_use]
    pub fn squared_distance_m2(&self, place: Point) -> f64 {
        let length_m2 = self.from.squared_distance_m2(self.to);
        let (x_m, y_m) = (self.to.x_m - self.from.x_m, self.to.y_m - self.from.y_m);
        let (u_m, v_m) = (place.x_m - self.from.x_m, place.y_m - self.from.y_m);
        let share = if length_m2 > 0.0 {
            ((u_m * x_m + v_m * y_m) / length_m2).clamp(0.0, 1.0)
        } else {
            0.0
        };
        place.squared_distance_m2(self.from.towards(self.to, share))
    }

    /// Position of the fish at `now`.
    #[inline]
    #[must_use]
    pub fn position(&self, now: Time) -> Point {
        if now >= self.ends {
            return self.to;
        }
        let share = now.seconds_since(self.begins) / self.ends.seconds_since(self.begins);
        self.from.towards(self.to, share)
    }
}

/// Legs that a way has room for at first; few have more.
const USUAL_LEGS: usize = 12;

/// The legs that a fish has planned, one after the other; between two of them it rests where the first one ends.
///
/// A new leg makes it forget the others, also those that it has not yet swum.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// All but the last leg, in the order of time.
    earlier: Vec<Leg>,
    last: Leg,
}

impl Way {
    /// The way of a fish that stays where it is.
    #[must_use]
    pub fn at_rest(at: Point, now: Time) -> Self {
        Self { earlier: Vec::new(), last: Leg::at_rest(at, now) }
    }

    /// Forgets all legs, and swims this one.
    #[inline]
    pub fn set_out(&mut self, leg: Leg) {
        self.earlier.clear();
        self.last = leg;
    }

    /// Adds a leg that begins where the last one ends, at that time or later.
    #[inline]
    pub fn then(&mut self, leg: Leg) {
        if self.earlier.capacity() == 0 {
            self.earlier.reserve(USUAL_LEGS);
        }
        self.earlier.push(self.last);
        self.last = leg;
    }

    /// The last planned leg.
    #[inline]
    #[must_use]
    pub fn last(&self) -> &Leg {
        &self.last
    }

    /// The leg that the fish swims at `now`, or the one after which it rests.
    #[inline]
    #[must_use]
    pub fn leg(&self, now: Time) -> &Leg {
        if now >= self.last.begins || self.earlier.is_empty() {
            return &self.last;
        }
        let begun = self.earlier.iter().rfind(|leg| leg.begins <= now);
        begun.unwrap_or(&self.earlier[0])
    }

    /// Position of the fish at `now`.
    #[inline]
    #[must_use]
    pub fn position(&self, now: Time) -> Point {
        self.leg(now).position(now)
    }

    /// The legs that begin after `now`, in the order of time.
    pub fn legs_after(&self, now: Time) -> impl Iterator<Item = &Leg> {
        let all = self.earlier.iter().chain(std::iter::once(&self.last));
        all.filter(move |leg| leg.begins > now)
    }
}
