//! Simulates practices and plans on waters that are still possible.

use rayon::prelude::*;

use super::practice::{Practice, PracticeKind, practice_of_plans, practices};
use super::result::{NextResult, PracticeWorth};
use super::worth::{chance_of_worse, chance_of_worse_after};
use crate::angler::Plan;
use crate::catch_log::LoggedSession;
use crate::numerics::square;
use crate::scenario::Scenario;
use crate::session::{Day, run_session};
use crate::stats::LinearFit;
use crate::study::doubtful_day::doubtful_day;
use crate::study::fit::{SummaryFrame, simulated_session};
use crate::study::progress::Control;

/// Days on which every plan is fished on each water: days differ more than waters, and a practice costs as much as a day.
const DAYS: u32 = 8;
/// Days of a water on which a practice takes place begin here.
const PRACTICE_DAY: u32 = DAYS + 1;
/// Waters whose practices decide what is summarised.
const FRAME_WATERS: u32 = 20;
/// Parts into which waters are split: what is settled of one part is learnt from the others.
const PARTS: usize = 10;
/// Ridge of the regressions; summaries of one short session are noisy.
const RIDGE: f64 = 0.05;

/// What may be tried.
#[derive(Clone, Copy, Debug)]
pub struct NextSpec<'a> {
    /// The scenario, with a learned book if there is one.
    pub scenario: &'a Scenario,
    /// Seed of the simulated sessions.
    pub seed: u64,
    /// Waters to simulate.
    pub waters: u32,
    /// Length of a practice [s].
    pub practice_s: f64,
    /// Recast intervals to try [s].
    pub intervals_s: &'a [f64],
}

/// A value on each day of a water [kg].
type OnDays = [f64; DAYS as usize];

/// Maximum number of sessions that [`what_to_try_next`] simulates.
#[must_use]
pub fn next_sessions(spec: &NextSpec<'_>) -> u64 {
    let lines = spec.scenario.lines.len().min(3) as u64;
    let choices = lines + lines * lines.saturating_sub(1) / 2;
    let practices = choices * spec.intervals_s.len() as u64 + 2;
    u64::from(spec.waters) * (practices + u64::from(DAYS) * spec.scenario.plans.len() as u64)
}

/// Says which practice would narrow the doubt about the two best plans most. `None` if it was stopped, or if there are not
/// two plans.
#[must_use]
pub fn what_to_try_next(spec: &NextSpec<'_>, control: Control<'_>) -> Option<NextResult> {
    let plans = &spec.scenario.plans;
    let weights: Option<Vec<Vec<OnDays>>> = (1..=spec.waters)
        .into_par_iter()
        .map(|water| {
            let fished = plans.iter().map(|plan| weights_kg(spec, plan, water, control));
            fished.collect()
        })
        .collect();
    let weights = weights?;
    let mean = |plan: usize| weights.iter().map(|water| mean_of(&water[plan])).sum::<f64>();
    let mut order: Vec<usize> = (0..plans.len()).collect();
    order.sort_by(|&a, &b| mean(b).total_cmp(&mean(a)));
    let (&favourite, &rival) = (order.first()?, order.get(1)?);
    let mut tried = practices(spec.scenario, favourite, spec.practice_s, spec.intervals_s);
    for (plans, kind) in [
        (&[favourite, rival][..], PracticeKind::BothPlans),
        (&[favourite], PracticeKind::Favourite),
    ] {
        tried.extend(practice_of_plans(spec.scenario, plans, kind, spec.practice_s));
    }
    let frames: Vec<SummaryFrame> = tried.iter().map(|practice| frame(spec, practice)).collect();
    let shown: Option<Vec<Vec<Vec<f64>>>> = (1..=spec.waters)
        .into_par_iter()
        .map(|water| {
            let shown = tried.iter().zip(&frames).map(|(practice, frame)| {
                if control.is_stopped() {
                    return None;
                }
                let session = practised(spec, practice, water);
                control.progress.on_session_done();
                Some(frame.summaries(&[session]))
            });
            shown.collect()
        })
        .collect();
    let leads: Vec<OnDays> = weights
        .iter()
        .map(|water| std::array::from_fn(|day| water[favourite][day] - water[rival][day]))
        .collect();
    Some(result(spec, [favourite, rival], &tried, &shown?, &leads))
}

fn mean_of(days: &OnDays) -> f64 {
    days.iter().sum::<f64>() / f64::from(DAYS)
}

/// Variance between waters of what differs from day to day as well: the mean product of two days of the same water, which leaves
/// out how days differ.
fn variance_between_waters(on_days: &[OnDays], mean: f64) -> f64 {
    let pairs = f64::from(DAYS * (DAYS - 1));
    let product = |days: &OnDays| {
        let sum: f64 = days.iter().map(|day| day - mean).sum();
        let squares: f64 = days.iter().map(|day| square(day - mean)).sum();
        (square(sum) - squares) / pairs
    };
    (on_days.iter().map(product).sum::<f64>() / on_days.len() as f64).max(0.0)
}

fn result(
    spec: &NextSpec<'_>,
    [favourite, rival]: [usize; 2],
    tried: &[Practice],
    shown: &[Vec<Vec<f64>>],
    leads: &[OnDays],
) -> NextResult {
    let lead_kg = leads.iter().map(mean_of).sum::<f64>() / leads.len() as f64;
    let variance = variance_between_waters(leads, lead_kg);
    let lead_sd_kg = variance.sqrt();
    let settled: Vec<(f64, f64)> = (0..tried.len())
        .map(|place| {
            let shown: Vec<&[f64]> = shown.iter().map(|water| water[place].as_slice()).collect();
            settled_share(&shown, leads, lead_kg, variance)
        })
        .collect();
    let best = settled.iter().map(|(share, _)| *share).fold(0.0, f64::max);
    let mut worths: Vec<PracticeWorth> = tried
        .iter()
        .zip(&settled)
        .map(|(practice, &(share, se))| PracticeWorth {
            practice: practice.clone(),
            is_favourite: practice.kind == PracticeKind::Favourite,
            settled_share: share,
            settled_se: se,
            worse_chance: chance_of_worse_after(lead_kg, lead_sd_kg, share),
            is_among_best: share + 2.0 * se >= best,
        })
        .collect();
    worths.sort_by(|a, b| b.settled_share.total_cmp(&a.settled_share));
    NextResult {
        favourite: spec.scenario.plans[favourite].name.clone(),
        rival: spec.scenario.plans[rival].name.clone(),
        waters: spec.waters,
        practice_s: spec.practice_s,
        lead_kg,
        lead_sd_kg,
        worse_chance: chance_of_worse(lead_kg, lead_sd_kg),
        practices: worths,
    }
}

/// The share of the variance of the lead between waters that a practice tells, with its standard error.
///
/// The lead is foretold for each part of the waters by a regression on the others. If the foretold and the true lead have
/// the covariance c and the foretold one the variance v, then c²/v is the variance that is settled.
fn settled_share(shown: &[&[f64]], leads: &[OnDays], mean: f64, variance: f64) -> (f64, f64) {
    if variance <= 0.0 {
        return (0.0, 0.0);
    }
    let lead = |water: usize| mean_of(&leads[water]) - mean;
    let mut foretold = vec![0.0; leads.len()];
    for part in 0..PARTS {
        let others: Vec<usize> = (0..leads.len()).filter(|water| water % PARTS != part).collect();
        let rows: Vec<Vec<f64>> = others.iter().map(|&water| shown[water].to_vec()).collect();
        let values: Vec<f64> = others.iter().map(|&water| lead(water)).collect();
        let weights = vec![1.0; others.len()];
        let Some(fit) = LinearFit::weighted(&rows, &values, &weights, RIDGE) else { continue };
        for water in (part..leads.len()).step_by(PARTS) {
            foretold[water] = fit.value(shown[water]);
        }
    }
    let share = |left_out: Option<usize>| {
        let kept =
            || (0..leads.len()).filter(|water| left_out.is_none_or(|part| water % PARTS != part));
        let n = kept().count() as f64;
        let middle = kept().map(|water| foretold[water]).sum::<f64>() / n;
        let covariance =
            kept().map(|water| (foretold[water] - middle) * lead(water)).sum::<f64>() / n;
        let spread = kept().map(|water| square(foretold[water] - middle)).sum::<f64>() / n;
        if covariance <= 0.0 || spread <= 0.0 {
            0.0
        } else {
            (covariance * covariance / spread / variance).min(1.0)
        }
    };
    let whole = share(None);
    // Jackknife over the parts.
    let parts: Vec<f64> = (0..PARTS).map(|part| share(Some(part))).collect();
    let middle = parts.iter().sum::<f64>() / PARTS as f64;
    let squares: f64 = parts.iter().map(|part| square(part - middle)).sum();
    (whole, (squares * (PARTS as f64 - 1.0) / PARTS as f64).sqrt())
}

/// Weights of a plan on the days of a water [kg]. `None` if it was stopped.
fn weights_kg(
    spec: &NextSpec<'_>,
    plan: &Plan,
    water: u32,
    control: Control<'_>,
) -> Option<OnDays> {
    let mut weights_kg = OnDays::default();
    for (number, weight_kg) in (1..).zip(&mut weights_kg) {
        if control.is_stopped() {
            return None;
        }
        let day = day(spec.scenario, spec.seed, water, number);
        *weight_kg = run_session(spec.scenario, plan, &day).weight_g as f64 * 1e-3;
        control.progress.on_session_done();
    }
    Some(weights_kg)
}

/// One day on a water: its unknowns are those of the water, the number of its fish among them; its weather and the places
/// of its fish are the day's own.
fn day(scenario: &Scenario, seed: u64, water: u32, number: u32) -> Day {
    doubtful_day(scenario, seed, (water - 1) * PRACTICE_DAY + number, water)
}

fn practised(spec: &NextSpec<'_>, practice: &Practice, water: u32) -> LoggedSession {
    let scenario = Scenario { session_s: spec.practice_s, ..spec.scenario.clone() };
    let day = day(&scenario, spec.seed, water, PRACTICE_DAY);
    simulated_session(&scenario, &practice.plan, &day, 0.0, 1.0)
}

/// What a practice may show, as a few simulated sessions allow.
fn frame(spec: &NextSpec<'_>, practice: &Practice) -> SummaryFrame {
    let waters = 1..=FRAME_WATERS.min(spec.waters);
    let sessions: Vec<LoggedSession> =
        waters.map(|water| practised(spec, practice, water)).collect();
    SummaryFrame::new(spec.scenario, &sessions, &vec![0.0; sessions.len()])
        .for_one_session(spec.practice_s)
}
