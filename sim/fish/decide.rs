//! What a feeding fish does: how fast it finds food, how long a mouthful takes, when it gives up.

use super::params::FishParams;
use crate::engine::Time;

/// Rate at which a fish comes upon mouthfuls where there are `density_m2` of them to the square metre [1/s].
///
/// λ = a N · Nᵠ⁻¹/(Nᵠ⁻¹ + N½ᵠ⁻¹): with q = 2 the search grows keener where food is dense (type III),
/// with q = 1 it does not (type II). With handling time h the intake is λ/(1 + λh).
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
    let keen = if params.search_exponent >= 2.0 {
        density_m2 / (density_m2 + params.search_half_per_m2)
    } else if params.search_exponent <= 1.0 {
        1.0
    } else {
        let power = params.search_exponent - 1.0;
        density_m2.powf(power) / (density_m2.powf(power) + params.search_half_per_m2.powf(power))
    };
    params.search_m2_s * density_m2 * keen
}

/// Time to take and swallow one mouthful [s].
///
/// Shorter in company (the factor in the book is fifteen fish over two), longer on a fuller gut, and
/// shorter for a larger fish by the third root of its mass.
#[inline]
#[must_use]
pub fn handling_s(mass_kg: f64, hunger: f64, feeding: usize, params: &FishParams) -> f64 {
    let crowd = ((feeding as f64 - 2.0) / 13.0).clamp(0.0, 1.0);
    let company = 1.0 - (1.0 - params.handling_company_factor) * crowd;
    let fullness = 1.0 + (params.handling_full_factor - 1.0) * (1.0 - hunger);
    params.handling_s * company * fullness / mass_kg.cbrt()
}

/// What a fish remembers of feeding: its intake here, an average that fades, and what it has learned to
/// expect when feed is heard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forage {
    intake_per_s: f64,
    as_of: Time,
    /// Intake expected on a signal of feed, over what is expected elsewhere.
    trust: f64,
    signal: Time,
    found_since: f64,
}

impl Forage {
    /// A fish that has not fed here today: it trusts as much as the book says.
    #[must_use]
    pub fn fresh(params: &FishParams) -> Self {
        Self {
            intake_per_s: 0.0,
            as_of: Time::ZERO,
            trust: params.arrival_optimism,
            signal: Time::ZERO,
            found_since: 0.0,
        }
    }

    /// How readily it answers a signal of feed: 1 as it came, less once disappointed, more once rewarded.
    #[must_use]
    pub fn readiness(&self, params: &FishParams) -> f64 {
        self.trust / params.arrival_optimism
    }

    /// Chance that a fish that roams turns back to where it fed: p = p₀ (1 − 1/V)₊, V what it learned to
    /// expect there over what it expects elsewhere.
    ///
    /// - **Source** `bajer-2010` for the direction; the form is ours.
    #[must_use]
    pub fn returns(&self, params: &FishParams) -> f64 {
        params.return_share * (1.0 - 1.0 / self.trust.max(1.0))
    }

    /// On arrival it has reason to expect more than elsewhere, whatever sounds have come to mean.
    pub fn arrives(&mut self, now: Time, params: &FishParams) {
        self.intake_per_s = params.arrival_optimism * params.elsewhere_per_s;
        self.as_of = now;
        self.signal = now;
        self.found_since = 0.0;
    }

    /// Lets the memory fade up to `now`: r(t) = r₀ exp(−t/T).
    fn fade(&mut self, now: Time, params: &FishParams) {
        self.intake_per_s *= (-now.seconds_since(self.as_of) / params.memory_s).exp();
        self.as_of = now;
    }

    /// Remembers mouthfuls found at `now`.
    pub fn found(&mut self, now: Time, mouthfuls: f64, params: &FishParams) {
        self.fade(now, params);
        self.intake_per_s += mouthfuls / params.memory_s;
        self.found_since += mouthfuls;
    }

    /// Judges the last signal by what followed: V ← V + α (λ − V), λ the intake since over that elsewhere.
    ///
    /// The rule of Rescorla and Wagner, with α = 1 − exp(−t/τ) so that a longer wait teaches more.
    ///
    /// - **Source** `rescorla-wagner-1972`.
    /// - **Checked by** V-44 (fading and steady state).
    pub fn learns(&mut self, now: Time, params: &FishParams) {
        let since_s = now.seconds_since(self.signal).max(1.0);
        let reward = self.found_since / since_s / params.elsewhere_per_s;
        self.trust -= (-since_s / params.learning_time_s).exp_m1() * (reward - self.trust);
        self.signal = now;
        self.found_since = 0.0;
    }

    /// Fresh feed is noticed: it expects at least as much as it has learned to trust.
    pub fn encouraged(&mut self, now: Time, params: &FishParams) {
        self.fade(now, params);
        self.intake_per_s = self.intake_per_s.max(self.trust * params.elsewhere_per_s);
    }

    /// When a fish that finds nothing more gives up.
    #[must_use]
    pub fn gives_up_at(&self, params: &FishParams) -> Time {
        self.as_of.after(giving_up_after_s(self.intake_per_s, params))
    }
}

/// How long a fish that remembers an intake searches in vain before it leaves [s].
///
/// It leaves when the fading memory meets what it expects elsewhere: t = T ln(r/g), the marginal value
/// rule with a finite memory.
///
/// - **Source** `charnov-1976`.
/// - **Checked by** V-24 (closed form).
#[inline]
#[must_use]
pub fn giving_up_after_s(intake_per_s: f64, params: &FishParams) -> f64 {
    (params.memory_s * (intake_per_s / params.elsewhere_per_s).ln()).max(0.0)
}
