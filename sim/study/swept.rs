//! Reads what a finished sweep came to out of its store, a point at a time.

use sha2::{Digest, Sha256};

use super::block::days_g;
use super::standing::Standing;
use super::store::Store;
use super::store_fault::StoreFault;
use super::vary::{Behind, VariedPlan, VariedSetting, VariedWeightKg, Vary};
use super::weights::kg;
use crate::stats::{Moments, mean_interval, quantiles_in_passes};

/// What the sweep of a store came to. Memory does not grow with the number of days.
///
/// # Errors
///
/// Where the store cannot be read.
pub fn swept(store: &Store) -> Result<Vary, StoreFault> {
    let (sweep, standing) = (store.sweep(), store.standing()?);
    let best = best_places(&standing, sweep.design.points.len(), sweep.plans.len());
    let mut all = Sha256::new();
    let mut settings = Vec::with_capacity(sweep.design.points.len());
    for (place, values) in sweep.design.points.iter().enumerate() {
        let mut plans = Vec::with_capacity(sweep.plans.len());
        for (plan, name) in sweep.plans.iter().enumerate() {
            store.each_block(place, plan, |block| all.update(block))?;
            let weights_g = standing.weights_g(place, plan);
            let days = weights_g.n() as f64;
            let [fish, casts, bait_mg] = store.counts(place, plan)?;
            let best_kg = standing.weights_g(best[plan], plan).mean().map_or(f64::NAN, kg);
            let behind_kg = behind(store, (best[plan], place), plan)?;
            plans.push(VariedPlan {
                name: name.clone(),
                weight_kg: weight_kg(store, (place, plan), weights_g)?,
                fish_mean: fish as f64 / days,
                casts_mean: casts as f64 / days,
                bait_mean_kg: bait_mg as f64 / 1e6 / days,
                // Of too few days for an interval, nothing can be left out.
                near_best: behind_kg.low95.is_nan() || behind_kg.low95 <= Vary::NEAR * best_kg,
                behind_kg,
            });
        }
        settings.push(VariedSetting { values: values.clone(), plans });
    }
    Ok(Vary {
        format: Vary::FORMAT,
        stamp: sweep.stamp.clone(),
        design: sweep.design.says(),
        days: sweep.days,
        keys: sweep.design.keys.clone(),
        weights_sha256: all.finalize().iter().map(|byte| format!("{byte:02x}")).collect(),
        settings,
    })
}

/// For each plan the place of its highest mean, the first of equals.
fn best_places(standing: &Standing, points: usize, plans: usize) -> Vec<usize> {
    let mean = |place, plan| standing.weights_g(place, plan).mean().unwrap_or(f64::NEG_INFINITY);
    let better =
        |plan| move |best, place| if mean(place, plan) > mean(best, plan) { place } else { best };
    (0..plans).map(|plan| (0..points).reduce(better(plan)).unwrap_or(0)).collect()
}

/// How far a point lies behind the best of its plan.
///
/// The days are the same at all points, so differences are taken day by day; Bonferroni's rule makes the
/// intervals hold at all points at once.
fn behind(store: &Store, (best, place): (usize, usize), plan: usize) -> Result<Behind, StoreFault> {
    if best == place {
        return Ok(Behind { mean: 0.0, low95: 0.0, high95: 0.0 });
    }
    let mut differences_g = Moments::default();
    store.each_pair((best, place), plan, |best_g, here_g| {
        differences_g.add(i64::from(best_g) - i64::from(here_g));
    })?;
    let others = (store.sweep().design.points.len() - 1) as f64;
    let (mean_g, se_g) = (differences_g.mean(), differences_g.se());
    let interval_g = mean_g.zip(se_g).and_then(|(mean_g, se_g)| {
        mean_interval(mean_g, se_g, differences_g.n(), 1.0 - 0.05 / others)
    });
    Ok(Behind {
        mean: mean_g.map_or(f64::NAN, kg),
        low95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.low)),
        high95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.high)),
    })
}

fn weight_kg(
    store: &Store,
    (place, plan): (usize, usize),
    weights_g: &Moments,
) -> Result<VariedWeightKg, StoreFault> {
    let deciles_g = quantiles_in_passes(weights_g.n(), &[0.1, 0.9], |take| {
        store.each_block(place, plan, |block| days_g(block).for_each(&mut *take))
    })?;
    let decile_kg = |at: usize| deciles_g.get(at).map_or(f64::NAN, |&g| kg(g));
    let interval_g = weights_g
        .mean()
        .zip(weights_g.se())
        .and_then(|(mean_g, se_g)| mean_interval(mean_g, se_g, weights_g.n(), 0.95));
    Ok(VariedWeightKg {
        mean: weights_g.mean().map_or(f64::NAN, kg),
        low95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.low)),
        high95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.high)),
        p10: decile_kg(0),
        p90: decile_kg(1),
    })
}
