//! The state of the twin, its rod and its bait.

use sim::bait::{FallingBait, Feed, pile_radius_m};
use sim::engine::{Dice, Time};
use sim::fish::{Fish, Sound, Trait, full_mouth_kg, gut_rate_per_h, richness, size_fit};
use sim::scenario::Scenario;
use sim::session::Day;
use sim::water::Point;

/// What a fish of the twin does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Doing {
    /// Swims a leg in its home range, or back to the line.
    Leg,
    /// Pauses after a leg, until it looks round.
    Pause,
    /// Swims to where it believes the line to be.
    Approach,
    /// Searches, sucks and swallows at the line.
    Feed,
    /// Swims to a refuge.
    Flight,
    /// Stays there.
    Refuge,
}

/// One fish of the twin.
#[derive(Clone, Debug)]
pub(super) struct TwinFish {
    pub(super) own: Fish,
    pub(super) at: Point,
    pub(super) to: Point,
    pub(super) from: Point,
    pub(super) doing: Doing,
    /// Until when a pause, a refuge or a mouthful lasts [s].
    pub(super) until_s: f64,
    /// Whether its last leg took it past bait.
    pub(super) passed: bool,
    pub(super) gut_kg: f64,
    /// Remembered intake [mouthfuls/s], and what it expects after a signal as a multiple of that elsewhere.
    pub(super) intake_per_s: f64,
    pub(super) expected: f64,
    pub(super) found: f64,
    pub(super) signal_s: f64,
    pub(super) has_fed: bool,
    pub(super) on_pile: bool,
    pub(super) avoids_line_until_s: f64,
    pub(super) avoids_hook_until_s: f64,
    /// Whether its present search knows of the hookbait.
    pub(super) seeks_hook: bool,
}

/// What is compared with the session.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct TwinOutcome {
    pub(super) arrived: f64,
    pub(super) eaten_kg: f64,
    pub(super) met: f64,
    pub(super) bites: f64,
}

/// Where the rig is: out of the water, sinking or on the bed, until a time [s].
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum TwinRig {
    Ashore { cast_s: f64 },
    Sinks { lands_s: f64 },
    Bed { opens_s: f64, down_s: f64 },
}

/// One line, one shoal, one rod whose bites are all missed.
pub(super) struct FishTwin<'a> {
    pub(super) water: &'a Scenario,
    pub(super) day: &'a Day,
    pub(super) step_s: f64,
    pub(super) now_s: f64,
    pub(super) dice: Dice,
    pub(super) fish: Vec<TwinFish>,
    pub(super) rig: TwinRig,
    pub(super) recast_s: f64,
    pub(super) feed: Feed,
    pub(super) load_food_kg: f64,
    pub(super) pile_kg: f64,
    pub(super) laid_kg_m2: f64,
    pub(super) scatter_kg: f64,
    pub(super) scatter_m2: f64,
    pub(super) pile_radius_m: f64,
    /// Until when a hookbait lies there that fish can take; `None` if there is none [s].
    pub(super) hook_until_s: Option<f64>,
    /// Mouthfuls that others saw being taken.
    pub(super) seen: f64,
    pub(super) outcome: TwinOutcome,
}

impl<'a> FishTwin<'a> {
    pub(super) fn new(water: &'a Scenario, day: &'a Day, step_s: f64) -> Self {
        let tackle = water.plans[0].phases[0].tackle;
        let recipe = &day.recipes[tackle.recipe];
        let depth_m = water.chart.depth_m(water.lines[0].at);
        let sorted = FallingBait::new(recipe, tackle.load_kg, depth_m, &day.fluid, &day.bait);
        let angler = &day.angler;
        let fish = day.stock.iter().map(|own| {
            let at = own.way.position(Time::ZERO);
            TwinFish {
                own: own.clone(),
                at,
                to: at,
                from: at,
                doing: Doing::Pause,
                until_s: -1.0,
                passed: false,
                gut_kg: own.appetite.gut_kg,
                intake_per_s: 0.0,
                expected: day.fish.arrival_optimism,
                found: 0.0,
                signal_s: 0.0,
                has_fed: false,
                on_pile: false,
                avoids_line_until_s: 0.0,
                avoids_hook_until_s: 0.0,
                seeks_hook: true,
            }
        });
        let mut twin = Self {
            water,
            day,
            step_s,
            now_s: 0.0,
            dice: Dice::from_key(&[77, u64::from(day.number), (1.0 / step_s) as u64]),
            fish: fish.collect(),
            rig: TwinRig::Ashore { cast_s: angler.load_s + angler.cast_flight_s },
            recast_s: f64::INFINITY,
            feed: recipe.feed(),
            load_food_kg: sorted.food_kg * (1.0 - day.bait.cast_wash_share),
            pile_kg: 0.0,
            laid_kg_m2: 0.0,
            scatter_kg: 0.0,
            scatter_m2: std::f64::consts::PI * day.bait.scatter_radius_m.powi(2),
            pile_radius_m: pile_radius_m(tackle.load_kg, &day.bait),
            hook_until_s: None,
            seen: 0.0,
            outcome: TwinOutcome::default(),
        };
        (0..twin.fish.len()).for_each(|fish| twin.set_out(fish));
        twin
    }

    /// Fishes to the end.
    pub(super) fn run(mut self) -> TwinOutcome {
        while self.now_s < self.water.session_s {
            self.now_s += self.step_s;
            self.move_rig();
            self.fade();
            (0..self.fish.len()).for_each(|fish| self.move_fish(fish));
        }
        self.outcome
    }

    pub(super) fn line(&self) -> Point {
        self.water.lines[0].at
    }

    /// Whether something of a mean time happens within a step.
    pub(super) fn happens(&mut self, per_s: f64) -> bool {
        self.dice.bernoulli(1.0 - (-per_s * self.step_s).exp())
    }

    // Rod and bait.

    fn move_rig(&mut self) {
        let (day, tackle) = (self.day, self.water.plans[0].phases[0].tackle);
        let now_s = self.now_s;
        match self.rig {
            TwinRig::Ashore { cast_s } if cast_s <= now_s => {
                self.splash(tackle.feeder_kg + tackle.load_kg);
                let depth_m = self.water.chart.depth_m(self.line());
                self.recast_s = cast_s + tackle.recast_s;
                self.rig = TwinRig::Sinks { lands_s: cast_s + depth_m / day.angler.sink_m_s };
            }
            TwinRig::Sinks { lands_s } if lands_s <= now_s => {
                let thickness = f64::powf(tackle.load_kg / 0.025, day.bait.opening_load_exponent);
                let opens_after_s = day.recipes[tackle.recipe].opens_after_s;
                let starts_s = opens_after_s * day.bait.opens_factor * thickness;
                let opens_s = lands_s + starts_s;
                let down_s = opens_s + starts_s * day.bait.opening_length_ratio;
                self.rig = TwinRig::Bed { opens_s, down_s };
            }
            TwinRig::Bed { opens_s, down_s } => {
                if opens_s <= now_s {
                    self.drop_load(day.bait.first_share);
                    let lasts_s = day.hookbaits[tackle.hookbait].lasts_s * day.bait.lasts_factor;
                    self.hook_until_s = Some(now_s + self.dice.exponential(1.0) * lasts_s);
                    self.rig = TwinRig::Bed { opens_s: f64::INFINITY, down_s };
                    self.encourage();
                } else if down_s <= now_s {
                    self.drop_load(1.0 - day.bait.first_share);
                    self.rig = TwinRig::Bed { opens_s, down_s: f64::INFINITY };
                    self.encourage();
                } else if self.recast_s <= now_s {
                    self.wind_in();
                }
            }
            _ => {}
        }
        if self.hook_until_s.is_some_and(|until_s| until_s <= now_s) {
            self.hook_until_s = None;
        }
    }

    fn drop_load(&mut self, share: f64) {
        self.pile_kg += share * self.load_food_kg;
        let area_m2 = std::f64::consts::PI * self.pile_radius_m.powi(2);
        self.laid_kg_m2 = self.pile_kg / area_m2;
    }

    /// Fish at the line expect more as feed comes down.
    fn encourage(&mut self) {
        let params = &self.day.fish;
        for fish in self.fish.iter_mut().filter(|fish| fish.doing == Doing::Feed) {
            let full_kg = full_mouth_kg(self.feed.mouthful_kg, fish.own.length_m);
            let fit = size_fit(self.feed.diameter_m, fish.own.gape_m, params);
            let worth = richness(fit * self.pile_kg / full_kg, params);
            let times = 1.0 + (fish.expected - 1.0) * worth;
            fish.intake_per_s = fish.intake_per_s.max(times * params.elsewhere_per_s);
            fish.seeks_hook = fish.avoids_hook_until_s <= self.now_s;
        }
    }

    /// The rig comes in, what lay together is scattered, and the next cast follows.
    pub(super) fn wind_in(&mut self) {
        let angler = &self.day.angler;
        let out_m = self.line().distance_m(Point::default());
        let busy_s = out_m / angler.wind_in_m_s + angler.load_s + angler.cast_flight_s;
        self.rig = TwinRig::Ashore { cast_s: self.now_s + busy_s };
        self.hook_until_s = None;
        self.scatter_kg += std::mem::take(&mut self.pile_kg);
        for fish in self.fish.iter_mut().filter(|fish| fish.doing == Doing::Feed) {
            fish.seeks_hook = fish.avoids_hook_until_s <= self.now_s;
        }
    }

    /// A feeder hits the water: some fish come, and those at the line learn what the last one was worth.
    fn splash(&mut self, splash_kg: f64) {
        let (params, line) = (&self.day.fish, self.line());
        let depth_m = self.water.chart.depth_m(line);
        let sound = Sound::new(splash_kg, depth_m, params);
        let activity = self.day.feeding_activity;
        for index in 0..self.fish.len() {
            let fish = &mut self.fish[index];
            if fish.doing == Doing::Feed {
                learn(fish, self.now_s, self.day);
            }
            if !matches!(fish.doing, Doing::Leg | Doing::Pause) {
                continue;
            }
            let distance_m = fish.at.distance_m(line);
            let learned = if fish.has_fed { fish.expected / params.arrival_optimism } else { 1.0 };
            let comes = self.day.traits[fish.own.shoal][Trait::ComesToSplash];
            let share = (comes * params.naive_readiness * learned).min(1.0);
            let chance = share * sound.heard_share(distance_m / activity.sqrt());
            let motivation = self.motivation(index);
            if distance_m < sound.reach_m() && self.dice.bernoulli((chance * motivation).min(1.0)) {
                let error_m = params.locating_error * distance_m;
                let (x_m, y_m) = (error_m * self.dice.normal(), error_m * self.dice.normal());
                let goal = Point { x_m: line.x_m + x_m, y_m: line.y_m + y_m };
                self.approach(index, self.water.chart.clamp(goal));
            }
        }
    }

    /// Guts empty, food silts up, intake and the sight of mouthfuls are forgotten.
    fn fade(&mut self) {
        let day = self.day;
        let gut_per_s = gut_rate_per_h(day.conditions.temperature_c, &day.fish) / 3600.0;
        let left = |per_s: f64| 1.0 - self.step_s * per_s;
        let (silt, gut) = (left(day.bait.bed_loss_per_s), left(gut_per_s));
        let (memory, sight) = (left(1.0 / day.fish.memory_s), left(1.0 / day.fish.company_seen_s));
        self.pile_kg *= silt;
        self.scatter_kg *= silt;
        self.seen *= sight;
        for fish in &mut self.fish {
            fish.gut_kg *= gut;
            fish.intake_per_s *= memory;
        }
    }
}

/// Learns from the intake since the last signal what a signal is worth: V ← V + (1 − exp(−t/τ)) (λ − V).
pub(super) fn learn(fish: &mut TwinFish, now_s: f64, day: &Day) {
    let since_s = (now_s - fish.signal_s).max(1.0);
    let reward = fish.found / since_s / day.fish.elsewhere_per_s;
    let share = 1.0 - (-since_s / day.fish.learning_time_s).exp();
    fish.expected += share * (reward - fish.expected);
    (fish.signal_s, fish.found) = (now_s, 0.0);
}
