//! How bites come and fall off over the session.

use super::result::{LogTotals, RateByHour, SessionTrend};
use super::thresholds::MIN_BITES;
use super::waits::{bite_rate, normal_quantile};
use crate::catch_log::{CatchLog, LoggedCast, LoggedSession};
use crate::numerics::exp;
use crate::stats::{GammaRate, rate_trend};

const HOUR_S: f64 = 3600.0;

/// A cast on the clock of its session, in hours since the first cast.
struct CastHours {
    from_h: f64,
    to_h: f64,
    has_bite: bool,
    is_landed: bool,
}

fn cast_hours(session: &LoggedSession) -> impl Iterator<Item = CastHours> {
    let start_s = session.casts.first().map_or(0.0, |cast| cast.cast_s);
    session.casts.iter().filter_map(move |cast| {
        let end = cast.end.as_ref()?;
        Some(CastHours {
            from_h: (cast.cast_s - start_s) / HOUR_S,
            to_h: (end.at_s - start_s) / HOUR_S,
            has_bite: cast.has_bite(),
            is_landed: is_landed(cast),
        })
    })
}

/// Whether a fish was landed from a cast.
pub(super) fn is_landed(cast: &LoggedCast) -> bool {
    let catch = cast.end.as_ref().and_then(|end| end.catch.as_ref());
    catch.is_some_and(|catch| catch.landed == Some(true))
}

/// Whether a cast had a bite of which it is not written down whether the fish was landed.
pub(super) fn is_landed_unknown(cast: &LoggedCast) -> bool {
    let catch = cast.end.as_ref().and_then(|end| end.catch.as_ref());
    cast.has_bite() && catch.is_none_or(|catch| catch.landed.is_none())
}

/// Bites by hour since the first cast, and their trend.
pub(super) fn session_trend(log: &CatchLog, totals: &LogTotals) -> SessionTrend {
    let casts: Vec<CastHours> = log.sessions.iter().flat_map(cast_hours).collect();
    let bites_h: Vec<f64> =
        casts.iter().filter(|cast| cast.has_bite).map(|cast| cast.to_h).collect();
    let stretches: Vec<(f64, f64)> = casts.iter().map(|cast| (cast.from_h, cast.to_h)).collect();
    let trend = rate_trend(&bites_h, &stretches).filter(|_| bites_h.len() as u64 >= MIN_BITES);
    let factor = |errors: f64| trend.map(|trend| exp(trend.slope + errors * trend.se));
    let fished_h = (totals.fished_s / HOUR_S).max(f64::MIN_POSITIVE);
    SessionTrend {
        hours: by_hour(&casts, totals.landed.is_some()),
        factor_per_hour: factor(0.0),
        factor_low95: factor(-normal_quantile()),
        factor_high95: factor(normal_quantile()),
        landed_per_hour: totals.landed.map(|landed| landed as f64 / fished_h),
        weight_kg_per_hour: totals.weight_kg / fished_h,
    }
}

fn by_hour(casts: &[CastHours], says_landed: bool) -> Vec<RateByHour> {
    let last_h = casts.iter().map(|cast| cast.to_h).fold(0.0, f64::max);
    (0..last_h.ceil() as u32)
        .map(|hour| {
            let (from, to) = (f64::from(hour), f64::from(hour) + 1.0);
            // A bite on the hour ends the hour before.
            let inside =
                || casts.iter().filter(|cast| cast.has_bite && cast.to_h > from && cast.to_h <= to);
            let overlap = |cast: &CastHours| (cast.to_h.min(to) - cast.from_h.max(from)).max(0.0);
            let exposure_s: f64 = casts.iter().map(overlap).sum::<f64>() * HOUR_S;
            let bites = inside().count() as u64;
            let rate = GammaRate::JEFFREYS.updated(bites, exposure_s);
            RateByHour {
                hour: hour + 1,
                bites,
                landed: says_landed.then(|| inside().filter(|cast| cast.is_landed).count() as u64),
                exposure_s,
                rate: bite_rate(rate, bites as f64 / exposure_s).filter(|_| exposure_s > 0.0),
            }
        })
        .collect()
}
