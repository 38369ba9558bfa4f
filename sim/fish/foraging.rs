//! Foraging: how fast a fish finds food, how long a mouthful takes, what it remembers, when it gives up.

use super::params::FishParams;
use crate::engine::Time;
use crate::numerics::{exp, exp_m1, ln, powf};

/// Rate at which a fish finds mouthfuls at a density of `density_m2` mouthfuls per square metre [1/s].
///
/// λ = a N · Nᵠ⁻¹/(Nᵠ⁻¹ + N½ᵠ⁻¹), a functional response: with q = 2 the searched area per second grows with density
/// (type III), with q = 1 it is constant (type II). With handling time h the intake is λ/(1 + λh).
///
/// - **Source** `holling-1959`, `winkler-orellana-1992`.
/// - **Checked by** V-23 (intake against density, both forms).
#[inline]
#[must_use]
pub fn search_rate_per_s(density_m2: f64, params: &FishParams) -> f64 {
    if density_m2 <= 0.0 {
        return 0.0;
    }
    // The two exponents that the book names need no power function.
    let intensity = if params.search_exponent >= 2.0 {
        density_m2 / (density_m2 + params.search_half_per_m2)
    } else if params.search_exponent <= 1.0 {
        1.0
    } else {
        1.0 / (1.0 + powf(params.search_half_per_m2 / density_m2, params.search_exponent - 1.0))
    };
    params.search_m2_s * density_m2 * intensity
}

/// Rate at which a fish that searches `area_m2` finds a hookbait that lies by itself [1/s]: the swath within which it
/// notices it, over the area.
#[inline]
#[must_use]
pub fn hookbait_found_per_s(area_m2: f64, params: &FishParams) -> f64 {
    params.search_m2_s * params.hookbait_notice / area_m2
}

/// How much feed of `mouthfuls` is worth noticing, from 0 for none towards 1: m/(m + m₀).
///
/// It goes by the mass, in mouthfuls of the fish: a pinch of crumbs is next to nothing, however many crumbs it is.
#[inline]
#[must_use]
pub fn richness(mouthfuls: f64, params: &FishParams) -> f64 {
    mouthfuls / (mouthfuls + params.rich_mouthfuls)
}

/// Share of its notice that a hookbait of `hookbait_m` keeps among items of feed of `item_m`: 1/(1 + w (d/D)²).
///
/// Among crumbs it stands out; among items of its own size it is one more of them.
///
/// - **Checked by** V-174 (all of it among dust; falls with the size of the items).
#[inline]
#[must_use]
pub fn stands_out(hookbait_m: f64, item_m: f64, params: &FishParams) -> f64 {
    let ratio = item_m / hookbait_m.max(1e-4);
    1.0 / (1.0 + params.feed_masks * ratio * ratio)
}

/// Chance that the next suck at a pile meets the hookbait on it if fish search the pile place by place: the part of its area
/// that a suck covers, times the notice of the hookbait, at most 1.
///
/// The alternative to the share k/(k + n) among the n sucks that a pile is worth: it does not depend on how thick the feed
/// lies, nor on how much of it is eaten.
///
/// - **Checked by** V-345 (a share of the area; at most 1).
#[inline]
#[must_use]
pub fn hookbait_met_by_place(notice: f64, suck_m2: f64, pile_m2: f64) -> f64 {
    (notice * suck_m2 / pile_m2).min(1.0)
}

/// Rate at which a fish that searches `area_m2` finds a pile worth `mouthfuls` to it, with or without the hookbait on it
/// [1/s].
///
/// λ = a/A · (k · 1ₕ + (1 + (r + s)/g) · m/(m + m₀)): a the area searched in a second, k the notice of a hookbait, m the
/// mouthfuls, r the radius of the pile, s the distance of its near smell, g half the ordinary swath. Without food it is
/// the rate of the hookbait alone, so nothing steps between no feed and a pinch.
///
/// - **Checked by** V-165 (the limit of no food; rises with food).
#[inline]
#[must_use]
pub fn pile_found_per_s(
    mouthfuls: f64,
    radius_m: f64,
    hookbait: bool,
    area_m2: f64,
    params: &FishParams,
) -> f64 {
    let drawn = 1.0 + (radius_m + params.pile_smell_m) / params.glance_m;
    let feed = drawn * richness(mouthfuls, params);
    let hook = if hookbait { params.hookbait_notice } else { 0.0 };
    params.search_m2_s * (hook + feed) / area_m2
}

/// Time to take and swallow a mouthful of which a share `filled` is full [s].
///
/// Shorter for a small one, down to the book's `small_suck_factor`, and longer for an item that is more than a mouthful;
/// shorter in company (the factor in the book is fifteen fish over two), longer on a fuller gut, and shorter for a larger
/// fish by the third root of its mass. Items that fit a mouth by s take 1/s times as long
/// ([`size_fit`](super::mouth::size_fit)).
#[inline]
#[must_use]
pub fn handling_time_s(
    cube_root_kg: f64,
    filled: f64,
    hunger: f64,
    feeding: usize,
    params: &FishParams,
) -> f64 {
    let crowd = ((feeding as f64 - 2.0) / 13.0).clamp(0.0, 1.0);
    let company = 1.0 - (1.0 - params.handling_company_factor) * crowd;
    let fullness = 1.0 + (params.handling_full_factor - 1.0) * (1.0 - hunger);
    let size = params.small_suck_factor + (1.0 - params.small_suck_factor) * filled;
    params.handling_s * size * company * fullness / cube_root_kg
}

/// What a fish remembers of feeding at a line: its intake, as a fading average, and the intake it has learned to expect
/// when it hears feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedingMemory {
    intake_per_s: f64,
    as_of: Time,
    /// Intake expected after a signal of feed, as a multiple of what is expected elsewhere.
    expected_value: f64,
    last_signal: Time,
    /// Mouthfuls found since the last signal.
    found_since: f64,
}

impl FeedingMemory {
    /// Memory of a fish that has not fed at this line: it expects as much as the book says.
    #[must_use]
    pub fn new(params: &FishParams) -> Self {
        Self {
            intake_per_s: 0.0,
            as_of: Time::ZERO,
            expected_value: params.arrival_optimism,
            last_signal: Time::ZERO,
            found_since: 0.0,
        }
    }

    /// How readily it responds to a signal of feed: 1 at first, less after disappointment, more after reward.
    #[must_use]
    pub fn responsiveness_to_signal(&self, params: &FishParams) -> f64 {
        self.expected_value / params.arrival_optimism
    }

    /// Chance that a roaming fish turns back to the line where it fed: p = p₀ (1 − 1/V)₊, with V the intake it expects
    /// there as a multiple of what it expects elsewhere.
    ///
    /// - **Source** `bajer-2010` for the direction; the form is assumed.
    #[must_use]
    pub fn return_chance(&self, params: &FishParams) -> f64 {
        params.return_share * (1.0 - 1.0 / self.expected_value.max(1.0))
    }

    /// On arrival a fish expects more than elsewhere, whatever it has learned about signals.
    pub fn arrive(&mut self, now: Time, params: &FishParams) {
        self.intake_per_s = params.arrival_optimism * params.elsewhere_per_s;
        self.as_of = now;
        self.last_signal = now;
        self.found_since = 0.0;
    }

    /// Fades the remembered intake up to `now`: r(t) = r₀ exp(−t/T).
    fn fade(&mut self, now: Time, params: &FishParams) {
        self.intake_per_s *= exp(-now.seconds_since(self.as_of) / params.memory_s);
        self.as_of = now;
    }

    /// Adds mouthfuls found at `now` to the remembered intake.
    pub fn add_mouthfuls(&mut self, now: Time, mouthfuls: f64, params: &FishParams) {
        self.fade(now, params);
        self.intake_per_s += mouthfuls / params.memory_s;
        self.found_since += mouthfuls;
    }

    /// Updates the expected value by the intake since the last signal: V ← V + α (λ − V), with λ the intake as a multiple
    /// of what is expected elsewhere.
    ///
    /// This is the Rescorla–Wagner rule, with α = 1 − exp(−t/τ), so that a longer wait teaches more.
    ///
    /// - **Source** `rescorla-wagner-1972`.
    /// - **Checked by** V-44 (fading and steady state).
    pub fn learn(&mut self, now: Time, params: &FishParams) {
        let since_s = now.seconds_since(self.last_signal).max(1.0);
        let reward = self.found_since / since_s / params.elsewhere_per_s;
        self.expected_value -=
            exp_m1(-since_s / params.learning_time_s) * (reward - self.expected_value);
        self.last_signal = now;
        self.found_since = 0.0;
    }

    /// Fresh feed worth that number of mouthfuls raises the remembered intake to at least what it leads a fish to expect:
    /// that of elsewhere for next to nothing, and the expected value for plenty.
    pub fn encourage(&mut self, now: Time, mouthfuls: f64, params: &FishParams) {
        self.fade(now, params);
        let expected = 1.0 + (self.expected_value - 1.0) * richness(mouthfuls, params);
        self.intake_per_s = self.intake_per_s.max(expected * params.elsewhere_per_s);
    }

    /// The time at which the fish gives up if it finds nothing more.
    ///
    /// At a place of a given risk it stays only for 1 + w · risk times what it expects elsewhere; where it smells food
    /// (`scent`, 0 to 1) it is content with less, by 1 + a · scent.
    ///
    /// - **Source** `brown-1988` for risk, `hara-2006` for scent; the forms are ours.
    #[must_use]
    pub fn gives_up_at(&self, risk: f64, scent: f64, params: &FishParams) -> Time {
        let objective = (1.0 + params.risk_price * risk) / (1.0 + params.scent_arousal * scent);
        self.as_of.after(giving_up_time_s(self.intake_per_s / objective, params))
    }
}

/// Giving-up time: how long a fish searches without success before it leaves, from a remembered intake [s].
///
/// It leaves when the fading memory falls to what it expects elsewhere: t = T ln(r/g), the marginal value rule with a
/// finite memory.
///
/// - **Source** `charnov-1976`.
/// - **Checked by** V-24 (closed form).
#[inline]
#[must_use]
pub fn giving_up_time_s(intake_per_s: f64, params: &FishParams) -> f64 {
    (params.memory_s * ln(intake_per_s / params.elsewhere_per_s)).max(0.0)
}
