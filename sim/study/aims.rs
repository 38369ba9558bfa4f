//! How the plans serve each aim, and which of them are told apart in it.

use super::result::{Aim, AimPlan, AimResult, Rule};
use super::scoreboard::Scoreboard;
use super::weights::kg;
use crate::engine::Dice;
use crate::scenario::{Aims, Scenario, Section};
use crate::stats::{
    Interval, Moments, Resampled, Summary, Together, chance_above, chance_to_place, draw_again,
    expected_greatest, lower_tail_mean, mean_interval, normal_scores, score_correlation,
    t_quantile, wilson,
};

/// Level of the interval of one plan in one aim.
const LEVEL: f64 = 0.95;
/// Samples drawn again for the worst days, where there are not too many days for it.
const RESAMPLES: u32 = 1000;
/// Days drawn again in all, about, whatever the number of days.
const DRAWN_AGAIN: u32 = 4_000_000;
/// The stream from which days are drawn again: no day of a session has this number.
const DRAW_AGAIN: u64 = u64::from_be_bytes(*b"resample");

/// A plan's value in an aim, with its interval.
type Value = (f64, Interval);

/// Every aim that the scenario has; none of fewer than two days.
pub(super) fn aims(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    rule: &Rule,
) -> Vec<AimResult> {
    let bench = Bench {
        names: scenario.plans.iter().map(|plan| plan.name.as_str()).collect(),
        weights_g: (0..scenario.plans.len()).map(|plan| board.days_g(plan)).collect(),
        level: rule.level_of_each,
    };
    if board.days() < 2 || bench.names.is_empty() {
        return Vec::new();
    }
    let mut all = vec![bench.mean_weight()];
    if let Some(target_kg) = scenario.aims.target_kg {
        let past = |weight_g: u32| kg(f64::from(weight_g)) > target_kg;
        all.push(AimResult { at: Some(target_kg), ..bench.event(Aim::Target, true, past) });
    }
    if let Some(section) = &scenario.aims.section {
        all.extend(bench.section(section));
    }
    all.push(bench.event(Aim::Blank, false, |weight_g| weight_g == 0));
    all.push(bench.worst_days(scenario.aims.worst_share.unwrap_or(Aims::WORST_SHARE), seed));
    all
}

/// All plans on the same days.
struct Bench<'a> {
    names: Vec<&'a str>,
    /// Each plan's weight on each day [g].
    weights_g: Vec<&'a [u32]>,
    /// Level at which two plans are told apart.
    level: f64,
}

impl Bench<'_> {
    fn days(&self) -> usize {
        self.weights_g[0].len()
    }

    /// Puts one aim together; `apart` gives the interval for the first plan's value less the second's.
    fn result(
        &self,
        aim: Aim,
        more_is_better: bool,
        values: &[Value],
        apart: impl Fn(usize, usize) -> Option<Interval>,
    ) -> AimResult {
        let sign = if more_is_better { 1.0 } else { -1.0 };
        let worth = |plan: usize| sign * values[plan].0;
        // Of equals the first.
        let better = |best: usize, next| if worth(next) > worth(best) { next } else { best };
        let best = (0..values.len()).reduce(better).unwrap_or(0);
        let is_behind = |other: usize| {
            apart(best, other).is_some_and(|apart| {
                if more_is_better { apart.low > 0.0 } else { apart.high < 0.0 }
            })
        };
        AimResult {
            aim,
            unit: if matches!(aim, Aim::MeanWeight | Aim::WorstDays) { "kg" } else { "share" },
            more_is_better,
            at: None,
            rivals: None,
            plans: self
                .names
                .iter()
                .zip(values)
                .map(|(name, &(value, interval))| AimPlan {
                    name: (*name).to_owned(),
                    value,
                    low95: interval.low,
                    high95: interval.high,
                })
                .collect(),
            best: self.names[best].to_owned(),
            not_told_apart: (0..values.len())
                .filter(|&other| other != best && !is_behind(other))
                .map(|other| self.names[other].to_owned())
                .collect(),
        }
    }

    /// The greatest mean weight.
    fn mean_weight(&self) -> AimResult {
        let moments = |weights: &mut dyn Iterator<Item = i64>| {
            let mut moments = Moments::default();
            weights.for_each(|weight_g| moments.add(weight_g));
            moments
        };
        let interval_kg = |of: &Moments, level| {
            let interval_g = mean_interval(of.mean()?, of.se()?, of.n(), level)?;
            Some(Interval { low: kg(interval_g.low), high: kg(interval_g.high) })
        };
        let value = |days_g: &&[u32]| {
            let of = moments(&mut days_g.iter().map(|&g| i64::from(g)));
            let mean_kg = of.mean().map_or(f64::NAN, kg);
            (mean_kg, interval_kg(&of, LEVEL).unwrap_or(Interval { low: mean_kg, high: mean_kg }))
        };
        let values: Vec<Value> = self.weights_g.iter().map(value).collect();
        self.result(Aim::MeanWeight, true, &values, |one, other| {
            let days = self.weights_g[one].iter().zip(self.weights_g[other]);
            interval_kg(&moments(&mut days.map(|(&a, &b)| i64::from(a) - i64::from(b))), self.level)
        })
    }

    /// The chance that something is so of a day.
    fn event(&self, aim: Aim, more_is_better: bool, is_so: impl Fn(u32) -> bool) -> AimResult {
        let days = self.days() as u64;
        let value = |days_g: &&[u32]| {
            let so = days_g.iter().filter(|&&weight_g| is_so(weight_g)).count() as f64;
            share_of_days(so, days)
        };
        let values: Vec<Value> = self.weights_g.iter().map(value).collect();
        self.result(aim, more_is_better, &values, |one, other| {
            let mut together = Together::default();
            for (&a, &b) in self.weights_g[one].iter().zip(self.weights_g[other]) {
                together.add(is_so(a), is_so(b));
            }
            together.difference(self.level)
        })
    }

    /// How each day fishes, as normal scores: a day is good where the plans' weights rank high among the days.
    fn day_scores(&self) -> Vec<f64> {
        let mut sums = vec![0.0; self.days()];
        for weights_g in &self.weights_g {
            for (sum, score) in sums.iter_mut().zip(normal_scores(weights_g)) {
                *sum += score;
            }
        }
        normal_scores(&sums)
    }

    /// The chances to win and to frame in the section.
    ///
    /// Given how a day fishes, rivals are independent, so that the chance is worked out and not drawn; it is then
    /// averaged over the days. All plans meet the same rivals on the same days.
    fn section(&self, section: &Section) -> [AimResult; 2] {
        let r = score_correlation(section.shared);
        let day_scores = self.day_scores();
        let best_rival_kg =
            expected_greatest(section.rivals, r, |score| section.weight.kg_at(score));
        let aim = |aim, places: u32, at| {
            let chances: Vec<Vec<f64>> = self
                .weights_g
                .iter()
                .map(|weights_g| {
                    let days = weights_g.iter().zip(&day_scores);
                    days.map(|(&weight_g, &day)| {
                        let score = section.weight.score_of(kg(f64::from(weight_g)));
                        chance_to_place(section.rivals, places, chance_above(score, day, r))
                    })
                    .collect()
                })
                .collect();
            let value = |of: &Vec<f64>| share_of_days(of.iter().sum(), of.len() as u64);
            let values: Vec<Value> = chances.iter().map(value).collect();
            let result = self.result(aim, true, &values, |one, other| {
                let mut apart = Summary::default();
                let days = chances[one].iter().zip(&chances[other]);
                days.for_each(|(a, b)| apart.add(a - b));
                mean_interval(apart.mean()?, apart.se()?, apart.n(), self.level)
            });
            AimResult { at: Some(at), rivals: Some(section.rivals), ..result }
        };
        [
            aim(Aim::Win, 1, best_rival_kg),
            aim(Aim::Frame, section.places, f64::from(section.places)),
        ]
    }

    /// The mean of the worst days, each plan's own; days are drawn again for how sure it is, the same for all plans.
    fn worst_days(&self, share: f64, seed: u64) -> AimResult {
        let days = self.days();
        let sorted: Vec<Vec<usize>> =
            self.weights_g.iter().map(|weights_g| in_order(weights_g)).collect();
        let tail_kg = |plan: usize, counts: &dyn Fn(usize) -> u32| {
            let weights_g = self.weights_g[plan];
            let counted = sorted[plan].iter().map(|&day| (f64::from(weights_g[day]), counts(day)));
            lower_tail_mean(counted, days as u64, share).map_or(f64::NAN, kg)
        };
        let mut dice = Dice::keyed(&[seed, DRAW_AGAIN]);
        let times = (DRAWN_AGAIN / days as u32).clamp(RESAMPLES / 5, RESAMPLES);
        let mut again = vec![Vec::with_capacity(times as usize); self.names.len()];
        let pick = |n: usize| ((dice.uniform() * n as f64) as usize).min(n - 1);
        draw_again(days, times, pick, |counts| {
            for (plan, again) in again.iter_mut().enumerate() {
                again.push(tail_kg(plan, &|day| counts[day]));
            }
        });
        let value = |plan: usize| {
            let mean_kg = tail_kg(plan, &|_| 1);
            let interval = Resampled::new(again[plan].clone()).interval(LEVEL);
            (mean_kg, interval.unwrap_or(Interval { low: mean_kg, high: mean_kg }))
        };
        let values: Vec<Value> = (0..self.names.len()).map(value).collect();
        let result = self.result(Aim::WorstDays, true, &values, |one, other| {
            let apart = again[one].iter().zip(&again[other]).map(|(a, b)| a - b).collect();
            let half = t_quantile(self.level, days as u64 - 1) * Resampled::new(apart).se()?;
            let difference = values[one].0 - values[other].0;
            Some(Interval { low: difference - half, high: difference + half })
        });
        AimResult { at: Some(share), ..result }
    }
}

/// A share of days, with Wilson's interval; days may count in part.
fn share_of_days(so: f64, days: u64) -> Value {
    (so / days as f64, wilson(so, days, LEVEL).unwrap_or(Interval { low: 0.0, high: 1.0 }))
}

/// Places of the values in the order of their size.
fn in_order(values: &[u32]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by_key(|&place| values[place]);
    order
}
