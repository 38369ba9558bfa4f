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

/// What a fish remembers of its intake here: an average that fades over its memory.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Forage {
    intake_per_s: f64,
    as_of: Time,
}

impl Forage {
    /// On arrival: it expects a multiple of what it expects elsewhere.
    #[must_use]
    pub fn arriving(now: Time, params: &FishParams) -> Self {
        Self { intake_per_s: params.arrival_optimism * params.elsewhere_per_s, as_of: now }
    }

    /// Lets the memory fade up to `now`: r(t) = r₀ exp(−t/T).
    fn fade(&mut self, now: Time, params: &FishParams) {
        self.intake_per_s *= (-now.seconds_since(self.as_of) / params.memory_s).exp();
        self.as_of = now;
    }

    /// Remembers one mouthful found at `now`.
    pub fn found(&mut self, now: Time, params: &FishParams) {
        self.fade(now, params);
        self.intake_per_s += 1.0 / params.memory_s;
    }

    /// Fresh feed was noticed: it expects at least what an arriving fish does.
    pub fn encouraged(&mut self, now: Time, params: &FishParams) {
        self.fade(now, params);
        self.intake_per_s = self.intake_per_s.max(params.arrival_optimism * params.elsewhere_per_s);
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
