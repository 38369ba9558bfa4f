//! The rest of the session, from simulated ones that went as yours.

use serde::{Deserialize, Serialize};

use super::result::WayForecast;
use super::ways::{WayKind, WayToGoOn};
use crate::numerics::{normal_cumulative, square};
use crate::scenario::{Aims, Section};
use crate::stats::{
    AdjustedPosterior, GammaRate, LinearFit, ReferenceTable, normal_score_correlation,
    normal_scores, placing_probability, probability_above,
};

/// Share of the simulated sessions that is used, those that went most as yours.
const ACCEPTED_SHARE: f64 = 0.5;
/// Nothing is said of a time without a fish that is less likely than this.
const MIN_BLANK_SHARE: f64 = 0.05;

/// One simulated session: its state now, and what each way to go on added.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SimulatedRest {
    /// Comparable numbers of the session so far.
    pub(super) so_far: Vec<f64>,
    /// Weight that each way that was fished adds until the end [kg].
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

    /// The same session with some of its ways to go on, by their places.
    pub(super) fn with_ways(&self, places: &[usize]) -> Self {
        let gains_kg = places.iter().map(|&place| self.gains_kg[place]).collect();
        Self { gains_kg, ..self.clone() }
    }
}

/// What is known of the rest of the session, for some ways to go on.
pub(super) struct Forecast<'a> {
    ways: Vec<&'a WayToGoOn>,
    posterior: AdjustedPosterior,
    /// When the plan lands its next fish in each accepted session, in the order of the posterior [s].
    next_fish_s: Vec<Option<f64>>,
    /// Quality of the day of each accepted session, as a normal score among all simulated ones.
    day_scores: Vec<f64>,
    weight_kg: f64,
}

impl<'a> Forecast<'a> {
    /// A forecast from simulated sessions that went on in these ways, for the numbers and the weight so far [kg]. `None` if there
    /// are too few sessions.
    pub(super) fn new(
        rests: &[&SimulatedRest],
        ways: &[&'a WayToGoOn],
        observed: &[f64],
        weight_kg: f64,
    ) -> Option<Self> {
        let so_far: Vec<Vec<f64>> = rests.iter().map(|rest| rest.so_far.clone()).collect();
        let gains: Vec<Vec<f64>> = rests.iter().map(|rest| rest.gains_kg.clone()).collect();
        let projections = projections(&so_far, &gains, ways);
        let project =
            |row: &[f64]| -> Vec<f64> { projections.iter().map(|fit| fit.value(row)).collect() };
        let summaries = so_far.iter().map(|row| project(row)).collect();
        let accepted = (ACCEPTED_SHARE * rests.len() as f64) as usize;
        let table = ReferenceTable { parameters: gains, summaries };
        let posterior = table.posterior(&project(observed), accepted)?;
        let offered_kg: Vec<f64> = rests.iter().map(|rest| rest.offered_kg).collect();
        let scores = normal_scores(&offered_kg);
        let day_scores = posterior.cases.iter().map(|&case| scores[case]).collect();
        let next_fish_s = posterior.cases.iter().map(|&case| rests[case].next_fish_s).collect();
        Some(Self { ways: ways.to_vec(), posterior, next_fish_s, day_scores, weight_kg })
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

    /// What each way is worth, in their order; of their leads nothing is said.
    pub(super) fn ways(&self, aims: &Aims) -> Vec<WayForecast> {
        let weights = &self.posterior.weights;
        let forecast = |(place, way): (usize, &&WayToGoOn)| {
            let gains = self.gains_kg(place);
            let mean_kg: f64 = gains.iter().zip(weights).map(|(kg, w)| w * kg).sum();
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
                ahead_of_plan_kg: 0.0,
                ahead_se_kg: 0.0,
            }
        };
        self.ways.iter().enumerate().map(forecast).collect()
    }

    /// By how much each way is ahead of the plan [kg], if the plan lands no fish for so long from now [s]. `None` if that hardly
    /// happens.
    pub(super) fn leads_kg(&self, without_fish_s: f64) -> Option<Vec<f64>> {
        let is_blank = |next_s: &Option<f64>| next_s.is_none_or(|next_s| next_s > without_fish_s);
        let weights = self.posterior.weights.iter().zip(&self.next_fish_s);
        let weights: Vec<f64> =
            weights.map(|(w, next)| if is_blank(next) { *w } else { 0.0 }).collect();
        let total: f64 = weights.iter().sum();
        if total < MIN_BLANK_SHARE {
            return None;
        }
        let mean_kg = |way: usize| {
            let rows = self.posterior.parameters.iter().zip(&weights);
            rows.map(|(row, weight)| weight * (row[way] - row[0])).sum::<f64>() / total
        };
        Some((0..self.ways.len()).map(mean_kg).collect())
    }
}

/// What a session so far says of the rest: of the gain of all ways together, and of that of the plan against other lines.
fn projections(so_far: &[Vec<f64>], gains: &[Vec<f64>], ways: &[&WayToGoOn]) -> Vec<LinearFit> {
    const RIDGE: f64 = 1e-6;
    let weights = vec![1.0; so_far.len()];
    let mean = |row: &Vec<f64>| row.iter().sum::<f64>() / row.len() as f64;
    let means: Vec<f64> = gains.iter().map(mean).collect();
    let is_other = |way: &WayToGoOn| matches!(way.kind, WayKind::Line(_) | WayKind::Plan(_));
    let others: Vec<usize> = (0..ways.len()).filter(|&way| is_other(ways[way])).collect();
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
