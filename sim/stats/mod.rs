//! Statistics: numbers in, numbers out. It must not know what the numbers mean.
//!
//! Sums of whole numbers, such as weights in grams, are exact. A result then does not depend on the order of
//! addition.

mod calibration;
mod describe;
mod design;
mod inference;
mod placing_probability;
mod select;
mod sensitivity;
mod survival;

pub use calibration::{AdjustedPosterior, LinearFit, ReferenceTable, share_at_least_as_far};
pub use describe::{
    Moments, QuantilePosition, Summary, histogram_quantile, normal_scores, quantile,
    quantile_position,
};
pub use design::{Sobol, latin_hypercube};
pub use inference::{
    BootstrapDistribution, InterimAnalyses, Interval, MannWhitney, Paired, PairedTable, Proportion,
    QuantileRanks, Verdict, Welch, bonferroni_level, bootstrap_counts, lower_tail_mean,
    lowest_influences, lowest_mean_interval, mean_interval, newcombe_interval,
    probability_of_superiority, quantile_ranks, rank_influences, share_interval, t_quantile,
    wilson_interval,
};
pub use placing_probability::{
    expected_loss_of_choice, expected_maximum, normal_score_correlation, placing_probability,
    probability_above, unit_normal_loss,
};
pub use select::{
    Candidate, Evaluation, GridAxis, GridPoint, SearchMethod, SearchOutcome, SearchSpace,
    Simulator, Trial, dunnett_quantile, halving_schedule, kim_nelson_eta, ocba_shares,
    rinott_constant, round_shares, search,
};
pub use sensitivity::{
    CrossedBlock, EffectSummary, ElementaryEffect, ExplainedVariance, InputScores, SaltelliOutputs,
    SaltelliRow, SobolIndex, SobolIndices, Trajectory, VarianceComponents, VarianceEstimate,
    morris_trajectories, saltelli_rows, sobol_indices, variance_components,
};
pub use survival::{
    CensoredTime, CompetingTime, CumulativeIncidence, CureFit, CycleCosts, ExponentialRate,
    GammaRate, IncidenceStep, LogRankTest, Occupation, PiecewiseRates, RateTrend, RenewalCurve,
    RenewalPoint, Spell, SurvivalCurve, SurvivalStep, WeibullFit, WeibullModel, exponential_rate,
    fit_weibull, fit_weibull_with_cure, log_rank, rate_trend, state_occupation,
    stratified_log_rank,
};
