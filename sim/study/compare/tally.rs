//! Sums of one plan over all days.

use super::curve::Curve;
use super::plan_result::{
    BaitAmount, BaitKg, ByHour, ByShoal, Count, MeanCount, PlanResult, RuleFired, SwimSummary,
};
use super::weights::Weights;
use crate::angler::Plan;
use crate::scenario::Scenario;
use crate::session::{Activity, Outcome, ShoalCatch, SwimStatistics, TimeUse};
use crate::stats::{Moments, histogram_quantile, quantile};
use crate::study::units::kg;

/// Sums of one plan over all days.
///
/// Whole numbers are added up exactly; times and bait are added in the order of the days.
#[derive(Clone, Debug)]
pub(super) struct Tally {
    /// Weights at the scales.
    weights: Weights,
    /// Number of days by number of fish landed.
    fish_counts: Vec<u64>,
    bites: u64,
    lost: u64,
    foul_hooked: u64,
    casts: u64,
    bait_kg: f64,
    /// Bait of each day, for its exact decile: four bytes per day [mg].
    bait_days_mg: Vec<u32>,
    /// Bait of each day for each recipe [mg].
    recipe_days_mg: Vec<Vec<u32>>,
    /// Number and weight of fish from each shoal [g].
    by_shoal: Vec<ShoalSum>,
    /// Number and weight of fish from each shoal, in each hour.
    by_hour: Vec<Vec<ShoalSum>>,
    time_s: TimeUse,
    swim: SwimSums,
    /// How often each rule fired.
    fired: Vec<RuleSum>,
    curve: Curve,
}

/// Fish landed from one shoal.
#[derive(Clone, Copy, Debug, Default)]
struct ShoalSum {
    fish: u64,
    weight_g: u64,
}

/// How often one rule fired.
#[derive(Clone, Copy, Debug, Default)]
struct RuleSum {
    times: u64,
    days: u64,
}

/// Sums of what happened in the swim.
#[derive(Clone, Copy, Debug, Default)]
struct SwimSums {
    bait_in_water_s: f64,
    hookbait_fishing_s: f64,
    fish_on_line_s: f64,
    fish_up_s: f64,
    other_mouthfuls: u64,
    hookbait_met: u64,
    scared: u64,
    arrived: u64,
    snags: u64,
    events: u64,
}

impl SwimSums {
    fn add(&mut self, seen: &SwimStatistics) {
        self.bait_in_water_s += seen.bait_in_water_s;
        self.hookbait_fishing_s += seen.hookbait_fishing_s;
        self.fish_on_line_s += seen.fish_on_line_s;
        self.fish_up_s += seen.fish_up_s;
        self.other_mouthfuls += u64::from(seen.mouthfuls_beside);
        self.hookbait_met += u64::from(seen.hookbait_met);
        self.scared += u64::from(seen.scared);
        self.arrived += u64::from(seen.arrived);
        self.snags += u64::from(seen.snags);
        self.events += seen.events;
    }
}

/// One hour [s].
const HOUR_S: f64 = 3600.0;

/// Number of hours in a session, the last one possibly shorter; at least one.
fn hours(session_s: f64) -> usize {
    (session_s / HOUR_S).ceil().max(1.0) as usize
}

/// Converts kilograms to whole milligrams.
fn milligrams(kg: f64) -> u32 {
    (1e6 * kg).round() as u32
}

/// Ninth decile [kg]. `None` without days.
fn ninth_decile_kg(days_mg: &[u32]) -> Option<f64> {
    let mut sorted_mg = days_mg.to_vec();
    sorted_mg.sort_unstable();
    quantile(&sorted_mg, 0.9).map(|mg| mg / 1e6)
}

/// Share of a part in a whole; zero if the whole is zero.
fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 { part / whole } else { 0.0 }
}

impl Tally {
    /// A tally without days.
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
            by_shoal: vec![ShoalSum::default(); scenario.shoals.len()],
            by_hour: vec![
                vec![ShoalSum::default(); scenario.shoals.len()];
                hours(scenario.session_s)
            ],
            time_s: TimeUse::default(),
            swim: SwimSums::default(),
            fired: Vec::new(),
            curve: Curve::new(scenario.session_s),
        }
    }

    /// Adds the session of one day.
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
            sum.fish += u64::from(fish);
            sum.weight_g += weight_g;
        }
        for (days_mg, &bait_kg) in self.recipe_days_mg.iter_mut().zip(&outcome.bait_by_recipe_kg) {
            days_mg.push(milligrams(bait_kg));
        }
        let last = self.by_hour.len() - 1;
        for landed in &outcome.catches {
            let hour = ((landed.at_s / HOUR_S) as usize).min(last);
            let sum = &mut self.by_hour[hour][landed.shoal];
            sum.fish += 1;
            sum.weight_g += u64::from(landed.mass_g);
        }
        for activity in Activity::ALL {
            self.time_s[activity] += outcome.time_s[activity];
        }
        self.swim.add(&outcome.swim);
        self.fired.resize(outcome.fired.len(), RuleSum::default());
        for (sum, &fired) in self.fired.iter_mut().zip(&outcome.fired) {
            sum.times += u64::from(fired);
            sum.days += u64::from(fired > 0);
        }
        self.curve.add(outcome);
    }

    /// Number, sum and sum of squares of the weights [g].
    pub(super) fn moments_g(&self) -> &Moments {
        self.weights.moments_g()
    }

    /// Weight of each day, in the order of the days [g].
    pub(super) fn days_g(&self) -> &[u32] {
        self.weights.days_g()
    }

    /// Number of days added.
    fn days(&self) -> u64 {
        self.moments_g().n()
    }

    fn fish_landed(&self) -> u64 {
        self.fish_counts.iter().zip(0..).map(|(days, fish)| days * fish).sum()
    }

    /// Result of the plan; `best_share` comes from the scoreboard. `None` without days.
    pub(super) fn result(
        &self,
        plan: &Plan,
        scenario: &Scenario,
        best_share: f64,
    ) -> Option<PlanResult> {
        let per_day = |sum: u64| sum as f64 / self.days() as f64;
        let (weight_kg, weight_kg_between) = self.weights.summary_kg()?;
        let fish_quantile = |p| histogram_quantile(&self.fish_counts, p);
        Some(PlanResult {
            name: plan.name.clone(),
            weight_kg,
            decile_intervals_kg: weight_kg_between,
            known_water: None,
            fish: Count {
                mean: per_day(self.fish_landed()),
                p10: fish_quantile(0.1)?,
                p50: fish_quantile(0.5)?,
                p90: fish_quantile(0.9)?,
            },
            bites: MeanCount { mean: per_day(self.bites) },
            lost: MeanCount { mean: per_day(self.lost) },
            foul_hooked: MeanCount { mean: per_day(self.foul_hooked) },
            casts: MeanCount { mean: per_day(self.casts) },
            bait_kg: BaitKg {
                mean: self.bait_kg / self.days() as f64,
                p90: ninth_decile_kg(&self.bait_days_mg)?,
            },
            baits: self.baits(scenario),
            by_shoal: self.shoals(&self.by_shoal, scenario),
            by_hour: self.hours(scenario),
            time_share: self.time_share(),
            best_share,
            swim: self.swim_result(),
            rules: self.rules(plan),
            curve: self.curve.points(self.days(), &weight_kg),
        })
    }

    /// Catch per day by shoal.
    fn shoals(&self, sums: &[ShoalSum], scenario: &Scenario) -> Vec<ByShoal> {
        let per_day = |sum: u64| sum as f64 / self.days() as f64;
        let shoals = scenario.shoals.iter().zip(sums);
        shoals
            .map(|(shoal, sum)| ByShoal {
                shoal: shoal.name.clone(),
                fish_mean: per_day(sum.fish),
                weight_kg_mean: kg(per_day(sum.weight_g)),
            })
            .collect()
    }

    fn hours(&self, scenario: &Scenario) -> Vec<ByHour> {
        let ends = (1_u32..).map(|hour| (60.0 * f64::from(hour)).min(scenario.session_s / 60.0));
        let hours = ends.zip(&self.by_hour);
        hours
            .map(|(until_minute, sums)| ByHour {
                until_minute,
                by_shoal: self.shoals(sums, scenario),
            })
            .collect()
    }

    fn rules(&self, plan: &Plan) -> Vec<RuleFired> {
        let days = self.days() as f64;
        let rules = plan.rules.list.iter().zip(&self.fired);
        rules
            .map(|(rule, sum)| RuleFired {
                rule: rule.name.clone(),
                mean: sum.times as f64 / days,
                days_share: sum.days as f64 / days,
            })
            .collect()
    }

    fn baits(&self, scenario: &Scenario) -> Vec<BaitAmount> {
        let recipes = scenario.recipes.iter().zip(&self.recipe_days_mg);
        recipes
            .filter(|(_, days_mg)| days_mg.iter().any(|&mg| mg > 0))
            .filter_map(|(recipe, days_mg)| {
                let sum_mg: u64 = days_mg.iter().map(|&mg| u64::from(mg)).sum();
                Some(BaitAmount {
                    bait: recipe.name.clone(),
                    mean: sum_mg as f64 / (1e6 * self.days() as f64),
                    p90: ninth_decile_kg(days_mg)?,
                })
            })
            .collect()
    }

    fn time_share(&self) -> TimeUse {
        let total_s = self.time_s.total();
        TimeUse::from_fn(|activity| share(self.time_s[activity], total_s))
    }

    fn swim_result(&self) -> SwimSummary {
        let (swim, days) = (&self.swim, self.days() as f64);
        let in_water_s = swim.bait_in_water_s;
        let (met, bites) = (swim.hookbait_met as f64, self.bites as f64);
        SwimSummary {
            fish_on_line: share(swim.fish_on_line_s, in_water_s),
            fish_up: share(swim.fish_up_s, in_water_s),
            hookbait_share_of_mouthfuls: share(met, met + swim.other_mouthfuls as f64),
            taken_share: share(bites, met),
            hookbait_available_share: share(swim.hookbait_fishing_s, in_water_s),
            hours_in_water: in_water_s / (HOUR_S * days),
            bites_per_hour_in_water: share(bites * HOUR_S, in_water_s),
            fish_kg: share(kg(self.moments_g().sum() as f64), self.fish_landed() as f64),
            scared: swim.scared as f64 / days,
            arrived: swim.arrived as f64 / days,
            snags: swim.snags as f64 / days,
            events: swim.events as f64 / days,
        }
    }
}
