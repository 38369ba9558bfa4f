//! Hunger: a gut that fills and empties, and how temperature and oxygen affect feeding.

use super::params::FishParams;
use crate::engine::Time;
use crate::numerics::{exp, ln, powf, square};

/// Rate at which the gut empties at a temperature [1/h]: R = R₀ exp(bT).
///
/// - **Holds for** 9 to 26.5 °C; extrapolated beyond.
/// - **Source** `garcia-adelman-1985`.
/// - **Checked by** V-19 (published rates and half-times).
#[must_use]
pub fn gut_rate_per_h(temperature_c: f64, params: &FishParams) -> f64 {
    params.gut_rate_per_h * exp(params.gut_rate_per_c * temperature_c)
}

/// Appetite at a temperature as a share of the maximum, 0 to 1: a dome with a cut-off in the cold.
///
/// f = Vˣ exp(X(1 − V)), V = (T_max − T)/(T_max − T_opt), X = Z²(1 + √(1 + 40/Y))²/400,
/// Z = ln Q (T_max − T_opt), Y = ln Q (T_max − T_opt + 2); times 1/(1 + exp(−(T − T_cold)/w)).
///
/// - **Source** `kitchell-1977` for the dome, `fao-affris` for the cut-off.
/// - **Checked by** V-22 (tabulated values of the dome).
#[must_use]
pub fn temperature_factor(temperature_c: f64, params: &FishParams) -> f64 {
    temperature_factor_shifted(temperature_c, 0.0, params)
}

/// As [`temperature_factor`], with the cut-off in the cold `cold_shift_c` lower, T_cold − s, as for a species that feeds
/// in colder water.
#[must_use]
pub fn temperature_factor_shifted(
    temperature_c: f64,
    cold_shift_c: f64,
    params: &FishParams,
) -> f64 {
    let span = params.warmth_limit_c - params.warmth_best_c;
    let v = (params.warmth_limit_c - temperature_c) / span;
    if v <= 0.0 {
        return 0.0;
    }
    let ln_q = ln(params.warmth_q10_like);
    let z = ln_q * span;
    let y = ln_q * (span + 2.0);
    let x = z * z * square(1.0 + (1.0 + 40.0 / y).sqrt()) / 400.0;
    let dome = powf(v, x) * exp(x * (1.0 - v));
    dome / (1.0 + exp(-(temperature_c + cold_shift_c - params.cold_cutoff_c) / params.cold_width_c))
}

/// Feeding activity that oxygen allows, 0 to 1: linear between two levels.
#[must_use]
pub fn oxygen_factor(oxygen_mg_l: f64, params: &FishParams) -> f64 {
    let (none, full) = (params.oxygen_none_mg_l, params.oxygen_full_mg_l);
    ((oxygen_mg_l - none) / (full - none)).clamp(0.0, 1.0)
}

/// How much faster than at 20 °C fish swim, search and chew: Q^((T − 20)/10).
///
/// - **Source** `rall-2012` for the direction and the size of Q.
#[must_use]
pub fn vigour(temperature_c: f64, params: &FishParams) -> f64 {
    powf(params.vigour_q10, (temperature_c - 20.0) / 10.0)
}

impl FishParams {
    /// The book on a day of a given vigour: what fish do takes less time, and elsewhere they find as much more.
    ///
    /// - **Checked by** V-128.
    pub fn at_vigour(&mut self, vigour: f64) {
        self.cruise_lengths_s *= vigour;
        self.approach_lengths_s *= vigour;
        self.pause_s /= vigour;
        self.handling_s /= vigour;
        self.memory_s /= vigour;
        self.refuge_s /= vigour;
        self.fright_memory_s /= vigour;
        self.search_m2_s *= vigour;
        self.elsewhere_per_s *= vigour;
    }
}

/// The gut of one fish.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Appetite {
    /// Dry bait in the gut [kg].
    pub gut_kg: f64,
    /// Amount that fills it on the day [kg].
    pub capacity_kg: f64,
    as_of: Time,
}

impl Appetite {
    /// Creates a gut that is filled to the share `fullness` of its capacity.
    #[must_use]
    pub fn new(capacity_kg: f64, fullness: f64) -> Self {
        Self { gut_kg: capacity_kg * fullness, capacity_kg, as_of: Time::ZERO }
    }

    /// Empties the gut up to `now` at `rate_per_s`: S(t) = S₀ exp(−Rt).
    #[inline]
    pub fn digest_until(&mut self, now: Time, rate_per_s: f64) {
        self.gut_kg *= exp(-rate_per_s * now.seconds_since(self.as_of));
        self.as_of = now;
    }

    /// Hunger at a later time, if the fish eats nothing until then.
    #[must_use]
    pub fn hunger_at(mut self, later: Time, rate_per_s: f64) -> f64 {
        self.digest_until(later, rate_per_s);
        self.hunger()
    }

    /// Adds food.
    pub fn eat(&mut self, food_kg: f64) {
        self.gut_kg += food_kg;
    }

    /// Hunger, from 1 (empty gut) to 0 (full gut); 0 if the capacity is zero.
    #[inline]
    #[must_use]
    pub fn hunger(&self) -> f64 {
        if self.capacity_kg <= 0.0 {
            return 0.0;
        }
        (1.0 - self.gut_kg / self.capacity_kg).clamp(0.0, 1.0)
    }
}
