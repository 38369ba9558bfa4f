//! Two rounds of simulated sessions: the first goes on in every way, the second in the few that may be the best.

use super::forecast::{Forecast, SimulatedRest};
use super::result::{Turn, WayForecast};
use super::ways::{WayKind, WayToGoOn};
use crate::numerics::{normal_quantile, square};
use crate::scenario::Aims;
use crate::stats::share_at_least_as_far;

/// Every fourth session belongs to the first round.
const FIRST_OF: u32 = 4;
/// Fewest sessions of the first round.
const MIN_FIRST: u32 = 100;
/// Ways but for the plan that the second round tries, the best as things stand.
const CONTENDERS: usize = 2;
/// Parts of the sessions, each of which is left out once: how much the leads differ then is their error.
const PARTS: usize = 10;
/// No simulated session went as yours if fewer than this share of them are as unusual.
const MIN_UNUSUAL_SHARE: f64 = 0.01;
/// Chance that some way seems to be better than the plan by chance alone.
const FALSE_ADVICE: f64 = 0.02;
/// Times without a fish after which the advice is looked at again [s].
const WITHOUT_FISH_S: [f64; 3] = [900.0, 1800.0, 2700.0];

/// How many of all sessions belong to the first round.
pub(super) fn first_round(sessions: u32) -> u32 {
    (sessions / FIRST_OF).max(MIN_FIRST).min(sessions)
}

/// What is observed of the session so far.
#[derive(Clone, Copy)]
pub(super) struct Observed<'a> {
    /// Its comparable numbers.
    pub(super) numbers: &'a [f64],
    /// Weight in the net [kg].
    pub(super) weight_kg: f64,
}

/// The lead of a way over the plan.
#[derive(Clone, Copy)]
struct Lead {
    kg: f64,
    /// Standard error [kg].
    se_kg: f64,
}

/// Simulated sessions that went on in the same ways.
struct Round<'a> {
    ways: Vec<&'a WayToGoOn>,
    whole: Forecast<'a>,
    /// The forecasts with each part left out.
    parts: Vec<Forecast<'a>>,
}

impl<'a> Round<'a> {
    /// `None` if there are too few sessions.
    fn new(
        rests: &[&SimulatedRest],
        ways: Vec<&'a WayToGoOn>,
        observed: Observed<'_>,
    ) -> Option<Self> {
        let of = |rests: &[&SimulatedRest]| {
            Forecast::new(rests, &ways, observed.numbers, observed.weight_kg)
        };
        let without = |part: usize| {
            let kept = rests.iter().enumerate().filter(|(number, _)| number % PARTS != part);
            of(&kept.map(|(_, rest)| *rest).collect::<Vec<_>>())
        };
        let whole = of(rests)?;
        let parts = (0..PARTS).map(without).collect::<Option<_>>()?;
        Some(Self { ways, whole, parts })
    }

    /// The leads of the ways if the plan lands no fish for so long from now [s]. `None` if that hardly happens.
    fn leads(&self, without_fish_s: f64) -> Option<Vec<Lead>> {
        let leads_kg = self.whole.leads_kg(without_fish_s)?;
        let parts = self.parts.iter().map(|part| part.leads_kg(without_fish_s));
        let parts: Vec<Vec<f64>> = parts.collect::<Option<_>>()?;
        let n = PARTS as f64;
        let lead = |(way, kg)| {
            let mean_kg = parts.iter().map(|leads_kg| leads_kg[way]).sum::<f64>() / n;
            let squares: f64 = parts.iter().map(|leads_kg| square(leads_kg[way] - mean_kg)).sum();
            Lead { kg, se_kg: (squares * (n - 1.0) / n).sqrt() }
        };
        Some(leads_kg.into_iter().enumerate().map(lead).collect())
    }

    /// The way that is clearly better than the plan, if the plan lands no fish for so long from now [s], with its lead [kg].
    fn better(&self, without_fish_s: f64) -> Option<(WayKind, f64)> {
        let leads = self.leads(without_fish_s)?;
        let clear = normal_quantile(1.0 - FALSE_ADVICE / (leads.len() - 1).max(1) as f64);
        let others = leads.iter().zip(&self.ways).skip(1);
        let clear = others.filter(|(lead, _)| lead.kg > clear * lead.se_kg);
        let (lead, way) = clear.max_by(|a, b| a.0.kg.total_cmp(&b.0.kg))?;
        Some((way.kind.clone(), lead.kg))
    }
}

/// The places of the plan and of the ways that the second round tries, from the sessions of the first round.
pub(super) fn contenders(
    first: &[&SimulatedRest],
    ways: &[WayToGoOn],
    observed: Observed<'_>,
) -> Vec<usize> {
    let all: Vec<&WayToGoOn> = ways.iter().collect();
    let forecast = Forecast::new(first, &all, observed.numbers, observed.weight_kg);
    let mut chosen = vec![0];
    // The best as things stand, and what may be better once nothing has come for a while.
    for (without_fish_s, count) in [(0.0, CONTENDERS), (WITHOUT_FISH_S[1], 1)] {
        let leads_kg = forecast.as_ref().and_then(|of| of.leads_kg(without_fish_s));
        let leads_kg = leads_kg.unwrap_or_default();
        let mut order: Vec<usize> = (1..leads_kg.len()).collect();
        order.sort_by(|&a, &b| leads_kg[b].total_cmp(&leads_kg[a]));
        let most = chosen.len() + count;
        for way in order {
            let is_same = |other: &&usize| ways[**other].is_fished_like(&ways[way]);
            if chosen.len() < most && !chosen.iter().any(|other| is_same(&other)) {
                chosen.push(way);
            }
        }
    }
    chosen
}

/// What both rounds say.
pub(super) struct Advised {
    /// The ways to go on; the plan first.
    pub(super) ways: Vec<WayForecast>,
    pub(super) better: Option<WayKind>,
    pub(super) turn: Option<Turn>,
    /// To how many equally likely sessions those that went as yours amount [count].
    pub(super) effective: f64,
}

/// The advice from the sessions of both rounds, those of the first one first. `None` if no simulated session went as yours.
///
/// The lead of a contender comes from the second round alone, since it was chosen by the first; what it brings comes from both.
pub(super) fn advised(
    rests: &[SimulatedRest],
    first: usize,
    ways: &[WayToGoOn],
    observed: Observed<'_>,
    aims: &Aims,
) -> Option<Advised> {
    let so_far: Vec<Vec<f64>> = rests.iter().map(|rest| rest.so_far.clone()).collect();
    if share_at_least_as_far(&so_far, observed.numbers) < MIN_UNUSUAL_SHARE {
        return None;
    }
    let (first, second) = rests.split_at(first.min(rests.len()));
    let first: Vec<&SimulatedRest> = first.iter().collect();
    let every = Round::new(&first, ways.iter().collect(), observed)?;
    let mut forecasts = with_leads(every.whole.ways(aims), &every.leads(0.0)?);
    let contenders = contenders(&first, ways, observed);
    let tried: Vec<&WayToGoOn> = contenders.iter().map(|&way| &ways[way]).collect();
    let second: Vec<&SimulatedRest> = second.iter().collect();
    let Some(last) = Round::new(&second, tried.clone(), observed) else {
        let better = every.better(0.0).map(|(way, _)| way);
        let effective = every.whole.effective();
        let turn = if better.is_none() { turn(&every) } else { None };
        return Some(Advised { ways: forecasts, better, turn, effective });
    };
    let only_tried = |rest: &&SimulatedRest| rest.with_ways(&contenders);
    let mut all: Vec<SimulatedRest> = first.iter().map(only_tried).collect();
    all.extend(second.iter().map(|rest| (*rest).clone()));
    let all: Vec<&SimulatedRest> = all.iter().collect();
    let both = Forecast::new(&all, &tried, observed.numbers, observed.weight_kg)?;
    let of_tried = with_leads(both.ways(aims), &last.leads(0.0)?);
    // Both rounds know the plan better than the first one did; what was tried in the first round only is moved with it.
    let moved_kg = of_tried[0].final_kg - forecasts[0].final_kg;
    for way in &mut forecasts {
        let moved = |kg: f64| (kg + moved_kg).max(observed.weight_kg);
        (way.low80_kg, way.high80_kg) = (moved(way.low80_kg), moved(way.high80_kg));
    }
    for (place, forecast) in contenders.iter().zip(of_tried) {
        forecasts[*place] = forecast;
    }
    let planned_kg = forecasts[0].final_kg;
    for way in &mut forecasts {
        way.final_kg = (planned_kg + way.ahead_of_plan_kg).max(observed.weight_kg);
    }
    let better = last.better(0.0).map(|(way, _)| way);
    let turn = if better.is_none() { turn(&last) } else { None };
    Some(Advised { ways: forecasts, better, turn, effective: both.effective() })
}

fn with_leads(mut ways: Vec<WayForecast>, leads: &[Lead]) -> Vec<WayForecast> {
    for (way, lead) in ways.iter_mut().zip(leads) {
        (way.ahead_of_plan_kg, way.ahead_se_kg) = (lead.kg, lead.se_kg);
    }
    ways
}

/// What would change the advice: the shortest time without a fish after which another way is better.
fn turn(round: &Round<'_>) -> Option<Turn> {
    WITHOUT_FISH_S.into_iter().find_map(|without_fish_s| {
        let (way, ahead_kg) = round.better(without_fish_s)?;
        Some(Turn { without_fish_s, way, ahead_kg })
    })
}
