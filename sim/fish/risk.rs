//! What a place costs a fish: distance from cover, shallow bright water, and frights that it remembers.

use super::params::FishParams;
use crate::engine::Time;
use crate::numerics::{exp, square};
use crate::water::Point;

/// How exposed a place is, by its distance from cover and its depth.
///
/// r = g · ((d − d₀)₊/s + w · exp(−h/h₀)): d the distance from cover, d₀ what the fish is used to, h the depth, g the
/// glare (1 in full daylight, 0 in the dark).
///
/// - **Source** `lima-dill-1990` for both directions; the form is ours.
/// - **Checked by** V-163.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    cover_m: f64,
    shallow: f64,
}

impl Exposure {
    /// A place at a distance from cover [m] (infinite if there is none), in water of a depth [m].
    #[must_use]
    pub fn new(cover_m: f64, depth_m: f64, params: &FishParams) -> Self {
        let shallow = params.exposure_weight * exp(-depth_m / params.exposure_depth_m);
        Self { cover_m, shallow }
    }

    /// Risk of the place for a fish that is used to `habitual_m` from cover, without frights.
    #[inline]
    #[must_use]
    pub fn risk(&self, habitual_m: f64, glare: f64, params: &FishParams) -> f64 {
        let beyond_m = (self.cover_m - habitual_m).max(0.0);
        let from_cover = if beyond_m.is_finite() { beyond_m / params.cover_scale_m } else { 0.0 };
        glare * (from_cover + self.shallow)
    }
}

/// How exposed a fish is in water of a given brightness, 1 in daylight and next to nothing from dusk on: b⁴ over that of
/// daylight.
#[inline]
#[must_use]
pub fn glare(brightness: f64) -> f64 {
    const DAYLIGHT: f64 = 0.95;
    let squared = square(brightness / DAYLIGHT);
    (squared * squared).min(1.0)
}

/// Share of the risk from above that ripples leave: 1 − s U/(U + U½), U the wind over the water.
///
/// - **Source** `machmer-ydenberg-1990` (ospreys catch less the more the wind roughens the water); the form is ours.
/// - **Checked by** V-176.
#[inline]
#[must_use]
pub fn seen_through_ripples(wind_m_s: f64, params: &FishParams) -> f64 {
    1.0 - params.ripple_hides * wind_m_s / (wind_m_s + params.ripple_wind_m_s)
}

/// Share of fish that go to a place in spite of its risk: exp(−r).
#[inline]
#[must_use]
pub fn goes_in_spite_of(risk: f64) -> f64 {
    exp(-risk)
}

/// Alarm that hangs over a place after a hooked fish came off there, for any fish: it adds to the risk and fades
/// exponentially.
///
/// - **Source** `pfeiffer-1977` (cyprinids release an alarm substance from injured skin); how long it lasts is assumed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alarm(Fading);

impl Alarm {
    /// A place where nothing happened.
    #[must_use]
    pub fn none() -> Self {
        Self(Fading::ZERO)
    }

    /// Risk that it adds at `now`.
    #[inline]
    #[must_use]
    pub fn risk(&self, now: Time, params: &FishParams) -> f64 {
        self.0.at(now, params.alarm_lasts_s)
    }

    /// Adds the alarm of one lost fish.
    pub fn add_lost_fish(&mut self, now: Time, params: &FishParams) {
        self.0.add(params.lost_fish_alarm, now, params.alarm_lasts_s);
    }
}

/// Disturbance of a place by fish that were hooked there: stirred mud, and what frightened fish give off. It adds to the risk
/// for fish that come later, the more the readier their shoal is to flee from a fight, and fades exponentially.
///
/// - **Source** `chivers-smith-1998` (fish that are frightened and unhurt give off a signal too); size and time are assumed.
/// - **Checked by** V-350.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disturbance(Fading);

impl Disturbance {
    /// A place where no fish was hooked.
    #[must_use]
    pub fn none() -> Self {
        Self(Fading::ZERO)
    }

    /// Risk that it adds at `now` for a fish of a shoal of which the share `startles` flees from a fight: w · s · level.
    #[inline]
    #[must_use]
    pub fn risk(&self, startles: f64, now: Time, params: &FishParams) -> f64 {
        params.fight_disturbs * startles * self.0.at(now, params.disturbance_lasts_s)
    }

    /// Adds one fight of which a share `felt` is felt there, less in deep water.
    pub fn add_fight(&mut self, felt: f64, now: Time, params: &FishParams) {
        self.0.add(felt, now, params.disturbance_lasts_s);
    }
}

/// A level that fades exponentially.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Fading {
    level: f64,
    as_of: Time,
}

impl Fading {
    const ZERO: Self = Self { level: 0.0, as_of: Time::ZERO };

    /// Level at `now`, with the time constant `lasts_s`.
    #[inline]
    fn at(&self, now: Time, lasts_s: f64) -> f64 {
        if self.level <= 1e-3 {
            return 0.0;
        }
        self.level * exp(-now.seconds_since(self.as_of) / lasts_s)
    }

    fn add(&mut self, level: f64, now: Time, lasts_s: f64) {
        *self = Self { level: self.at(now, lasts_s) + level, as_of: now };
    }
}

/// A fish's memory of being frightened: how much, where last, and since when. It fades exponentially.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fright {
    level: f64,
    place: Point,
    as_of: Time,
}

impl Fright {
    /// A fish that was never frightened.
    #[must_use]
    pub fn none() -> Self {
        Self { level: 0.0, place: Point::default(), as_of: Time::ZERO }
    }

    /// Level at `now`, where one fresh fright counts 1.
    #[inline]
    #[must_use]
    pub fn level(&self, now: Time, params: &FishParams) -> f64 {
        if self.level <= 0.0 {
            return 0.0;
        }
        self.level * exp(-now.seconds_since(self.as_of) / params.fright_memory_s)
    }

    /// Adds a fright of a given strength at a place, which becomes the place that the fish avoids.
    pub fn add(&mut self, strength: f64, place: Point, now: Time, params: &FishParams) {
        let level = self.level(now, params) + strength;
        *self = Self { level, place, as_of: now };
    }

    /// Risk that remembered frights add to a place: w · level · exp(−(d/d₀)²), d from where the last one happened.
    #[inline]
    #[must_use]
    pub fn risk_at(&self, place: Point, now: Time, params: &FishParams) -> f64 {
        let level = self.level(now, params);
        if level <= 1e-3 {
            return 0.0;
        }
        let near = place.squared_distance_m2(self.place) / square(params.fright_place_m);
        params.fright_shuns * level * exp(-near)
    }

    /// Factor on the readiness to take a hookbait: exp(−k · level).
    #[inline]
    #[must_use]
    pub fn boldness_left(&self, now: Time, params: &FishParams) -> f64 {
        exp(-params.fright_wariness * self.level(now, params))
    }

    /// Factor on the chance to be startled again: exp(k · level).
    #[inline]
    #[must_use]
    pub fn startles_more(&self, now: Time, params: &FishParams) -> f64 {
        exp(params.fright_wariness * self.level(now, params))
    }
}
