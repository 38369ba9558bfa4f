//! One line with the bait that lies on it, the scent over it and the fish at it.

use super::day::Day;
use crate::bait::{Attractant, BaitParams, Cloud, Falling, Patch, Plume};
use crate::engine::Time;
use crate::scenario::Scenario;
use crate::water::{Point, layer_flow, surface_drift_m_s};

/// Loose feed on its way down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throw {
    /// What falls.
    pub(super) falling: Falling,
    /// Its attractant [mol/kg].
    pub(super) attractant_mol_kg: f64,
    /// What a fish takes of it at a time [kg].
    pub(super) mouthful_kg: f64,
    /// Whether it has reached the bed.
    pub(super) down: bool,
}

impl Throw {
    /// What of it has not yet reached the bed [kg].
    pub(super) fn still_falling_kg(&self) -> f64 {
        if self.down { 0.0 } else { self.falling.food_kg + self.falling.inert_kg }
    }
}

/// The swim at one line.
#[derive(Clone, Debug)]
pub(super) struct Swim {
    pub(super) at: Point,
    pub(super) depth_m: f64,
    /// The last load, tight together.
    pub(super) pile: Patch,
    /// Older loads and loose feed.
    pub(super) scatter: Patch,
    /// Matter on the bed that is no food [kg].
    pub(super) inert_kg: f64,
    pub(super) cloud: Cloud,
    pub(super) attractant: Attractant,
    pub(super) plume: Plume,
    /// When it last let go of scent.
    pub(super) leached_at: Time,
    /// Whether its next puff is on the agenda.
    pub(super) leaching: bool,
    /// Mouthfuls lately taken here, as of a time.
    pub(super) eaten_lately: (f64, Time),
    /// Fish feeding on the bed, by their place in the list of fish.
    pub(super) below: Vec<usize>,
    /// Fish up in the water.
    pub(super) up: Vec<usize>,
}

/// Load for which the book states the pile's radius [kg].
const REFERENCE_LOAD_KG: f64 = 0.025;

impl Swim {
    /// The swim at a line before anything was thrown.
    pub(super) fn new(at: Point, scenario: &Scenario, day: &Day) -> Self {
        let depth_m = scenario.chart.depth_m(at);
        let share = day.water.scent_layer_share;
        let wind_m_s = day.conditions.wind_m_s * day.water.shelter_share;
        let flow_m_s = surface_drift_m_s(wind_m_s, &day.water) * layer_flow(share);
        let (sin, cos) = day.conditions.wind_to_rad.sin_cos();
        let scatter_m2 = std::f64::consts::PI * day.bait.scatter_radius_m.powi(2);
        Self {
            at,
            depth_m,
            pile: Patch::empty(pile_area_m2(REFERENCE_LOAD_KG, day), 1.0),
            scatter: Patch::empty(scatter_m2, 1.0),
            inert_kg: 0.0,
            cloud: Cloud::default(),
            attractant: Attractant::default(),
            plume: Plume::new(
                share * depth_m,
                day.water.diffusivity_m2_s,
                (flow_m_s * cos, flow_m_s * sin),
                day.water.scent_loss_per_s,
            ),
            leached_at: Time::ZERO,
            leaching: false,
            eaten_lately: (0.0, Time::ZERO),
            below: Vec::new(),
            up: Vec::new(),
        }
    }

    /// Mouthfuls lately taken here, as another fish would see it at `now`.
    pub(super) fn eaten_lately(&self, now: Time, day: &Day) -> f64 {
        let (mouthfuls, as_of) = self.eaten_lately;
        mouthfuls * (-now.seconds_since(as_of) / day.fish.company_seen_s).exp()
    }

    /// Others see mouthfuls being taken.
    pub(super) fn seen_eating(&mut self, mouthfuls: f64, now: Time, day: &Day) {
        self.eaten_lately = (self.eaten_lately(now, day) + mouthfuls, now);
    }

    /// What has leached from its bait since this was last asked [mol]; bait silts up meanwhile.
    pub(super) fn leach_until(&mut self, now: Time, params: &BaitParams) -> f64 {
        let elapsed_s = now.seconds_since(self.leached_at);
        self.leached_at = now;
        self.attractant.leach(elapsed_s, leach_times_s(params), params.bed_loss_per_s)
    }

    /// How fast bait will leach in the mean over the next step [mol/s].
    pub(super) fn leaches_mol_s(&self, params: &BaitParams) -> f64 {
        if !self.leaching {
            return 0.0;
        }
        let (step_s, silts_per_s) = (params.leach_step_s, params.bed_loss_per_s);
        self.attractant.rate_mol_s(step_s, leach_times_s(params), silts_per_s)
    }

    /// Food and inert matter on the bed [kg].
    pub(super) fn on_bed_kg(&self) -> f64 {
        self.pile.food_kg + self.scatter.food_kg + self.inert_kg
    }

    /// Matter hanging over the line [kg].
    pub(super) fn hanging_kg(&self) -> f64 {
        self.cloud.hanging_kg
    }

    /// Mouthfuls on the bed.
    pub(super) fn mouthfuls(&self) -> f64 {
        self.pile.mouthfuls() + self.scatter.mouthfuls()
    }

    /// Loses bed food and hanging fines up to `now`; returns what went [kg].
    pub(super) fn lose_until(&mut self, now: Time, day: &Day) -> f64 {
        let silted_kg = self.pile.lose_until(now, day.bait.bed_loss_per_s)
            + self.scatter.lose_until(now, day.bait.bed_loss_per_s);
        silted_kg + self.cloud.thin_until(now, day.bait.cloud_loss_per_s)
    }

    /// The pile of the last load becomes part of the scatter.
    pub(super) fn level_pile(&mut self) {
        let mouthful_kg = self.pile.mouthful_kg;
        let food_kg = self.pile.take_all();
        if food_kg > 0.0 {
            self.scatter.add(food_kg, mouthful_kg);
        }
    }
}

/// Area of the pile of one load [m²]: piles of one shape, so by the two-thirds power of the mass.
pub(super) fn pile_area_m2(load_kg: f64, day: &Day) -> f64 {
    let scale = (load_kg / REFERENCE_LOAD_KG).cbrt();
    std::f64::consts::PI * (day.bait.pile_radius_m * scale).powi(2)
}

/// Time constants of the fast pool and of the slow one [s].
fn leach_times_s(params: &BaitParams) -> (f64, f64) {
    (params.leach_fast_time_s, params.leach_slow_time_s)
}
