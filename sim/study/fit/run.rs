//! Fits the simulator to a log.

use std::convert::Infallible;
use std::fmt::Write;

use super::check_figures::CheckFigures;
use super::log_share::LogShare;
use super::logged_plan::LoggedPlan;
use super::posterior::{Misfit, UnknownsPosterior, unknowns_posterior};
use super::result::{FitCheck, FitResult, LearnedUnknown, PlanBeforeAfter};
use super::simulated_table::{LogSimulator, SimulatedCase};
use super::summaries::SummaryFrame;
use crate::catch_log::CatchLog;
use crate::params::Parameter;
use crate::scenario::{LearnedBook, Scenario, Unknown, learned_book_text, read_learned_book};
use crate::stats::AdjustedPosterior;
use crate::study::compare::{Comparison, compare};
use crate::study::progress::Control;
use crate::study::stamp::Stamp;

/// Levels of the three values that stand for a distribution.
const LEVELS: [f64; 3] = [0.05, 0.5, 0.95];

/// What to fit, and how hard.
#[derive(Clone, Copy, Debug)]
pub struct FitSpec<'a> {
    /// The log.
    pub log: &'a CatchLog,
    /// Its sessions as plans in the scenario.
    pub plans: &'a [LoggedPlan],
    /// The scenario.
    pub scenario: &'a Scenario,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Logs to simulate.
    pub simulated_logs: u32,
    /// Days on which every plan is fished before and after; zero for none.
    pub days: u32,
}

/// A summary of the log that simulated logs do not have.
#[derive(Clone, Debug, PartialEq)]
pub struct SummaryOutside {
    /// Name of the summary, in words.
    pub name: String,
    /// Its value in the log.
    pub observed: f64,
    /// Its lowest value in any simulated log.
    pub low: f64,
    /// Its highest value in any simulated log.
    pub high: f64,
}

/// How a fit ended.
#[derive(Clone, Debug, PartialEq)]
pub enum FitOutcome {
    /// The simulator was fitted.
    Fitted {
        /// What was learned.
        result: Box<FitResult>,
        /// The learned book as the text of a file.
        book: String,
    },
    /// The model cannot make such a log: what is outside of all simulated logs, and the share of simulated logs that are
    /// as unusual as a whole, if that was looked at.
    Impossible {
        /// Summaries outside those of all simulated logs.
        outside: Vec<SummaryOutside>,
        /// Share of simulated logs that are at least as unusual.
        unusual_share: Option<f64>,
    },
    /// Too few logs were simulated, or the log is too short, for it to say anything about any unknown.
    Silent,
    /// It was stopped from outside.
    Interrupted,
}

/// Maximum number of sessions that a fit simulates.
#[must_use]
pub fn fit_sessions(spec: &FitSpec<'_>) -> u64 {
    u64::from(spec.simulated_logs) * spec.plans.len() as u64
        + 2 * u64::from(spec.days) * spec.scenario.plans.len() as u64
}

/// Fits the simulator to a log.
#[must_use]
pub fn fit(spec: &FitSpec<'_>, control: Control<'_>) -> FitOutcome {
    let keep = |_, _: &[SimulatedCase]| Ok::<(), Infallible>(());
    let Ok(outcome) = fit_from(spec, Vec::new(), control, keep);
    outcome
}

/// Everything that decides the simulated logs of a fit, except their number.
#[must_use]
pub fn table_identity(spec: &FitSpec<'_>) -> String {
    let stamp = Stamp::from_scenario(spec.scenario, spec.seed);
    let Stamp { version, commit, seed, scenario_sha256, target, .. } = stamp;
    let log = &spec.log.sha256;
    format!("{version} {commit} {target} {seed} {scenario_sha256} {log}")
}

/// What is summarised of the log and of simulated ones.
fn frame(spec: &FitSpec<'_>) -> SummaryFrame {
    let starts_s: Vec<f64> = spec.plans.iter().map(|plan| plan.start_s).collect();
    SummaryFrame::new(spec.scenario, &spec.log.sessions, &starts_s)
}

fn simulator<'a>(spec: &FitSpec<'a>, unknowns: &'a [Unknown]) -> LogSimulator<'a> {
    let (seed, time_unit_s) = (spec.seed, spec.log.time_unit_s);
    LogSimulator { plans: spec.plans, unknowns, seed, time_unit_s }
}

/// Simulates a share of the logs, going on from those in `cases`; returns whether it is complete. `keep` is given each chunk
/// of new ones, as [`LogSimulator::continued_table`] does.
///
/// # Errors
///
/// The first error of `keep`.
pub fn simulate_share<E>(
    spec: &FitSpec<'_>,
    share: LogShare,
    cases: Vec<SimulatedCase>,
    control: Control<'_>,
    keep: impl FnMut(usize, &[SimulatedCase]) -> Result<(), E>,
) -> Result<bool, E> {
    let (unknowns, waters) = (spec.scenario.unknowns(), share.waters());
    let simulator = simulator(spec, &unknowns);
    let cases = simulator.continued_table(&frame(spec), cases, &waters, control, keep)?;
    Ok(cases.len() == waters.len())
}

/// Whether a water gives this log here.
#[cfg(feature = "program")]
pub(super) fn is_simulated_alike(spec: &FitSpec<'_>, water: u32, case: &SimulatedCase) -> bool {
    let unknowns = spec.scenario.unknowns();
    let here = simulator(spec, &unknowns).case(&frame(spec), water, Control::default());
    here.as_ref() == Some(case)
}

/// Fits the simulator to a log, going on from the logs in `cases`; `keep` is given each chunk of new ones, as
/// [`LogSimulator::continued_table`] does.
///
/// # Errors
///
/// The first error of `keep`.
pub fn fit_from<E>(
    spec: &FitSpec<'_>,
    cases: Vec<SimulatedCase>,
    control: Control<'_>,
    keep: impl FnMut(usize, &[SimulatedCase]) -> Result<(), E>,
) -> Result<FitOutcome, E> {
    let unknowns = spec.scenario.unknowns();
    let starts_s: Vec<f64> = spec.plans.iter().map(|plan| plan.start_s).collect();
    let frame = frame(spec);
    let waters: Vec<u32> = (1..=spec.simulated_logs).collect();
    let simulator = simulator(spec, &unknowns);
    let cases = simulator.continued_table(&frame, cases, &waters, control, keep)?;
    if cases.len() < waters.len() {
        return Ok(FitOutcome::Interrupted);
    }
    let learned = match unknowns_posterior(&cases, &frame.summaries(&spec.log.sessions)) {
        Ok(learned) => learned,
        Err(misfit) => return Ok(misfit_outcome(misfit, &frame)),
    };
    let rows: Vec<LearnedUnknown> = (0..learned.fitted.len())
        .map(|place| learned_unknown(&unknowns[learned.fitted[place]], place, &learned.posterior))
        .collect();
    let book = book_text(spec, &unknowns, &learned, &rows);
    let observed = CheckFigures::new(&spec.log.sessions, &starts_s);
    let Some(plans) = before_and_after(spec, &book, control) else {
        return Ok(FitOutcome::Interrupted);
    };
    let result = FitResult {
        format: FitResult::FORMAT,
        stamp: Stamp::from_scenario(spec.scenario, spec.seed),
        log: spec.log.name.clone(),
        log_sha256: spec.log.sha256.clone(),
        sessions: spec.plans.len() as u32,
        simulated_logs: spec.simulated_logs,
        accepted_logs: learned.posterior.cases.len() as u32,
        unknowns: unknowns.len() as u32,
        unusual_share: learned.unusual_share,
        checks: checks(&cases, &learned.posterior, &observed),
        learned: rows,
        days: spec.days,
        plans,
    };
    Ok(FitOutcome::Fitted { result: Box::new(result), book })
}

fn misfit_outcome(misfit: Misfit, frame: &SummaryFrame) -> FitOutcome {
    let names = frame.names();
    match misfit {
        Misfit::Outside(outside) => FitOutcome::Impossible {
            outside: outside
                .into_iter()
                .map(|(at, values)| {
                    let [observed, low, high] = values.map(|value| frame.readable(at, value));
                    SummaryOutside { name: names[at].clone(), observed, low, high }
                })
                .collect(),
            unusual_share: None,
        },
        Misfit::Unusual(share) => {
            FitOutcome::Impossible { outside: Vec::new(), unusual_share: Some(share) }
        }
        Misfit::Silent => FitOutcome::Silent,
    }
}

/// One unknown before and after, by its place among those that were fitted.
fn learned_unknown(
    unknown: &Unknown,
    place: usize,
    posterior: &AdjustedPosterior,
) -> LearnedUnknown {
    let parameter = &unknown.parameter;
    let after_scores = LEVELS.map(|level| posterior.quantile(place, level));
    LearnedUnknown {
        key: unknown.key.clone(),
        meaning: parameter.meaning.clone(),
        unit: parameter.unit.clone(),
        before: LEVELS.map(|level| parameter.quantile(level)),
        after: after_scores.map(|score| parameter.value_at_score(score)),
        spread_ratio: posterior.variance(place).sqrt() / PRIOR_SCORE_SD,
        after_scores,
    }
}

/// Standard deviation of a standard normal score that is kept within −2 to 2: the root of ∫z²φ over −2 to 2 and four times
/// the two tails.
const PRIOR_SCORE_SD: f64 = 0.959_446;

fn book_text(
    spec: &FitSpec<'_>,
    unknowns: &[Unknown],
    learned: &UnknownsPosterior,
    rows: &[LearnedUnknown],
) -> String {
    let quote = |words: &str| toml::Value::String(words.to_owned()).to_string();
    let stamp = Stamp::from_scenario(spec.scenario, spec.seed);
    let mut about = String::new();
    for (key, value) in [
        ("log", &spec.log.name),
        ("log_sha256", &spec.log.sha256),
        ("scenario", &stamp.scenario),
        ("scenario_sha256", &stamp.scenario_sha256),
        ("version", &stamp.version),
        ("commit", &stamp.commit),
    ] {
        let _ = writeln!(about, "{key} = {}", quote(value));
    }
    let _ = writeln!(about, "seed = {}\nsimulated_logs = {}", spec.seed, spec.simulated_logs);
    let parameters: Vec<&Parameter> =
        learned.fitted.iter().map(|&at| &unknowns[at].parameter).collect();
    let value = |parameter: &Parameter, score: f64| {
        let [low, high] = parameter.range;
        six_figures(parameter.value_at_score(score)).clamp(low, high)
    };
    let draws: Vec<Vec<f64>> = learned
        .draws()
        .iter()
        .map(|row| row.iter().zip(&parameters).map(|(score, of)| value(of, *score)).collect())
        .collect();
    let named: Vec<(&Unknown, [f64; 3], [f64; 3])> = learned
        .fitted
        .iter()
        .zip(rows)
        .map(|(&at, row)| (&unknowns[at], row.before.map(six_figures), row.after.map(six_figures)))
        .collect();
    learned_book_text(&about, &named, &draws)
}

fn six_figures(value: f64) -> f64 {
    format!("{value:.5e}").parse().unwrap_or(value)
}

/// Figures that were not fitted, in the log and in the accepted simulated logs.
fn checks(
    cases: &[SimulatedCase],
    posterior: &AdjustedPosterior,
    observed: &CheckFigures,
) -> Vec<FitCheck> {
    let simulated: Vec<_> =
        posterior.cases.iter().map(|&case| cases[case].checks.named()).collect();
    observed
        .named()
        .into_iter()
        .enumerate()
        .filter(|(_, (name, value))| !(name.starts_with("heaviest") && *value <= 0.0))
        .map(|(at, (name, observed))| {
            let values: Vec<f64> = simulated.iter().map(|figures| figures[at].1).collect();
            let level = |p| weighted_quantile(&values, &posterior.weights, p);
            let (low, high) = (level(0.05), level(0.95));
            let is_inside = (low..=high).contains(&observed);
            FitCheck { name: name.to_owned(), observed, low, high, is_inside }
        })
        .collect()
}

fn weighted_quantile(values: &[f64], weights: &[f64], p: f64) -> f64 {
    let rows = AdjustedPosterior {
        cases: Vec::new(),
        weights: weights.to_vec(),
        parameters: values.iter().map(|value| vec![*value]).collect(),
    };
    rows.quantile(0, p)
}

/// Every plan before and after. `None` if it was stopped.
fn before_and_after(
    spec: &FitSpec<'_>,
    book: &str,
    control: Control<'_>,
) -> Option<Vec<PlanBeforeAfter>> {
    if spec.days == 0 {
        return Some(Vec::new());
    }
    let before = Scenario { learned: None, ..spec.scenario.clone() };
    let mut after = before.clone();
    after.lay_over(own_book(book, &before));
    let fished = |scenario: &Scenario| -> Option<Comparison> {
        let Ok(result) =
            compare(scenario, spec.seed, spec.days, control, |_| Ok::<(), Infallible>(()));
        (result.days == spec.days).then_some(result)
    };
    let (before, after) = (fished(&before)?, fished(&after)?);
    let pairs = before.plans.iter().zip(&after.plans);
    Some(
        pairs
            .map(|(before, after)| PlanBeforeAfter {
                plan: before.name.clone(),
                before_kg: before.weight_kg.mean,
                before_se_kg: before.weight_kg.se,
                before_best_share: before.best_share,
                after_kg: after.weight_kg.mean,
                after_se_kg: after.weight_kg.se,
                after_best_share: after.best_share,
            })
            .collect(),
    )
}

/// The book that was just written.
fn own_book(text: &str, scenario: &Scenario) -> LearnedBook {
    read_learned_book(text, "book", scenario).expect("a book that was just written can be read")
}
