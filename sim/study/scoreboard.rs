//! Every plan's tally, every pair on the same days, who came best, and the weather met.

use super::histogram::Histogram;
use super::parts::parts;
use super::replicate::DayFished;
use super::result::{Difference, Pair, PlanResult, Rule};
use super::tally::Tally;
use super::verdicts::{beats, interval_g, share_of, standing, unknown};
use super::weights::kg;
use crate::scenario::Scenario;
use crate::stats::{Inputs, Paired, Standing};

/// Days added up, one after another.
#[derive(Clone, Debug)]
pub struct Scoreboard {
    tallies: Vec<Tally>,
    /// Pairs in the order (0, 1), (0, 2), …, (1, 2), ….
    pairs: Vec<Paired>,
    /// For each plan, on how many days it came best alone, with one other, with two, ….
    best_with: Vec<Vec<u64>>,
    /// What was drawn for each thing that nobody knows, on the first days.
    unknowns: Vec<Vec<f32>>,
    /// The weather met.
    pub(super) weather: WeatherMet,
    days: u32,
}

/// Extremes of the weather over the days, for warnings.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct WeatherMet {
    /// Days with water too warm for comfort.
    pub(super) warm_days: u32,
    /// The warmest water [°C].
    pub(super) warmest_c: f64,
    /// Days with little oxygen.
    pub(super) low_oxygen_days: u32,
    /// The least oxygen [mg/L].
    pub(super) least_oxygen_mg_l: f64,
}

/// Water warmer than this is warned of [°C].
pub(super) const WARM_C: f64 = 24.0;
/// Oxygen below this is warned of [mg/L].
pub(super) const LOW_OXYGEN_MG_L: f64 = 4.0;

/// Days on which what was drawn for the unknown is kept, so that memory does not grow with days beyond: they tell
/// shares of variance to about one per cent.
const MOST_DAYS_OF_UNKNOWNS: u32 = 4000;

/// The pairs of `n` plans, each once, in order.
fn pairs_of(n: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..n).flat_map(move |a| (a + 1..n).map(move |b| (a, b)))
}

impl Scoreboard {
    /// A board without days.
    #[must_use]
    pub fn new(scenario: &Scenario) -> Self {
        let plans = scenario.plans.len();
        Self {
            tallies: vec![Tally::new(scenario); plans],
            pairs: vec![Paired::default(); pairs_of(plans).count()],
            best_with: vec![vec![0; plans]; plans],
            unknowns: Vec::new(),
            weather: WeatherMet { least_oxygen_mg_l: f64::INFINITY, ..WeatherMet::default() },
            days: 0,
        }
    }

    /// Days taken in.
    #[must_use]
    pub fn days(&self) -> u32 {
        self.days
    }

    /// Takes in one day; days must come in order.
    pub fn add(&mut self, day: &DayFished) {
        self.days += 1;
        for (tally, outcome) in self.tallies.iter_mut().zip(&day.outcomes) {
            tally.add(outcome);
        }
        let weights_g: Vec<u64> = day.outcomes.iter().map(|outcome| outcome.weight_g).collect();
        for ((a, b), pair) in pairs_of(weights_g.len()).zip(&mut self.pairs) {
            pair.add(weights_g[a] as i64, weights_g[b] as i64);
        }
        let best_g = weights_g.iter().max();
        let sharing = weights_g.iter().filter(|&weight_g| Some(weight_g) == best_g).count();
        for (best_with, weight_g) in self.best_with.iter_mut().zip(&weights_g) {
            if Some(weight_g) == best_g {
                best_with[sharing - 1] += 1;
            }
        }
        self.unknowns.resize(self.unknowns.len().max(day.unknowns.len()), Vec::new());
        if self.days <= MOST_DAYS_OF_UNKNOWNS {
            for (column, &today) in self.unknowns.iter_mut().zip(&day.unknowns) {
                column.push(today as f32);
            }
        }
        let weather = &mut self.weather;
        weather.warm_days += u32::from(day.conditions.temperature_c > WARM_C);
        weather.warmest_c = weather.warmest_c.max(day.conditions.temperature_c);
        weather.low_oxygen_days += u32::from(day.conditions.oxygen_mg_l < LOW_OXYGEN_MG_L);
        weather.least_oxygen_mg_l = weather.least_oxygen_mg_l.min(day.conditions.oxygen_mg_l);
    }

    /// Every plan's result, in the order of the scenario.
    #[must_use]
    pub fn plans(&self, scenario: &Scenario) -> Vec<PlanResult> {
        let days = f64::from(self.days);
        let each = scenario.plans.iter().zip(&self.tallies).zip(&self.best_with);
        each.map(|((plan, tally), best_with)| {
            let shared = best_with.iter().zip(1_u32..);
            let best: f64 = shared.map(|(&days, sharing)| days as f64 / f64::from(sharing)).sum();
            tally.result(&plan.name, scenario, best / days)
        })
        .collect()
    }

    /// How often each difference in weight of two plans came.
    fn differences(&self, a: usize, b: usize) -> Histogram {
        let (a_g, b_g) = (self.days_g(a), self.days_g(b));
        Histogram::of_grams(a_g.iter().zip(b_g).map(|(&a_g, &b_g)| i64::from(a_g) - i64::from(b_g)))
    }

    /// Each day's weights with one plan, in the order of the days [g].
    pub(super) fn days_g(&self, plan: usize) -> &[u32] {
        self.tallies[plan].weights.days_g()
    }

    /// The heaviest of the plans' mean weights [kg]; nought without days.
    pub(super) fn heaviest_mean_kg(&self) -> f64 {
        let means_g = self.tallies.iter().filter_map(|tally| tally.moments_g().mean());
        kg(means_g.fold(0.0, f64::max))
    }

    /// Whether the heaviest plan so far is told apart from every other, or surely level with it.
    pub(super) fn is_clear(&self, rule: &Rule) -> bool {
        let sums = self.tallies.iter().map(|tally| tally.moments_g().sum()).enumerate();
        // Of equals the first.
        let best = sums.reduce(|best, next| if next.1 > best.1 { next } else { best });
        pairs_of(self.tallies.len())
            .zip(&self.pairs)
            .filter(|((a, b), _)| best.is_some_and(|(best, _)| best == *a || best == *b))
            .all(|(_, pair)| standing(pair, rule) != Standing::Open)
    }

    /// Every pair of plans on the same days, judged by a rule.
    pub(super) fn pairs(&self, scenario: &Scenario, rule: &Rule) -> Vec<Pair> {
        let days = f64::from(self.days);
        let inputs = Inputs::of(&self.unknowns);
        let plans = self.plans(scenario);
        let each = pairs_of(scenario.plans.len()).zip(&self.pairs);
        each.map(|((a, b), pair)| {
            let interval_g = interval_g(pair, rule);
            let (a_g, b_g) = (self.days_g(a), self.days_g(b));
            let unknown = unknown(&inputs, a_g, b_g);
            Pair {
                a: scenario.plans[a].name.clone(),
                b: scenario.plans[b].name.clone(),
                difference_kg: Difference {
                    mean: pair.differences().mean().map_or(f64::NAN, kg),
                    low95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.low)),
                    high95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.high)),
                },
                a_ahead_share: pair.a_ahead() as f64 / days,
                tie_share: pair.ties() as f64 / days,
                correlation: pair.correlation(),
                parts: parts(&plans[a], &plans[b]),
                histogram: self.differences(a, b),
                difference_se_kg: pair.differences().se().map(kg),
                verdict: standing(pair, rule),
                beats: beats(pair, a_g, b_g, unknown.as_ref()),
                days_saved_factor: pair.days_saved_factor(),
                unknowns_share: unknown.map(|unknown| share_of(&unknown)),
            }
        })
        .collect()
    }
}
