//! Adds up days: a tally per plan, every pair on the same days, the heaviest plan of each day, and the weather.

use super::decompose::decompose;
use super::histogram::DifferenceHistogram;
use super::inference::{
    explained_variance, interval_g, known_water, share_explained, superiority, verdict,
};
use super::plan_result::PlanResult;
use super::result::{PairResult, VerdictRule};
use super::tally::Tally;
use super::weather::WeatherExtremes;
use crate::scenario::Scenario;
use crate::stats::{InputScores, Moments, Paired, Verdict};
use crate::study::estimate::Estimate;
use crate::study::replicate::DayOutcomes;
use crate::study::units::kg;

/// Days added up in order.
#[derive(Clone, Debug)]
pub struct Scoreboard {
    tallies: Vec<Tally>,
    /// Pairs in the order (0, 1), (0, 2), …, (1, 2), ….
    pairs: Vec<Paired>,
    /// For each plan, the number of days on which it was heaviest alone, shared with one other, with two others, ….
    best_with: Vec<Vec<u64>>,
    /// Draws of each uncertain input on the first days.
    unknowns: Vec<Vec<f32>>,
    weather: WeatherExtremes,
    days: u32,
}

/// Maximum number of days whose draws of the uncertain inputs are kept, so that memory stays bounded. They are enough
/// to estimate shares of variance to about one percentage point.
const MAX_DAYS_OF_UNKNOWNS: u32 = 4000;

/// All pairs of `n` plans, each once, in order.
fn pairs_of(n: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..n).flat_map(move |a| (a + 1..n).map(move |b| (a, b)))
}

impl Scoreboard {
    /// An empty scoreboard.
    #[must_use]
    pub fn new(scenario: &Scenario) -> Self {
        let plans = scenario.plans.len();
        Self {
            tallies: vec![Tally::new(scenario); plans],
            pairs: vec![Paired::default(); pairs_of(plans).count()],
            best_with: vec![vec![0; plans]; plans],
            unknowns: Vec::new(),
            weather: WeatherExtremes::default(),
            days: 0,
        }
    }

    /// Number of days added.
    #[must_use]
    pub fn days(&self) -> u32 {
        self.days
    }

    /// Adds one day; days must come in order.
    pub fn add(&mut self, day: &DayOutcomes) {
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
        self.unknowns.resize(self.unknowns.len().max(day.uncertain_inputs.len()), Vec::new());
        if self.days <= MAX_DAYS_OF_UNKNOWNS {
            for (column, &draw) in self.unknowns.iter_mut().zip(&day.uncertain_inputs) {
                column.push(draw as f32);
            }
        }
        self.weather.add(&day.conditions);
    }

    /// Result of every plan, in the order of the scenario; empty before the first day.
    #[must_use]
    pub fn plans(&self, scenario: &Scenario) -> Vec<PlanResult> {
        let days = f64::from(self.days);
        let inputs = InputScores::from_columns(&self.unknowns);
        let plans = scenario.plans.iter().zip(&self.tallies).zip(&self.best_with);
        plans
            .filter_map(|((plan, tally), best_with)| {
                let shared = best_with.iter().zip(1_u32..);
                let best: f64 =
                    shared.map(|(&days, sharing)| days as f64 / f64::from(sharing)).sum();
                let mut result = tally.result(plan, scenario, best / days)?;
                result.known_water = known_water(&inputs, tally.days_g(), &result.weight_kg);
                Some(result)
            })
            .collect()
    }

    /// Number of days by size of the difference in weight between two plans.
    fn differences(&self, a: usize, b: usize) -> DifferenceHistogram {
        let (a_g, b_g) = (self.days_g(a), self.days_g(b));
        DifferenceHistogram::from_grams(
            a_g.iter().zip(b_g).map(|(&a_g, &b_g)| i64::from(a_g) - i64::from(b_g)),
        )
    }

    /// Weight of one plan on each day, in the order of the days [g].
    pub(in crate::study) fn days_g(&self, plan: usize) -> &[u32] {
        self.tallies[plan].days_g()
    }

    /// Number, sum and sum of squares of the weights of one plan [g].
    pub(in crate::study) fn moments_g(&self, plan: usize) -> &Moments {
        self.tallies[plan].moments_g()
    }

    /// Verdict by `rule` on two plans on the same days, `a` before `b` in the scenario.
    pub(in crate::study) fn verdict_between(
        &self,
        a: usize,
        b: usize,
        rule: &VerdictRule,
    ) -> Verdict {
        let mut pairs = pairs_of(self.tallies.len()).zip(&self.pairs);
        let pair = pairs.find(|(pair, _)| *pair == (a, b));
        pair.map_or(Verdict::Inconclusive, |(_, pair)| verdict(pair, rule))
    }

    /// Extremes of the weather so far.
    pub(super) fn weather(&self) -> &WeatherExtremes {
        &self.weather
    }

    /// Largest mean weight of any plan [kg]; zero before the first day.
    pub(in crate::study) fn heaviest_mean_kg(&self) -> f64 {
        let means_g = self.tallies.iter().filter_map(|tally| tally.moments_g().mean());
        kg(means_g.fold(0.0, f64::max))
    }

    /// Whether the verdict on the heaviest plan so far is clear against every other plan.
    pub(super) fn is_clear(&self, rule: &VerdictRule) -> bool {
        let sums = self.tallies.iter().map(|tally| tally.moments_g().sum()).enumerate();
        // The first of equals.
        let best = sums.reduce(|best, next| if next.1 > best.1 { next } else { best });
        pairs_of(self.tallies.len())
            .zip(&self.pairs)
            .filter(|((a, b), _)| best.is_some_and(|(best, _)| best == *a || best == *b))
            .all(|(_, pair)| verdict(pair, rule) != Verdict::Inconclusive)
    }

    /// Every pair of plans on the same days, with verdicts by `rule`; `plans` is the result of every plan.
    pub(super) fn pairs(&self, plans: &[PlanResult], rule: &VerdictRule) -> Vec<PairResult> {
        let days = f64::from(self.days);
        let inputs = InputScores::from_columns(&self.unknowns);
        let pairs = pairs_of(plans.len()).zip(&self.pairs);
        pairs
            .filter_map(|((a, b), pair)| {
                let mean_g = pair.differences().mean()?;
                let (a_g, b_g) = (self.days_g(a), self.days_g(b));
                let explained = explained_variance(&inputs, a_g, b_g);
                Some(PairResult {
                    a: plans[a].name.clone(),
                    b: plans[b].name.clone(),
                    difference_kg: Estimate::from_grams(mean_g, interval_g(pair, rule)),
                    a_ahead_share: pair.a_larger() as f64 / days,
                    tie_share: pair.ties() as f64 / days,
                    correlation: pair.correlation(),
                    factors: decompose(&plans[a], &plans[b]),
                    histogram: self.differences(a, b),
                    difference_se_kg: pair.differences().se().map(kg),
                    verdict: verdict(pair, rule),
                    superiority: superiority(pair, a_g, b_g, explained.as_ref()),
                    days_saved_factor: pair.days_saved_factor(),
                    uncertain_inputs_share: explained.map(|explained| share_explained(&explained)),
                })
            })
            .collect()
    }
}
