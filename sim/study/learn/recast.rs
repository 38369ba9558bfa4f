//! When to recast, by renewal–reward on the waits as they were, with a bootstrap over sessions.

use super::groups::CastGroup;
use super::result::{RecastAdvice, RecastOutcome, RecastPoint, RecastTime};
use super::thresholds::{LEVEL, MIN_BITES_FOR_RECAST, MIN_SESSIONS, NEAR_BEST};
use super::waits::{bite_times, known_until_s};
use crate::engine::Dice;
use crate::stats::{
    BootstrapDistribution, CompetingTime, CycleCosts, RenewalCurve, bootstrap_counts,
    fit_weibull_with_cure,
};

const HOUR_S: f64 = 3600.0;
/// Number of bootstrap samples: enough that the ends of a 95 % range rest on 25 samples each.
const SAMPLES: u32 = 1000;
/// First word of the key of the random numbers, so that no other use has the same stream.
const PURPOSE: u64 = 0x6c6f_6700;

/// What the waits of a group say about recasting.
pub(super) fn recast_advice(group: &CastGroup, time: &RecastTime, seed: u64) -> RecastAdvice {
    let horizon_s = known_until_s(group);
    let bites = group.bites();
    let mut advice = RecastAdvice {
        name: group.name.clone(),
        outcome: RecastOutcome::TooFewBites,
        more_bites_needed: MIN_BITES_FOR_RECAST.saturating_sub(bites),
        known_until_s: horizon_s,
        best_s: None,
        best_per_hour: None,
        near_best_from_s: None,
        near_best_to_s: None,
        best_low95_s: None,
        best_high95_s: None,
        wait_out_share: None,
        has_enough_sessions: group.sessions().len() >= MIN_SESSIONS,
        smooth_best_s: None,
        smooth_near_from_s: None,
        smooth_near_to_s: None,
        curve: Vec::new(),
    };
    if bites < MIN_BITES_FOR_RECAST {
        return advice;
    }
    let Some(recast_s) = time.recast_s else {
        return RecastAdvice { outcome: RecastOutcome::NoRecastTime, ..advice };
    };
    let costs = CycleCosts { start: recast_s, event: time.bite_s };
    let times: Vec<CompetingTime> = group.waits.iter().map(|wait| wait.time).collect();
    let Some(curve) = RenewalCurve::from_sorted(&times, |_| 1, horizon_s, costs) else {
        return advice;
    };
    let (best, near) = (curve.best(), curve.near_best(NEAR_BEST, costs));
    advice.outcome =
        if pays_to_wait_out(&curve) { RecastOutcome::WaitOut } else { RecastOutcome::RecastAfter };
    advice.best_s = Some(best.age);
    advice.best_per_hour = Some(HOUR_S * best.rate);
    advice.near_best_from_s = Some(near.low);
    advice.near_best_to_s = Some(near.high);
    advice.curve = curve
        .points()
        .iter()
        .map(|point| RecastPoint { recast_s: point.age, bites_per_hour: HOUR_S * point.rate })
        .collect();
    add_smooth(&mut advice, group, costs);
    add_range(&mut advice, group, &times, costs, seed);
    advice
}

/// Whether waiting to the end of what is known gives nearly as many bites as the best wait.
fn pays_to_wait_out(curve: &RenewalCurve) -> bool {
    curve.last().rate >= NEAR_BEST * curve.best().rate
}

/// Adds the best interval on the smooth fit, and those that are nearly as good, if they lie within what is known.
fn add_smooth(advice: &mut RecastAdvice, group: &CastGroup, costs: CycleCosts) {
    const STEPS: u32 = 1000;
    let Some(fit) = fit_weibull_with_cure(&bite_times(group)) else { return };
    let horizon_s = advice.known_until_s;
    let best_s = fit.model.best_age(costs.start).filter(|&best_s| best_s <= horizon_s);
    let Some(best_s) = best_s else { return };
    let rate = |age: f64| {
        let share = 1.0 - fit.model.survival(age);
        share / (fit.model.mean_until(age) + costs.start + costs.event * share)
    };
    let enough = NEAR_BEST * rate(best_s);
    let ages = (1..=STEPS).map(|step| horizon_s * f64::from(step) / f64::from(STEPS));
    let near: Vec<f64> = ages.filter(|&age| rate(age) >= enough).collect();
    advice.smooth_best_s = Some(best_s);
    advice.smooth_near_from_s = near.first().copied();
    advice.smooth_near_to_s = near.last().copied();
}

/// Adds the range of the best interval over resampled sessions. Whole sessions are drawn, since the casts of a session share
/// its weather and its fish.
fn add_range(
    advice: &mut RecastAdvice,
    group: &CastGroup,
    times: &[CompetingTime],
    costs: CycleCosts,
    seed: u64,
) {
    let sessions = group.sessions();
    if sessions.len() < 2 {
        return;
    }
    let place: Vec<usize> = group
        .waits
        .iter()
        .map(|wait| sessions.partition_point(|&session| session < wait.session))
        .collect();
    let mut dice = Dice::from_key(&[PURPOSE, seed]);
    let pick = |n: usize| ((dice.uniform() * n as f64) as usize).min(n - 1);
    let horizon_s = advice.known_until_s;
    let (mut best_s, mut wait_out) = (Vec::new(), 0_u32);
    bootstrap_counts(sessions.len(), SAMPLES, pick, |counts| {
        let weight = |index: usize| counts[place[index]];
        // A sample of sessions without a bite says nothing.
        if let Some(curve) = RenewalCurve::from_sorted(times, weight, horizon_s, costs) {
            let is_out = pays_to_wait_out(&curve);
            wait_out += u32::from(is_out);
            best_s.push(if is_out { horizon_s } else { curve.best().age });
        }
    });
    advice.wait_out_share = (!best_s.is_empty()).then(|| f64::from(wait_out) / best_s.len() as f64);
    let range = BootstrapDistribution::from_values(best_s).interval(LEVEL);
    advice.best_low95_s = range.map(|range| range.low);
    advice.best_high95_s = range.map(|range| range.high);
}
