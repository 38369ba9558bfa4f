//! One plan over all days, added up.

use super::curve::Curve;
use super::result::{
    BaitKg, BaitOf, ByHour, ByShoal, Count, Mean, PlanResult, RuleFired, Swim, TimeShare,
};
use super::weights::{Weights, kg};
use crate::scenario::Scenario;
use crate::session::{Outcome, ShoalCatch, SwimSeen, TimeUse};
use crate::stats::{Moments, quantile, quantile_of_counts};

/// One plan over all days.
///
/// Whole numbers are added up exactly; times and bait are added in the order of the days.
#[derive(Clone, Debug)]
pub(super) struct Tally {
    /// Weights at the scales.
    pub(super) weights: Weights,
    /// How many days landed so many fish.
    fish_counts: Vec<u64>,
    bites: u64,
    lost: u64,
    foul_hooked: u64,
    casts: u64,
    bait_kg: f64,
    /// Each day's bait in milligrams, for its exact decile: another four bytes a day.
    bait_days_mg: Vec<u32>,
    /// The same of each recipe.
    recipe_days_mg: Vec<Vec<u32>>,
    /// Fish and grams of each shoal.
    by_shoal: Vec<(u64, u64)>,
    /// The same in each hour.
    by_hour: Vec<Vec<(u64, u64)>>,
    time: TimeUse,
    swim: SwimSums,
    /// For each rule, times that it fired and days on which it did.
    fired: Vec<(u64, u64)>,
    curve: Curve,
}

/// What went on in the swim, added up.
#[derive(Clone, Copy, Debug, Default)]
struct SwimSums {
    bait_in_water_s: f64,
    hookbait_fishing_s: f64,
    fish_on_line_s: f64,
    fish_up_s: f64,
    mouthfuls_beside: u64,
    hookbait_met: u64,
    scared: u64,
    arrived: u64,
    snags: u64,
    events: u64,
}

impl SwimSums {
    fn add(&mut self, seen: &SwimSeen) {
        self.bait_in_water_s += seen.bait_in_water_s;
        self.hookbait_fishing_s += seen.hookbait_fishing_s;
        self.fish_on_line_s += seen.fish_on_line_s;
        self.fish_up_s += seen.fish_up_s;
        self.mouthfuls_beside += u64::from(seen.mouthfuls_beside);
        self.hookbait_met += u64::from(seen.hookbait_met);
        self.scared += u64::from(seen.scared);
        self.arrived += u64::from(seen.arrived);
        self.snags += u64::from(seen.snags);
        self.events += seen.events;
    }
}

/// One hour [s].
const HOUR_S: f64 = 3600.0;

/// Hours that a session has begun by its end, at least one.
fn hours(session_s: f64) -> usize {
    (session_s / HOUR_S).ceil().max(1.0) as usize
}

/// Kilograms in whole milligrams.
fn milligrams(kg: f64) -> u32 {
    (1e6 * kg).round() as u32
}

/// What one day in ten exceeds [kg]; not a number without days.
fn ninth_decile_kg(days_mg: &[u32]) -> f64 {
    let mut sorted_mg = days_mg.to_vec();
    sorted_mg.sort_unstable();
    quantile(&sorted_mg, 0.9).map_or(f64::NAN, |mg| mg / 1e6)
}

/// A part of a whole; zero where there is no whole.
fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 { part / whole } else { 0.0 }
}

impl Tally {
    /// A plan without days.
    pub(super) fn new(scenario: &Scenario) -> Self {
        Self {
            weights: Weights::default(),
            fish_counts: Vec::new(),
            bites: 0,
            lost: 0,
            foul_hooked: 0,
            casts: 0,
            bait_kg: 0.0,
            bait_days_mg: Vec::new(),
            recipe_days_mg: vec![Vec::new(); scenario.recipes.len()],
            by_shoal: vec![(0, 0); scenario.shoals.len()],
            by_hour: vec![vec![(0, 0); scenario.shoals.len()]; hours(scenario.session_s)],
            time: TimeUse::default(),
            swim: SwimSums::default(),
            fired: Vec::new(),
            curve: Curve::new(scenario.session_s),
        }
    }

    /// Takes in one day's session.
    pub(super) fn add(&mut self, outcome: &Outcome) {
        self.weights.add(outcome.weight_g);
        let fish = outcome.catches.len();
        if self.fish_counts.len() <= fish {
            self.fish_counts.resize(fish + 1, 0);
        }
        self.fish_counts[fish] += 1;
        self.bites += u64::from(outcome.bites);
        self.lost += u64::from(outcome.lost);
        self.foul_hooked += u64::from(outcome.foul_hooked);
        self.casts += u64::from(outcome.casts);
        self.bait_kg += outcome.bait_kg();
        self.bait_days_mg.push(milligrams(outcome.bait_kg()));
        for (sum, &ShoalCatch { fish, weight_g }) in self.by_shoal.iter_mut().zip(&outcome.by_shoal)
        {
            sum.0 += u64::from(fish);
            sum.1 += weight_g;
        }
        for (days_mg, &bait_kg) in self.recipe_days_mg.iter_mut().zip(&outcome.bait_by_recipe_kg) {
            days_mg.push(milligrams(bait_kg));
        }
        let last = self.by_hour.len() - 1;
        for landed in &outcome.catches {
            let hour = ((landed.at_s / HOUR_S) as usize).min(last);
            let sum = &mut self.by_hour[hour][landed.shoal];
            sum.0 += 1;
            sum.1 += u64::from(landed.mass_g);
        }
        let (sum, time) = (&mut self.time, &outcome.time);
        sum.casting_s += time.casting_s;
        sum.waiting_s += time.waiting_s;
        sum.playing_s += time.playing_s;
        sum.rebaiting_s += time.rebaiting_s;
        sum.feeding_s += time.feeding_s;
        sum.other_s += time.other_s;
        self.swim.add(&outcome.swim);
        self.fired.resize(outcome.fired.len(), (0, 0));
        for (sum, &fired) in self.fired.iter_mut().zip(&outcome.fired) {
            sum.0 += u64::from(fired);
            sum.1 += u64::from(fired > 0);
        }
        self.curve.add(outcome);
    }

    /// Number, sum and sum of squares of the weights [g].
    pub(super) fn moments_g(&self) -> &Moments {
        self.weights.moments_g()
    }

    /// Days taken in.
    fn days(&self) -> u64 {
        self.moments_g().n()
    }

    fn fish_landed(&self) -> u64 {
        self.fish_counts.iter().zip(0..).map(|(days, fish)| days * fish).sum()
    }

    /// The plan's result; `best_share` is the scoreboard's to say.
    pub(super) fn result(&self, name: &str, scenario: &Scenario, best_share: f64) -> PlanResult {
        let per_day = |sum: u64| sum as f64 / self.days() as f64;
        let weight_kg = self.weights.summary_kg();
        let fish_at = |p| quantile_of_counts(&self.fish_counts, p).unwrap_or(f64::NAN);
        PlanResult {
            name: name.to_owned(),
            weight_kg,
            weight_kg_between: self.weights.deciles_kg(),
            fish: Count {
                mean: per_day(self.fish_landed()),
                p10: fish_at(0.1),
                p50: fish_at(0.5),
                p90: fish_at(0.9),
            },
            bites: Mean { mean: per_day(self.bites) },
            lost: Mean { mean: per_day(self.lost) },
            foul_hooked: Mean { mean: per_day(self.foul_hooked) },
            casts: Mean { mean: per_day(self.casts) },
            bait_kg: self.bait(),
            baits: self.baits(scenario),
            by_shoal: self.shoals(&self.by_shoal, scenario),
            by_hour: self.hours(scenario),
            time_share: self.time_share(),
            best_share,
            swim: self.swim_result(),
            rules: self.rules(name, scenario),
            curve: self.curve.points(self.days(), &weight_kg),
        }
    }

    /// Sums of fish and grams by shoal, a day.
    fn shoals(&self, sums: &[(u64, u64)], scenario: &Scenario) -> Vec<ByShoal> {
        let per_day = |sum: u64| sum as f64 / self.days() as f64;
        let each = scenario.shoals.iter().zip(sums);
        each.map(|(shoal, &(fish, weight_g))| ByShoal {
            shoal: shoal.name.clone(),
            fish_mean: per_day(fish),
            weight_kg_mean: kg(per_day(weight_g)),
        })
        .collect()
    }

    fn hours(&self, scenario: &Scenario) -> Vec<ByHour> {
        let ends = (1_u32..).map(|hour| (60.0 * f64::from(hour)).min(scenario.session_s / 60.0));
        let each = ends.zip(&self.by_hour);
        each.map(|(until_minute, sums)| ByHour {
            until_minute,
            by_shoal: self.shoals(sums, scenario),
        })
        .collect()
    }

    fn rules(&self, name: &str, scenario: &Scenario) -> Vec<RuleFired> {
        let plan = scenario.plans.iter().find(|plan| plan.name == name);
        let rules = plan.map_or(&[][..], |plan| plan.rules.list.as_slice());
        let days = self.days() as f64;
        let each = rules.iter().zip(&self.fired);
        each.map(|(rule, &(times, on_days))| RuleFired {
            rule: rule.name.clone(),
            mean: times as f64 / days,
            days_share: on_days as f64 / days,
        })
        .collect()
    }

    fn bait(&self) -> BaitKg {
        BaitKg { mean: self.bait_kg / self.days() as f64, p90: ninth_decile_kg(&self.bait_days_mg) }
    }

    fn baits(&self, scenario: &Scenario) -> Vec<BaitOf> {
        let each = scenario.recipes.iter().zip(&self.recipe_days_mg);
        each.filter(|(_, days_mg)| days_mg.iter().any(|&mg| mg > 0))
            .map(|(recipe, days_mg)| BaitOf {
                bait: recipe.name.clone(),
                mean: days_mg.iter().map(|&mg| u64::from(mg)).sum::<u64>() as f64
                    / (1e6 * self.days() as f64),
                p90: ninth_decile_kg(days_mg),
            })
            .collect()
    }

    fn time_share(&self) -> TimeShare {
        let (time, total_s) = (&self.time, self.time.total_s());
        TimeShare {
            casting: share(time.casting_s, total_s),
            waiting: share(time.waiting_s, total_s),
            playing: share(time.playing_s, total_s),
            rebaiting: share(time.rebaiting_s, total_s),
            feeding: share(time.feeding_s, total_s),
            other: share(time.other_s, total_s),
        }
    }

    fn swim_result(&self) -> Swim {
        let (swim, days) = (&self.swim, self.days() as f64);
        let in_water_s = swim.bait_in_water_s;
        let (met, bites) = (swim.hookbait_met as f64, self.bites as f64);
        Swim {
            fish_on_line: share(swim.fish_on_line_s, in_water_s),
            fish_up: share(swim.fish_up_s, in_water_s),
            hookbait_share_of_mouthfuls: share(met, met + swim.mouthfuls_beside as f64),
            taken_share: share(bites, met),
            hookbait_there_share: share(swim.hookbait_fishing_s, in_water_s),
            hours_in_water: in_water_s / (HOUR_S * days),
            bites_per_hour_in_water: share(bites * 3600.0, in_water_s),
            fish_kg: share(kg(self.moments_g().sum() as f64), self.fish_landed() as f64),
            scared: swim.scared as f64 / days,
            arrived: swim.arrived as f64 / days,
            snags: swim.snags as f64 / days,
            events: swim.events as f64 / days,
        }
    }
}
