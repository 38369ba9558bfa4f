//! How well the plans meet each aim, and which of them differ clearly from the best.

use rayon::prelude::*;

use super::accumulate::Scoreboard;
use super::result::{Aim, AimPlan, AimResult, VerdictRule};
use crate::scenario::{Aims, Scenario, Section};
use crate::session::Day;
use crate::stats::{
    Interval, Moments, PairedTable, Summary, expected_maximum, lower_tail_mean, lowest_influences,
    lowest_mean_interval, mean_interval, normal_score_correlation, normal_scores,
    placing_probability, probability_above, rank_influences, share_interval, wilson_interval,
};
use crate::study::estimate::Estimate;
use crate::study::units::{interval_kg, kg};

/// Confidence level of the interval of one plan in one aim.
const LEVEL: f64 = 0.95;
/// Results for every aim of the scenario; empty below two days.
pub(super) fn aims(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    rule: &VerdictRule,
) -> Vec<AimResult> {
    let samples = PlanSamples {
        names: scenario.plans.iter().map(|plan| plan.name.as_str()).collect(),
        weights_g: (0..scenario.plans.len()).map(|plan| board.days_g(plan)).collect(),
        level: rule.level_of_each,
    };
    if board.days() < 2 || samples.names.is_empty() {
        return Vec::new();
    }
    let mut results = Vec::from_iter(samples.mean_weight());
    if let Some(target_kg) = scenario.aims.target_kg {
        let is_above = |weight_g: u32| kg(f64::from(weight_g)) > target_kg;
        let result = samples.probability(Aim::Target, true, is_above);
        results.push(AimResult { threshold: Some(target_kg), ..result });
    }
    if let Some(section) = &scenario.aims.section {
        results.extend(samples.section(section, &day_scores(scenario, seed, board.days())));
    }
    results.push(samples.probability(Aim::Blank, false, |weight_g| weight_g == 0));
    let worst_share = scenario.aims.worst_share.unwrap_or(Aims::WORST_SHARE);
    results.extend(samples.worst_days(worst_share));
    results
}

/// Weights of all plans on the same days.
struct PlanSamples<'a> {
    names: Vec<&'a str>,
    /// Weight of each plan on each day [g].
    weights_g: Vec<&'a [u32]>,
    /// Confidence level at which two plans are compared.
    level: f64,
}

impl PlanSamples<'_> {
    fn days(&self) -> usize {
        self.weights_g[0].len()
    }

    /// Assembles the result of one aim; `difference(a, b)` is the interval for the value of plan a minus that of
    /// plan b.
    fn result(
        &self,
        aim: Aim,
        more_is_better: bool,
        values: &[Estimate],
        difference: impl Fn(usize, usize) -> Option<Interval>,
    ) -> AimResult {
        let sign = if more_is_better { 1.0 } else { -1.0 };
        let score = |plan: usize| sign * values[plan].value;
        // The first of equals.
        let better = |best: usize, next| if score(next) > score(best) { next } else { best };
        let best = (0..values.len()).reduce(better).unwrap_or(0);
        let is_clearly_worse = |plan: usize| {
            difference(best, plan).is_some_and(|interval| {
                if more_is_better { interval.low > 0.0 } else { interval.high < 0.0 }
            })
        };
        AimResult {
            aim,
            unit: if matches!(aim, Aim::MeanWeight | Aim::WorstDays) { "kg" } else { "share" },
            more_is_better,
            threshold: None,
            rivals: None,
            plans: self
                .names
                .iter()
                .zip(values)
                .map(|(name, &result)| AimPlan { name: (*name).to_owned(), result })
                .collect(),
            best: self.names[best].to_owned(),
            not_clearly_worse: (0..values.len())
                .filter(|&plan| plan != best && !is_clearly_worse(plan))
                .map(|plan| self.names[plan].to_owned())
                .collect(),
        }
    }

    /// Result for the greatest mean weight. `None` without days.
    fn mean_weight(&self) -> Option<AimResult> {
        let value = |days_g: &&[u32]| {
            let moments_g = moments(days_g.iter().map(|&weight_g| i64::from(weight_g)));
            let mean = Estimate::from_grams(moments_g.mean()?, interval_g(&moments_g, LEVEL));
            Some(mean.of_weight())
        };
        let values: Vec<Estimate> = self.weights_g.iter().map(value).collect::<Option<_>>()?;
        Some(self.result(Aim::MeanWeight, true, &values, |a, b| {
            let days = self.weights_g[a].iter().zip(self.weights_g[b]);
            let differences_g = days.map(|(&a_g, &b_g)| i64::from(a_g) - i64::from(b_g));
            interval_g(&moments(differences_g), self.level).map(interval_kg)
        }))
    }

    /// Result for the probability of an event that the weight of a day decides.
    fn probability(
        &self,
        aim: Aim,
        more_is_better: bool,
        happens: impl Fn(u32) -> bool,
    ) -> AimResult {
        let days = self.days() as u64;
        let value = |days_g: &&[u32]| {
            let count = days_g.iter().filter(|&&weight_g| happens(weight_g)).count();
            share_of_days(count as f64, days)
        };
        let values: Vec<Estimate> = self.weights_g.iter().map(value).collect();
        self.result(aim, more_is_better, &values, |a, b| {
            let mut table = PairedTable::default();
            for (&a_g, &b_g) in self.weights_g[a].iter().zip(self.weights_g[b]) {
                table.add(happens(a_g), happens(b_g));
            }
            table.difference(self.level)
        })
    }

    /// Results for the probabilities of winning the section and of a place in the frame.
    ///
    /// Given the quality of a day, rivals are independent, so that the probability is computed and not simulated; it
    /// is then averaged over the days. All plans meet the same rivals on the same days. The quality of a day is its rank among
    /// the days fished, so a day counts in the intervals by what it does to the ranks of the others, too.
    fn section(&self, section: &Section, day_scores: &[f64]) -> [AimResult; 2] {
        let r = normal_score_correlation(section.shared);
        let best_rival_kg =
            expected_maximum(section.rivals, r, |score| section.weight.kg_at_score(score));
        let result = |aim, places: u32, at| {
            let place = |score: f64, day_score: f64| {
                placing_probability(section.rivals, places, probability_above(score, day_score, r))
            };
            let shares: Vec<RankedShare> = self
                .weights_g
                .iter()
                .map(|weights_g| {
                    let score = |&weight_g: &u32| section.weight.score_of(kg(f64::from(weight_g)));
                    RankedShare::new(weights_g.iter().map(score), day_scores, place)
                })
                .collect();
            let values: Vec<Estimate> = shares.iter().map(RankedShare::estimate).collect();
            let result = self.result(aim, true, &values, |a, b| {
                let (a, b) = (&shares[a], &shares[b]);
                let mut differences = Summary::default();
                let days = a.influences.iter().zip(&b.influences);
                days.for_each(|(a, b)| differences.add(a - b));
                let apart = a.mean - b.mean;
                mean_interval(apart, differences.se()?, differences.n(), self.level)
            });
            AimResult { threshold: Some(at), rivals: Some(section.rivals), ..result }
        };
        [
            result(Aim::Win, 1, best_rival_kg),
            result(Aim::Frame, section.places, f64::from(section.places)),
        ]
    }

    /// Result for the mean weight on the worst days of each plan. `None` without days.
    fn worst_days(&self, share: f64) -> Option<AimResult> {
        let days = self.days() as u64;
        let tail_kg = |weights_g: &&[u32]| {
            let sorted = indices_by_size(weights_g).into_iter();
            let counted = sorted.map(|day| (f64::from(weights_g[day]), 1));
            lower_tail_mean(counted, days, share).map(kg)
        };
        let tails_kg: Vec<f64> = self.weights_g.iter().map(tail_kg).collect::<Option<_>>()?;
        let influences = |weights_g: &&[u32]| {
            let weights_kg: Vec<f64> = weights_g.iter().map(|&g| kg(f64::from(g))).collect();
            lowest_influences(&weights_kg, share)
        };
        let influences: Vec<Vec<f64>> = self.weights_g.iter().map(influences).collect();
        let value = |(&value, influences): (&f64, &Vec<f64>)| {
            let interval = lowest_mean_interval(value, influences, share, LEVEL);
            Estimate { value, interval }.of_weight()
        };
        let values: Vec<Estimate> = tails_kg.iter().zip(&influences).map(value).collect();
        let result = self.result(Aim::WorstDays, true, &values, |a, b| {
            let pairs = influences[a].iter().zip(&influences[b]);
            let difference: Vec<f64> = pairs.map(|(a, b)| a - b).collect();
            lowest_mean_interval(tails_kg[a] - tails_kg[b], &difference, share, self.level)
        });
        Some(AimResult { threshold: Some(share), ..result })
    }
}

/// A share that is a mean over days of chances that depend on the rank of each day.
struct RankedShare {
    mean: f64,
    influences: Vec<f64>,
}

impl RankedShare {
    /// Step of a normal score over which the slope of a chance is taken.
    const STEP: f64 = 1e-3;

    fn new(
        scores: impl Iterator<Item = f64>,
        day_scores: &[f64],
        chance: impl Fn(f64, f64) -> f64,
    ) -> Self {
        let (chances, slopes): (Vec<f64>, Vec<f64>) = scores
            .zip(day_scores)
            .map(|(score, &day)| {
                let [less, more] = [-Self::STEP, Self::STEP].map(|step| chance(score, day + step));
                (chance(score, day), (more - less) / (2.0 * Self::STEP))
            })
            .unzip();
        let mean = chances.iter().sum::<f64>() / chances.len() as f64;
        Self { mean, influences: rank_influences(&chances, &slopes, day_scores) }
    }

    fn estimate(&self) -> Estimate {
        let interval = share_interval(self.mean, &self.influences, LEVEL);
        Estimate { value: self.mean, interval }
    }
}

/// Quality of days 1 to `days` as normal scores, by what each day offers to everybody ([`Day::keen_kg`]) whatever the plans.
fn day_scores(scenario: &Scenario, seed: u64, days: u32) -> Vec<f64> {
    let qualities_kg: Vec<f64> = (1..=days)
        .into_par_iter()
        .map(|number| Day::draw(scenario, seed, number).keen_kg(scenario.session_s))
        .collect();
    normal_scores(&qualities_kg)
}

/// Sums of whole numbers [g].
fn moments(weights_g: impl Iterator<Item = i64>) -> Moments {
    let mut moments = Moments::default();
    weights_g.for_each(|weight_g| moments.add(weight_g));
    moments
}

/// Interval for a mean weight [g]. `None` below two days.
fn interval_g(moments_g: &Moments, level: f64) -> Option<Interval> {
    mean_interval(moments_g.mean()?, moments_g.se()?, moments_g.n(), level)
}

/// Share of days with Wilson's interval; `count` may be fractional.
fn share_of_days(count: f64, days: u64) -> Estimate {
    Estimate { value: count / days as f64, interval: wilson_interval(count, days, LEVEL) }
}

/// Indices of the values in order of size.
fn indices_by_size(values: &[u32]) -> Vec<usize> {
    let mut indices: Vec<usize> = (0..values.len()).collect();
    indices.sort_by_key(|&index| values[index]);
    indices
}
