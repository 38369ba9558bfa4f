//! Summarises a finished sweep from its store, one point at a time.

use sha2::{Digest, Sha256};

use super::block::days_g;
use super::result::{SweepResult, SweptPlan, SweptSetting, SweptWeightKg};
use super::totals::SweepTotals;
use crate::angler::PlanId;
use crate::stats::{Interval, Moments, mean_interval, quantile};
use crate::study::estimate::Estimate;
use crate::study::sweep::store::{Store, StoreError};
use crate::study::units::kg;

/// Result of the sweep of a store. The weights of one plan at one point are in memory at a time.
///
/// # Errors
///
/// If the store cannot be read, is damaged or is not complete.
pub fn summarise(store: &Store) -> Result<SweepResult, StoreError> {
    store.check_blocks()?;
    let (sweep, totals) = (store.sweep(), store.totals()?);
    let best = best_points(&totals, sweep.design.points.len(), sweep.plans.len());
    let mut weights = Sha256::new();
    let mut settings = Vec::with_capacity(sweep.design.points.len());
    for (point, values) in sweep.design.points.iter().enumerate() {
        let mut plans = Vec::with_capacity(sweep.plans.len());
        for (plan, name) in PlanId::all(sweep.plans.len()).zip(&sweep.plans) {
            store.each_block(point, plan, |block| weights.update(block))?;
            let weights_g = totals.weights_g(point, plan);
            let days = weights_g.n() as f64;
            let [fish, casts, bait_mg] = store.counts(point, plan)?;
            let best_g = known(store, totals.weights_g(best[plan.0], plan).mean())?;
            let shortfall_kg = shortfall(store, best[plan.0], point, plan)?;
            plans.push(SweptPlan {
                name: name.clone(),
                weight_kg: weight_kg(store, point, plan, weights_g)?,
                fish_mean: fish as f64 / days,
                casts_mean: casts as f64 / days,
                bait_mean_kg: bait_mg as f64 / 1e6 / days,
                // With too few days for an interval, no point can be ruled out.
                near_best: shortfall_kg
                    .low95()
                    .is_none_or(|low_kg| low_kg <= SweepResult::NEAR_BEST_SHARE * kg(best_g)),
                shortfall_kg,
            });
        }
        settings.push(SweptSetting { values: values.clone(), plans });
    }
    Ok(SweepResult {
        format: SweepResult::FORMAT,
        stamp: sweep.stamp.clone(),
        design: sweep.design.description(),
        days: sweep.days,
        keys: sweep.design.keys.clone(),
        weights_sha256: weights.finalize().iter().map(|byte| format!("{byte:02x}")).collect(),
        settings,
    })
}

/// For each plan the index of the point with the highest mean, the first of equals.
fn best_points(totals: &SweepTotals, points: usize, plans: usize) -> Vec<usize> {
    let mean = |point, plan| totals.weights_g(point, plan).mean().unwrap_or(f64::NEG_INFINITY);
    let better =
        |plan| move |best, point| if mean(point, plan) > mean(best, plan) { point } else { best };
    PlanId::all(plans).map(|plan| (0..points).reduce(better(plan)).unwrap_or(0)).collect()
}

/// Mean of the best point of a plan minus that of another point.
///
/// The days are the same at all points, so differences are taken day by day. Bonferroni's correction makes the
/// intervals hold at all points together.
fn shortfall(
    store: &Store,
    best: usize,
    point: usize,
    plan: PlanId,
) -> Result<Estimate, StoreError> {
    if best == point {
        return Ok(Estimate::new(0.0, 0.0, 0.0));
    }
    let mut differences_g = Moments::default();
    store.each_pair([best, point], plan, |best_g, point_g| {
        differences_g.add(i64::from(best_g) - i64::from(point_g));
    })?;
    let others = (store.sweep().design.points.len() - 1) as f64;
    let mean_g = known(store, differences_g.mean())?;
    Ok(Estimate::from_grams(mean_g, interval(&differences_g, 1.0 - 0.05 / others)))
}

/// Mean, interval and deciles of the weight of a plan at a point.
fn weight_kg(
    store: &Store,
    point: usize,
    plan: PlanId,
    weights_g: &Moments,
) -> Result<SweptWeightKg, StoreError> {
    let mut sorted_g: Vec<u32> = Vec::with_capacity(weights_g.n() as usize);
    store.each_block(point, plan, |block| sorted_g.extend(days_g(block)))?;
    sorted_g.sort_unstable();
    let decile_kg = |p| known(store, quantile(&sorted_g, p)).map(kg);
    let mean_g = known(store, weights_g.mean())?;
    Ok(SweptWeightKg {
        mean: Estimate::from_grams(mean_g, interval(weights_g, 0.95)).of_weight(),
        p10: decile_kg(0.1)?,
        p90: decile_kg(0.9)?,
    })
}

/// A figure that is known as soon as a setting has a day; a store without it is incomplete.
fn known(store: &Store, figure: Option<f64>) -> Result<f64, StoreError> {
    figure.ok_or_else(|| StoreError::Unreadable {
        path: store.path().to_owned(),
        reason: "a setting has no days".to_owned(),
    })
}

/// Interval for a mean. `None` below two days.
fn interval(moments: &Moments, level: f64) -> Option<Interval> {
    mean_interval(moments.mean()?, moments.se()?, moments.n(), level)
}
