//! Waits to a bite of some casts: curve, median, rate, fits.

use super::ends::ends;
use super::groups::CastGroup;
use super::result::{
    BiteRate, FittedWeibull, GroupDifference, HazardPiece, NeverShare, WaitGroup, WaitPoint,
};
use super::thresholds::{LEVEL, MIN_BITES, MIN_WAITING};
use crate::numerics::exp;
use crate::stats::{
    CensoredTime, CureFit, GammaRate, PiecewiseRates, SurvivalCurve, WeibullModel,
    exponential_rate, fit_weibull, fit_weibull_with_cure, log_rank, stratified_log_rank,
    t_quantile,
};

const HOUR_S: f64 = 3600.0;
/// Where the bite rate may change [s]: 1, 2, 4, 8, 15, 30 minutes and 1, 2, 4 hours.
const CUTS_S: [f64; 9] = [60.0, 120.0, 240.0, 480.0, 900.0, 1800.0, 3600.0, 7200.0, 14_400.0];

/// The times to a bite; every other end counts as censored.
pub(super) fn bite_times(group: &CastGroup) -> Vec<CensoredTime> {
    group.waits.iter().map(|wait| wait.time.for_cause(0)).collect()
}

/// The longest wait that at least [`MIN_WAITING`] casts reached [s]; with fewer casts, the longest of all.
pub(super) fn known_until_s(group: &CastGroup) -> f64 {
    let waits = &group.waits;
    let at = waits.len().checked_sub(MIN_WAITING).unwrap_or(waits.len().saturating_sub(1));
    waits.get(at).map_or(0.0, |wait| wait.time.time)
}

/// A gamma distribution of a rate per second as a rate per hour. `None` without any time.
pub(super) fn bite_rate(rate: GammaRate, estimate_per_s: f64) -> Option<BiteRate> {
    let interval = rate.interval(LEVEL)?;
    Some(BiteRate {
        per_hour: HOUR_S * estimate_per_s,
        low95: HOUR_S * interval.low,
        high95: HOUR_S * interval.high,
    })
}

/// Everything about the waits of a group.
pub(super) fn wait_group(group: &CastGroup) -> WaitGroup {
    let times = bite_times(group);
    let curve = SurvivalCurve::from_times(&times);
    let bites = group.bites();
    let is_enough = bites >= MIN_BITES;
    let exposure_s: f64 = times.iter().map(|time| time.time).sum();
    let rate = exponential_rate(&times)
        .and_then(|rate| bite_rate(GammaRate::JEFFREYS.updated(bites, exposure_s), rate.rate));
    let (low, high) = curve.quantile_interval(0.5, LEVEL);
    let known_until_s = known_until_s(group);
    let is_known = |time_s: &f64| is_enough && *time_s <= known_until_s;
    WaitGroup {
        name: group.name.clone(),
        casts: group.waits.len() as u64,
        bites,
        sessions: group.sessions().len() as u64,
        longest_wait_s: curve.max_time(),
        known_until_s,
        more_bites_needed: MIN_BITES.saturating_sub(bites),
        rate: rate.filter(|_| is_enough),
        median_s: curve.quantile(0.5).filter(is_known),
        median_low95_s: low.filter(is_known),
        median_high95_s: high.filter(is_known),
        ends: ends(group, known_until_s),
        curve: curve_points(&curve),
        hazard: if is_enough { hazard(&times, known_until_s) } else { Vec::new() },
        weibull: fit_weibull(&times)
            .filter(|_| is_enough)
            .map(|fit| fitted(&fit.model, (fit.se_ln_shape, fit.se_ln_scale), fit.log_likelihood)),
        never: fit_weibull_with_cure(&times).filter(|_| is_enough).map(|fit| never_share(&fit)),
    }
}

fn curve_points(curve: &SurvivalCurve) -> Vec<WaitPoint> {
    let point = |step: &crate::stats::SurvivalStep| {
        let interval = step.interval(LEVEL);
        WaitPoint {
            wait_s: step.time,
            waiting: step.at_risk,
            bites: step.events,
            share: step.survival,
            low95: interval.map(|interval| interval.low),
            high95: interval.map(|interval| interval.high),
            expected_bites: step.hazard,
            expected_bites_se: step.hazard_se,
        }
    };
    curve.steps().iter().map(point).collect()
}

/// The bite rate piece by piece, with a prior worth one bite at the mean rate.
fn hazard(times: &[CensoredTime], known_until_s: f64) -> Vec<HazardPiece> {
    let Some(mean) = exponential_rate(times) else { return Vec::new() };
    let prior = GammaRate { shape: 1.0, exposure: 1.0 / mean.rate };
    let cuts: Vec<f64> = CUTS_S.into_iter().filter(|&cut| cut < known_until_s).collect();
    let pieces = PiecewiseRates::from_times(times, &cuts, prior);
    let longest_s = times.iter().map(|time| time.time).fold(0.0, f64::max);
    let ends = cuts.iter().copied().chain([longest_s]);
    let pieces = pieces
        .starts
        .iter()
        .zip(ends)
        .zip(&pieces.events)
        .zip(pieces.exposures.iter().zip(&pieces.rates));
    pieces
        .filter_map(|(((&from_s, to_s), &bites), (&exposure_s, rate))| {
            let rate = bite_rate(*rate, rate.mean())?;
            Some(HazardPiece { from_s, to_s, bites, exposure_s, rate })
        })
        .collect()
}

fn fitted(
    model: &WeibullModel,
    (se_ln_shape, se_ln_scale): (f64, f64),
    log_likelihood: f64,
) -> FittedWeibull {
    FittedWeibull {
        shape: model.shape,
        se_ln_shape,
        scale_s: model.scale,
        se_ln_scale,
        log_likelihood,
    }
}

fn never_share(fit: &CureFit) -> NeverShare {
    let share = fit.model.never_share;
    // Interval on the scale of the logit, which stays within 0 to 1.
    let half = normal_quantile() * fit.se_logit_never;
    let end = |shift: f64| {
        let odds = share / (1.0 - share) * exp(shift);
        if odds.is_finite() { odds / (1.0 + odds) } else { 1.0 }
    };
    NeverShare {
        share,
        low95: end(-half),
        high95: end(half),
        p_value: fit.p_value,
        others: fitted(&fit.model, (fit.se_ln_shape, fit.se_ln_scale), fit.log_likelihood),
    }
}

/// The number of standard errors on either side of an interval for large samples.
pub(super) fn normal_quantile() -> f64 {
    t_quantile(LEVEL, u64::from(u32::MAX))
}

/// Compares the groups, over the whole log and within sessions. `None` with fewer than two groups or too few bites.
pub(super) fn difference(groups: &[CastGroup], sessions: usize) -> Option<GroupDifference> {
    let bites: u64 = groups.iter().map(CastGroup::bites).sum();
    if groups.len() < 2 || bites < MIN_BITES {
        return None;
    }
    let all: Vec<Vec<CensoredTime>> = groups.iter().map(bite_times).collect();
    let test = log_rank(&all)?;
    let in_session = |group: &CastGroup, session: usize| -> Vec<CensoredTime> {
        let waits = group.waits.iter().filter(|wait| wait.session == session);
        waits.map(|wait| wait.time.for_cause(0)).collect()
    };
    let strata: Vec<Vec<Vec<CensoredTime>>> = (0..sessions)
        .map(|session| groups.iter().map(|group| in_session(group, session)).collect())
        .collect();
    Some(GroupDifference {
        p_value: test.p_value,
        chi_square: test.chi_square,
        degrees_of_freedom: test.degrees_of_freedom,
        p_value_within_sessions: stratified_log_rank(&strata).map(|test| test.p_value),
    })
}
