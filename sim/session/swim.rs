//! One line: the bait that lies there, the scent over it and the fish at it.

use super::day::Day;
use crate::angler::FeedMethod;
use crate::bait::{
    Attractant, BaitParams, Cloud, FallingBait, Feed, Patch, Plume, Puff, REFERENCE_LOAD_KG,
    pile_radius_m,
};
use crate::engine::{Time, indexed_by};
use crate::fish::{
    Alarm, Disturbance, Exposure, FishId, Layer, Leg, company_chance, glare, seen_through_ripples,
    smell_chance,
};
use crate::numerics::{exp, sin_cos, square};
use crate::scenario::Scenario;
use crate::water::{Course, LineId, Point, layer_flow_m_s};

/// Loose feed on its way down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throw {
    /// The particles on their way down.
    pub(super) falling: FallingBait,
    /// Its attractant [mol/kg].
    pub(super) attractant_mol_kg: f64,
    /// What the food in it is made of.
    pub(super) feed: Feed,
    /// How the feed was sent out, as by catapult.
    pub(super) method: FeedMethod,
    /// Whether this feed has reached the bed.
    pub(super) is_down: bool,
}

impl Throw {
    /// Mass that has not yet reached the bed [kg].
    pub(super) fn still_falling_kg(&self) -> f64 {
        if self.is_down { 0.0 } else { self.falling.food_kg + self.falling.inert_kg }
    }
}

/// Chances that a roaming fish notices a line in one look.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cues {
    /// Chance by the scent of the bait on the line.
    pub(super) scent: f64,
    /// Chance by the sight of fish that feed on the line.
    pub(super) company: f64,
}

impl Cues {
    /// Chance to notice the line by either.
    pub(super) fn either(&self) -> f64 {
        1.0 - (1.0 - self.scent) * (1.0 - self.company)
    }
}

/// The swim at one line.
#[derive(Clone, Debug)]
pub(super) struct Swim {
    pub(super) at: Point,
    /// Whether the plan brought bait here or may do so now; else no fish notices the line.
    pub(super) is_used: bool,
    pub(super) depth_m: f64,
    exposure: Exposure,
    /// How well a fish here can be seen from above over the session, by light and ripples, 0 to 1.
    glare: Course,
    /// Where the last load lies.
    pub(super) pile_at: Point,
    /// Radius of the last load [m].
    pub(super) pile_radius_m: f64,
    /// How much less often than in the middle of the line fish search where the last load lies, 0 to 1.
    pub(super) pile_overlap: f64,
    /// The last load, close together.
    pub(super) pile: Patch,
    /// Earlier loads and loose feed.
    pub(super) scatter: Patch,
    /// Matter on the bed that is no food [kg].
    pub(super) inert_kg: f64,
    /// Fines that hang over the line.
    cloud: Cloud,
    /// Attractant that is still in the bait on the bed.
    pub(super) attractant: Attractant,
    pub(super) plume: Plume,
    /// Until when leaching is accounted for.
    leached_until: Time,
    /// Whether the next puff is on the agenda.
    leaching: bool,
    /// Number of mouthfuls taken here lately, and the time for which that number holds.
    recent_mouthfuls: (f64, Time),
    /// Chance that a fish here smells bait in one look, and the time until which it holds.
    scent: (f64, Time),
    /// Alarm after fish that were lost here.
    pub(super) alarm: Alarm,
    /// Disturbance by fish that were hooked here.
    pub(super) disturbance: Disturbance,
    /// Fish that feed on the bed.
    pub(super) below: Vec<FishId>,
    /// Fish up in the water.
    pub(super) up: Vec<FishId>,
}

indexed_by!(LineId: Swim);

/// Time for which the scent at the line counts as the same for the fish there, unless fines are released [s].
const SCENT_HOLDS_S: f64 = 20.0;
/// Largest change of the chance to smell bait by puffs that are merged in the meantime: merged or not, it is within a
/// twentieth of that of all puffs kept apart (V-32).
const MERGING_CHANGES: f64 = 0.1;
/// Step at which the light at a line is worked out; between two steps it goes straight [s].
const GLARE_STEP_S: f64 = 600.0;

impl Swim {
    /// The swim at a line before any bait is thrown.
    pub(super) fn new(at: Point, is_used: bool, scenario: &Scenario, day: &Day) -> Self {
        let depth_m = scenario.chart.depth_m(at);
        let share = day.water.scent_layer_share;
        let wind_m_s = day.conditions.wind_m_s * day.water.shelter_share;
        let flow_m_s = layer_flow_m_s(wind_m_s, share, &day.water);
        let (sin, cos) = sin_cos(day.conditions.wind_to_rad);
        let scatter_m2 = std::f64::consts::PI * square(day.bait.scatter_radius_m);
        Self {
            at,
            is_used,
            depth_m,
            exposure: Exposure::new(scenario.chart.cover_distance_m(at), depth_m, &day.fish),
            glare: Course::sampled(0.0, scenario.session_s, GLARE_STEP_S, |since_s| {
                let wind_m_s = day.courses.wind_m_s.at(since_s) * day.water.shelter_share;
                glare(day.courses.brightness_at(0.5 * depth_m, since_s))
                    * seen_through_ripples(wind_m_s, &day.fish)
            }),
            pile_at: at,
            pile_radius_m: radius_m(pile_area_m2(REFERENCE_LOAD_KG, day)),
            pile_overlap: 1.0,
            pile: Patch::new(pile_area_m2(REFERENCE_LOAD_KG, day)),
            scatter: Patch::new(scatter_m2),
            inert_kg: 0.0,
            cloud: Cloud::default(),
            attractant: Attractant::default(),
            plume: Plume::new(
                share * depth_m,
                day.water.diffusivity_m2_s,
                (flow_m_s * cos, flow_m_s * sin),
                day.water.scent_loss_per_s,
            ),
            leached_until: Time::ZERO,
            leaching: false,
            recent_mouthfuls: (0.0, Time::ZERO),
            scent: (0.0, Time::ZERO),
            alarm: Alarm::none(),
            disturbance: Disturbance::none(),
            below: Vec::new(),
            up: Vec::new(),
        }
    }

    // Fish.

    /// Fish in one layer.
    pub(super) fn layer(&self, layer: Layer) -> &[FishId] {
        match layer {
            Layer::Bottom => &self.below,
            Layer::Up => &self.up,
        }
    }

    fn layer_mut(&mut self, layer: Layer) -> &mut Vec<FishId> {
        match layer {
            Layer::Bottom => &mut self.below,
            Layer::Up => &mut self.up,
        }
    }

    /// Adds a fish to one layer and returns its slot there.
    pub(super) fn add_fish(&mut self, fish: FishId, layer: Layer) -> usize {
        let list = self.layer_mut(layer);
        list.push(fish);
        list.len() - 1
    }

    /// Removes the fish in a slot of one layer; returns the fish that moved into that slot, if any.
    pub(super) fn remove_fish(&mut self, slot: usize, layer: Layer) -> Option<FishId> {
        let list = self.layer_mut(layer);
        list.swap_remove(slot);
        list.get(slot).copied()
    }

    /// Risk of the place for a fish that usually lives `habitual_cover_m` from cover and remembers no fright.
    pub(super) fn risk(&self, habitual_cover_m: f64, now: Time, day: &Day) -> f64 {
        let glare = self.glare.at(now.seconds());
        self.exposure.risk(habitual_cover_m, glare, &day.fish) + self.alarm.risk(now, &day.fish)
    }

    /// The least risk of the place at any time of the session, for a fish that is used to `habitual_cover_m` from cover.
    pub(super) fn min_risk(&self, habitual_cover_m: f64, day: &Day) -> f64 {
        self.exposure.risk(habitual_cover_m, self.glare.bounds()[0], &day.fish)
    }

    /// How surely a fish at the line smells bait, 0 to 1; worked out again every few seconds.
    pub(super) fn scent(&mut self, now: Time, day: &Day) -> f64 {
        let (scent, until) = self.scent;
        if now < until {
            return scent;
        }
        let scent = smell_chance(self.plume.concentration_mol_m3(self.at, now), &day.fish);
        self.scent = (scent, now.after(SCENT_HOLDS_S));
        scent
    }

    /// What a roaming fish at a place can notice of this line.
    pub(super) fn cues(&self, place: Point, now: Time, day: &Day) -> Cues {
        let scent = smell_chance(self.plume.concentration_mol_m3(place, now), &day.fish);
        let company = if self.is_in_sight(place, day) {
            company_chance(self.recent_mouthfuls(now, day), &day.fish)
        } else {
            0.0
        };
        Cues { scent, company }
    }

    /// A bound on the chance that a fish notices this line when it looks round after a leg, at a time from `now` on:
    /// whatever is cast, thrown, released and eaten here until then.
    pub(super) fn notice_bound(&self, leg: &Leg, looks: Time, now: Time, day: &Day) -> f64 {
        let near_m = day.fish.passing_m * day.sight + day.angler.recast_beyond_m;
        let fresh = square(day.bait.puff_radius_m);
        if self.plume.fresh_scent_reaches(leg.to, self.at, fresh, (now, looks))
            || leg.squared_distance_m2(self.at) <= square(near_m)
        {
            return 1.0;
        }
        let company = if self.is_in_sight(leg.to, day) { day.fish.company_share } else { 0.0 };
        if !self.plume.has_finished_puffs() {
            return company;
        }
        let finished_mol_m3 = self.plume.finished_mol_m3(leg.to, looks);
        company + MERGING_CHANGES + smell_chance(finished_mol_m3, &day.fish)
    }

    /// Whether a fish at a place sees others that feed on the line.
    #[inline]
    fn is_in_sight(&self, place: Point, day: &Day) -> bool {
        place.squared_distance_m2(self.at) <= square(day.fish.sight_m * day.sight)
    }

    /// Mouthfuls that were taken here lately, as another fish sees them at `now`; they fade exponentially.
    fn recent_mouthfuls(&self, now: Time, day: &Day) -> f64 {
        let (mouthfuls, as_of) = self.recent_mouthfuls;
        mouthfuls * exp(-now.seconds_since(as_of) / day.fish.company_seen_s)
    }

    /// Adds mouthfuls that other fish can see being taken.
    pub(super) fn add_mouthfuls_taken(&mut self, mouthfuls: f64, now: Time, day: &Day) {
        self.recent_mouthfuls = (self.recent_mouthfuls(now, day) + mouthfuls, now);
    }

    // Bait.

    /// Food and inert matter on the bed [kg].
    pub(super) fn on_bed_kg(&self) -> f64 {
        self.pile.food_kg + self.scatter.food_kg + self.inert_kg
    }

    /// Matter that hangs over the line [kg].
    pub(super) fn hanging_kg(&self) -> f64 {
        self.cloud.hanging_kg
    }

    /// Mouthfuls on the bed.
    pub(super) fn mouthfuls(&self) -> f64 {
        self.pile.mouthfuls() + self.scatter.mouthfuls()
    }

    /// Loses food on the bed and hanging fines up to `now`; returns the mass lost [kg].
    pub(super) fn lose_until(&mut self, now: Time, day: &Day) -> f64 {
        let silted_kg = self.pile.lose_until(now, day.bait.bed_loss_per_s)
            + self.scatter.lose_until(now, day.bait.bed_loss_per_s);
        silted_kg + self.cloud.thin_until(now, day.bait.cloud_loss_per_s)
    }

    /// Prepares the place where a load of a mass [kg] will lie.
    ///
    /// Fish search about the middle of the line, so a pile or a hookbait that lies off it is found more slowly.
    pub(super) fn set_pile_place(&mut self, at: Point, load_kg: f64, day: &Day) {
        let area_m2 = pile_area_m2(load_kg, day);
        self.pile.area_m2 = area_m2;
        self.pile_radius_m = radius_m(area_m2);
        self.pile_at = at;
        let off_m2 = at.squared_distance_m2(self.at);
        let searched_m2 = self.scatter.area_m2;
        self.pile_overlap = exp(-off_m2 * std::f64::consts::PI / (2.0 * searched_m2));
    }

    /// Merges the pile of the last load into the scatter.
    pub(super) fn level_pile(&mut self) {
        let feed = self.pile.feed;
        let food_kg = self.pile.take_all();
        self.scatter.add(food_kg, feed);
    }

    /// Adds fines that do not sink; they release their scent at once. Returns the mass of fines lost until now [kg].
    pub(super) fn add_fines(
        &mut self,
        fines_kg: f64,
        attractant_mol_kg: f64,
        now: Time,
        params: &BaitParams,
    ) -> f64 {
        if fines_kg <= 0.0 {
            return 0.0;
        }
        let lost_kg = self.cloud.thin_until(now, params.cloud_loss_per_s);
        self.cloud.hanging_kg += fines_kg;
        let variance_m2 = square(params.puff_radius_m);
        let amount_mol = fines_kg * attractant_mol_kg;
        self.plume.release(Puff::round(amount_mol, self.at, variance_m2, now));
        self.scent.1 = now;
        lost_kg
    }

    /// Adds attractant in bait on the bed, which leaches from now on.
    ///
    /// Returns whether leaching starts, so that the next puff has to be scheduled.
    pub(super) fn add_attractant(
        &mut self,
        amount_mol: f64,
        now: Time,
        params: &BaitParams,
    ) -> bool {
        let released_mol = if self.leaching { self.leach_until(now, params) } else { 0.0 };
        if released_mol > 0.0 {
            self.release_steadily(released_mol, now, params);
            self.plume.finish_puff(now);
        }
        self.attractant.add(amount_mol, params.leach_fast_share);
        let starts = !self.leaching;
        if starts {
            if self.attractant.is_spent() {
                return false;
            }
            self.leaching = true;
            self.leached_until = now;
        }
        self.release_steadily(0.0, now, params);
        starts
    }

    /// Ends the current puff of leached scent and begins the next; returns whether leaching goes on.
    pub(super) fn end_puff(&mut self, now: Time, params: &BaitParams) -> bool {
        let released_mol = self.leach_until(now, params);
        self.leaching = !self.attractant.is_spent();
        self.release_steadily(released_mol, now, params);
        self.plume.finish_puff(now);
        self.leaching
    }

    /// Attractant that leached since the last call [mol]; bait silts up meanwhile.
    fn leach_until(&mut self, now: Time, params: &BaitParams) -> f64 {
        let elapsed_s = now.seconds_since(self.leached_until);
        self.leached_until = now;
        self.attractant.leach(elapsed_s, leach_times_s(params), params.bed_loss_per_s)
    }

    /// Adds leached attractant to the plume, and sets the mean release rate of the next step.
    fn release_steadily(&mut self, amount_mol: f64, now: Time, params: &BaitParams) {
        let rate_mol_s = if self.leaching {
            let (step_s, silts_per_s) = (params.leach_step_s, params.bed_loss_per_s);
            self.attractant.rate_mol_s(step_s, leach_times_s(params), silts_per_s)
        } else {
            0.0
        };
        let variance_m2 = square(params.puff_radius_m);
        self.plume.release_steadily(self.at, variance_m2, amount_mol, rate_mol_s, now);
    }
}

/// Area of the pile of one load [m²].
fn pile_area_m2(load_kg: f64, day: &Day) -> f64 {
    std::f64::consts::PI * square(pile_radius_m(load_kg, &day.bait))
}

/// Radius of a disc of an area [m].
fn radius_m(area_m2: f64) -> f64 {
    (area_m2 / std::f64::consts::PI).sqrt()
}

/// Time constants of the fast pool and of the slow pool [s].
fn leach_times_s(params: &BaitParams) -> (f64, f64) {
    (params.leach_fast_time_s, params.leach_slow_time_s)
}
