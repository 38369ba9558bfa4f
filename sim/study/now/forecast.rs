//! The rest of the session, from simulated ones that went as yours.

use serde::{Deserialize, Serialize};

use super::result::{Turn, WayForecast};
use super::ways::{WayKind, WayToGoOn};
use crate::numerics::{normal_cumulative, normal_quantile, square};
use crate::scenario::{Aims, Section};
use crate::stats::{
    AdjustedPosterior, GammaRate, LinearFit, ReferenceTable, normal_score_correlation,
    normal_scores, placing_probability, probability_above, share_at_least_as_far,
};

/// Share of the simulated sessions that is used, those that went most as yours.
const ACCEPTED_SHARE: f64 = 0.5;
/// No simulated session went as yours if fewer than this share of them are as unusual.
const MIN_UNUSUAL_SHARE: f64 = 0.01;
/// Another way is better if its lead is at least this many standard errors: one in a thousand by chance alone. Errors of the
/// simulation are all that it counts, so it must leave room for a model that is wrong (V-324).
const MIN_CLEAR: f64 = 3.09;
/// Chance that some way seems to be better by chance alone, if there are ten or more.
const FALSE_ADVICE: f64 = 0.01;
/// Times without a fish after which the advice is looked at again [s].
const WITHOUT_FISH_S: [f64; 3] = [900.0, 1800.0, 2700.0];

/// One simulated session: its state now, and what each way to go on added.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SimulatedRest {
    /// Comparable numbers of the session so far.
    pub(super) so_far: Vec<f64>,
    /// Weight that each way adds until the end [kg].
    pub(super) gains_kg: Vec<f64>,
    /// When the plan lands its next fish, from now [s]. `None` if it does not.
    pub(super) next_fish_s: Option<f64>,
    /// Bites of the plan from now on.
    pub(super) bites: f64,
    /// What the day offers to everybody on the water ([`crate::session::Day::keen_kg`]) [kg].
    pub(super) offered_kg: f64,
}

impl SimulatedRest {
    /// Whether it has this number of comparable numbers and of ways to go on.
    pub(super) fn has_form(&self, numbers: usize, ways: usize) -> bool {
        self.so_far.len() == numbers && self.gains_kg.len() == ways
    }

    /// Whether the plan lands no fish for so long from now [s].
    fn is_blank_for(&self, time_s: f64) -> bool {
        self.next_fish_s.is_none_or(|next_s| next_s > time_s)
    }
}

/// How many standard errors the lead of one of `ways` ways must have.
fn clear(ways: usize) -> f64 {
    normal_quantile(1.0 - FALSE_ADVICE / ways.max(1) as f64).max(MIN_CLEAR)
}

/// What is known of the rest of the session.
pub(super) struct Forecast<'a> {
    ways: &'a [WayToGoOn],
    posterior: AdjustedPosterior,
    /// The accepted sessions, in the order of the posterior.
    accepted: Vec<&'a SimulatedRest>,
    /// Quality of the day of each accepted session, as a normal score among all simulated ones.
    day_scores: Vec<f64>,
    weight_kg: f64,
}

impl<'a> Forecast<'a> {
    /// A forecast for the session so far. `None` if no simulated session went like it.
    pub(super) fn new(
        rests: &'a [SimulatedRest],
        ways: &'a [WayToGoOn],
        observed: &[f64],
        weight_kg: f64,
    ) -> Option<Self> {
        let so_far: Vec<Vec<f64>> = rests.iter().map(|rest| rest.so_far.clone()).collect();
        if share_at_least_as_far(&so_far, observed) < MIN_UNUSUAL_SHARE {
            return None;
        }
        Self::with_share(rests, ways, observed, weight_kg, ACCEPTED_SHARE)
    }

    pub(super) fn with_share(
        rests: &'a [SimulatedRest],
        ways: &'a [WayToGoOn],
        observed: &[f64],
        weight_kg: f64,
        share: f64,
    ) -> Option<Self> {
        let so_far: Vec<Vec<f64>> = rests.iter().map(|rest| rest.so_far.clone()).collect();
        let gains: Vec<Vec<f64>> = rests.iter().map(|rest| rest.gains_kg.clone()).collect();
        let projections = projections(&so_far, &gains, ways);
        let project =
            |row: &[f64]| -> Vec<f64> { projections.iter().map(|fit| fit.value(row)).collect() };
        let summaries = so_far.iter().map(|row| project(row)).collect();
        let accepted = (share * rests.len() as f64) as usize;
        let table = ReferenceTable { parameters: gains, summaries };
        let posterior = table.posterior(&project(observed), accepted)?;
        let offered_kg: Vec<f64> = rests.iter().map(|rest| rest.offered_kg).collect();
        let scores = normal_scores(&offered_kg);
        let day_scores = posterior.cases.iter().map(|&case| scores[case]).collect();
        let accepted = posterior.cases.iter().map(|&case| &rests[case]).collect();
        Some(Self { ways, posterior, accepted, day_scores, weight_kg })
    }

    pub(super) fn effective(&self) -> f64 {
        self.posterior.effective_cases()
    }

    /// Weight that a way adds in each accepted session, moved to the session so far [kg].
    fn gains_kg(&self, way: usize) -> Vec<f64> {
        self.posterior.parameters.iter().map(|row| row[way]).collect()
    }

    /// Chance of one of the first places of a section, with what a way adds in each accepted session [kg]: rivals catch more on
    /// good days, too.
    fn frame_chance(&self, section: &Section, gains_kg: &[f64]) -> f64 {
        let r = normal_score_correlation(section.shared);
        let days = gains_kg.iter().zip(&self.day_scores).zip(&self.posterior.weights);
        days.map(|((gain_kg, day_score), weight)| {
            let score = section.weight.score_of(self.weight_kg + gain_kg.max(0.0));
            let above = probability_above(score, *day_score, r);
            weight * placing_probability(section.rivals, section.places, above)
        })
        .sum()
    }

    /// What each way is worth, in their order.
    pub(super) fn ways(&self, aims: &Aims) -> Vec<WayForecast> {
        let weights = &self.posterior.weights;
        let planned = self.gains_kg(0);
        let forecast = |(place, way): (usize, &WayToGoOn)| {
            let gains = self.gains_kg(place);
            let mean_kg: f64 = gains.iter().zip(weights).map(|(kg, w)| w * kg).sum();
            let leads: Vec<f64> = gains.iter().zip(&planned).map(|(kg, plan)| kg - plan).collect();
            let (lead_kg, se_kg) = mean_and_error(&leads, weights);
            let quantile = |p: f64| self.posterior.quantile(place, p).max(0.0);
            let reaches = |target_kg: f64| {
                let reached =
                    gains.iter().zip(weights).filter(|(kg, _)| self.weight_kg + **kg >= target_kg);
                reached.map(|(_, weight)| weight).sum::<f64>()
            };
            WayForecast {
                way: way.kind.clone(),
                final_kg: self.weight_kg + mean_kg.max(0.0),
                low80_kg: self.weight_kg + quantile(0.1),
                high80_kg: self.weight_kg + quantile(0.9),
                target_chance: aims.target_kg.map(reaches),
                frame_chance: aims.section.as_ref().map(|of| self.frame_chance(of, &gains)),
                ahead_of_plan_kg: lead_kg,
                ahead_se_kg: se_kg,
            }
        };
        self.ways.iter().enumerate().map(forecast).collect()
    }

    /// What would change the advice: the shortest time without a fish after which another way is better.
    pub(super) fn turn(&self) -> Option<Turn> {
        let planned = self.gains_kg(0);
        WITHOUT_FISH_S.into_iter().find_map(|without_fish_s| {
            let weights: Vec<f64> = self
                .accepted
                .iter()
                .zip(&self.posterior.weights)
                .map(|(rest, w)| if rest.is_blank_for(without_fish_s) { *w } else { 0.0 })
                .collect();
            let total: f64 = weights.iter().sum();
            if total <= 0.05 {
                return None;
            }
            let weights: Vec<f64> = weights.iter().map(|weight| weight / total).collect();
            let better = self.ways.iter().enumerate().skip(1).filter_map(|(place, way)| {
                let gains = self.gains_kg(place);
                let leads: Vec<f64> =
                    gains.iter().zip(&planned).map(|(kg, plan)| kg - plan).collect();
                let (lead_kg, se_kg) = mean_and_error(&leads, &weights);
                (lead_kg > clear(self.ways.len()) * se_kg).then_some((way, lead_kg))
            });
            let (way, ahead_kg) = better.max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Turn { without_fish_s, way: way.kind.clone(), ahead_kg })
        })
    }
}

/// The way that is clearly better than the plan, if any.
pub(super) fn better(ways: &[WayForecast]) -> Option<WayKind> {
    let clear =
        ways.iter().filter(|way| way.ahead_of_plan_kg > clear(ways.len()) * way.ahead_se_kg);
    let clear = clear.filter(|way| way.way != WayKind::AsPlanned);
    let best = clear.max_by(|a, b| a.ahead_of_plan_kg.total_cmp(&b.ahead_of_plan_kg))?;
    Some(best.way.clone())
}

/// What a session so far says of the rest: of the gain of all ways together, and of that of the plan against other lines.
fn projections(so_far: &[Vec<f64>], gains: &[Vec<f64>], ways: &[WayToGoOn]) -> Vec<LinearFit> {
    const RIDGE: f64 = 1e-6;
    let weights = vec![1.0; so_far.len()];
    let mean = |row: &Vec<f64>| row.iter().sum::<f64>() / row.len() as f64;
    let means: Vec<f64> = gains.iter().map(mean).collect();
    let is_other = |way: &WayToGoOn| matches!(way.kind, WayKind::Line(_) | WayKind::Plan(_));
    let others: Vec<usize> = (0..ways.len()).filter(|&way| is_other(&ways[way])).collect();
    let mut fits = vec![LinearFit::weighted(so_far, &means, &weights, RIDGE)];
    if !others.is_empty() {
        let contrast = |row: &Vec<f64>| {
            row[0] - others.iter().map(|&way| row[way]).sum::<f64>() / others.len() as f64
        };
        let contrasts: Vec<f64> = gains.iter().map(contrast).collect();
        fits.push(LinearFit::weighted(so_far, &contrasts, &weights, RIDGE));
    }
    fits.into_iter().flatten().collect()
}

/// Mean of weighted values, and its standard error.
fn mean_and_error(values: &[f64], weights: &[f64]) -> (f64, f64) {
    let mean: f64 = values.iter().zip(weights).map(|(value, w)| w * value).sum();
    let variance: f64 =
        values.iter().zip(weights).map(|(value, w)| square(w * (value - mean))).sum();
    (mean, variance.sqrt())
}

/// The plan's forecast from the angler's own bites alone: a gamma rate whose prior is that of the simulated sessions,
/// updated by what was seen, and fish of the mean weight so far.
pub(super) fn from_own_rate(
    rests: &[SimulatedRest],
    (bites, waited_s): (u32, f64),
    left_s: f64,
    weight_kg: f64,
    kg_per_bite: f64,
    target_kg: Option<f64>,
) -> WayForecast {
    let n = rests.len().max(1) as f64;
    let per_s: Vec<f64> = rests.iter().map(|rest| rest.bites / left_s.max(1.0)).collect();
    let mean = per_s.iter().sum::<f64>() / n;
    let variance = per_s.iter().map(|rate| square(rate - mean)).sum::<f64>() / n;
    let prior = if mean > 0.0 && variance > 0.0 {
        GammaRate { shape: mean * mean / variance, exposure: mean / variance }
    } else {
        GammaRate::JEFFREYS
    };
    let rate = prior.updated(u64::from(bites), waited_s.max(1.0));
    // Bites to come: a gamma mixture of Poisson counts, as its mean and standard deviation.
    let expected = rate.mean() * left_s;
    let sd = (expected + left_s * left_s * rate.shape / square(rate.exposure)).sqrt();
    let at = |z: f64| weight_kg + (expected + z * sd).max(0.0) * kg_per_bite;
    let (low80_kg, high80_kg) = (at(-1.2816), at(1.2816));
    let target_chance = target_kg.map(|target_kg| {
        let needed = (target_kg - at(0.0)) / (sd * kg_per_bite).max(1e-9);
        normal_cumulative(-needed)
    });
    WayForecast {
        way: WayKind::AsPlanned,
        final_kg: at(0.0),
        low80_kg,
        high80_kg,
        target_chance,
        // Nothing is known of the day.
        frame_chance: None,
        ahead_of_plan_kg: 0.0,
        ahead_se_kg: 0.0,
    }
}
