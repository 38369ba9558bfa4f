//! Studies of many sessions: comparison of plans, search for the best setting, sweeps, and sensitivity analysis.
//!
//! [`replicate`] fishes days in parallel and delivers them in order; a [`Scoreboard`] adds them up, and [`compare`]
//! turns the sums into a result. [`CompareWaters`] does so for plans of several waters, each on its own days. [`find_best`] searches for the best setting. A [`SweepDefinition`] covers many settings: [`run_sweep()`]
//! fishes it into a [`Store`], and [`summarise()`] summarises it. [`analyse_sensitivity`] analyses how far uncertain inputs put a
//! verdict in doubt. [`learn()`] says what a catch log alone says, [`fit()`] fits the simulator to one, and [`now()`] advises during a
//! session. This layer must not know how a result is shown or where it is kept.

mod compare;
mod csv_cell;
mod csv_column;
mod doubtful_day;
mod estimate;
mod fit;
mod learn;
mod next;
mod now;
mod optimise;
mod progress;
mod replicate;
mod runner;
mod sensitivity;
mod sessions_csv;
mod shard;
mod stamp;
mod sweep;
mod units;
mod waters;

pub use compare::{
    Aim, AimPlan, AimResult, BaitAmount, BaitKg, ByHour, ByShoal, Compare, CompareResult,
    Comparison, Count, CurvePoint, DecilesKg, DifferenceHistogram, Factor, FactorContribution,
    KnownWater, MeanCount, PairResult, PlanResult, RuleFired, Scoreboard, StopReason, Superiority,
    SwimSummary, VerdictRule, Warning, WeightKg, compare, compare_until_clear, comparison,
    decompose,
};
pub use estimate::Estimate;
pub use fit::{
    CheckFigures, FitCheck, FitOutcome, FitResult, FitSpec, LearnedUnknown, LogShare, LogSimulator,
    LoggedPlan, Misfit, PlanBeforeAfter, SimulatedCase, SummaryFrame, SummaryOutside, TableFile,
    UnknownsPosterior, fit, fit_from, fit_sessions, logged_plans, simulate_share,
    simulated_session, table_identity, unknowns_posterior,
};
#[cfg(feature = "program")]
pub use fit::{LogShareError, join_log_shares};
pub use learn::{
    BiteRate, EndShare, FittedWeibull, GroupBy, GroupDifference, HazardPiece, LearnResult,
    LearnSpec, LogTotals, MIN_BITES, MIN_BITES_FOR_RECAST, NeverShare, RateByHour, RecastAdvice,
    RecastOutcome, RecastPoint, RecastTime, SessionTrend, WaitGroup, WaitPoint, learn,
};
pub use next::{
    NextResult, NextSpec, Practice, PracticeKind, PracticeWorth, chance_of_worse,
    chance_of_worse_after, next_sessions, practices, what_to_try_next,
};
pub use now::{
    ForecastMethod, NowError, NowResult, NowSpec, NowStudy, SimulatedRest, Turn, WayForecast,
    WayKind, WayToGoOn, last_time_s, now, ways_to_go_on,
};
pub use optimise::{
    BaselineResult, Finalist, FinalistVerdict, Objective, PlanVariant, PointEvaluation,
    ReadVariant, SearchResult, SearchSpec, SearchStopped, Setting, SettingResult, ValueEffect,
    find_best,
};
pub use progress::{Control, NoProgress, Progress};
pub use replicate::{DayOutcomes, replicate};
pub use sensitivity::{
    Effort, HeldMean, InfluentialInput, PairVarianceComponents, PairVariances, ProfilePoint,
    ReversalInterval, ScreenedInput, SensitivityReport, StructureDoubt, UnderAlternative,
    VarianceComponent, VarianceComponentsKg2, WithoutMechanism, ZeroCrossing, analyse_sensitivity,
    pair_variance_components,
};
pub use shard::Shard;
pub use stamp::{MODEL_VERSION, Stamp};
#[cfg(feature = "program")]
pub use sweep::{
    BLOCK_DAYS, BestSoFar, Design, DesignError, MAX_POINTS, MergeError, Repair, Sampling, Store,
    StoreContent, StoreError, SweepDefinition, SweepError, SweepTotals, merge_shards, run_sweep,
    summarise,
};
pub use sweep::{SweepResult, SweptPlan, SweptSetting, SweptWeightKg};
pub use waters::{CompareWaters, PairDays, WaterPair, WaterPlan, WatersComparison, WatersOutcome};

// What only the two front ends and tests use.
#[doc(hidden)]
pub use compare::curve_times_s;
#[doc(hidden)]
pub use csv_cell::safe_cell;
#[doc(hidden)]
pub use csv_column::{CellKind, CsvColumn};
#[doc(hidden)]
pub use optimise::{EVALUATION_COLUMNS, MAX_CONFIRMATION_DAYS, evaluations_csv};
#[doc(hidden)]
pub use runner::seconds_per_session;
#[doc(hidden)]
pub use sensitivity::{reversals, two_best};
#[doc(hidden)]
pub use sessions_csv::SessionsCsv;
#[doc(hidden)]
pub use stamp::IS_DIRTY_BUILD;
#[doc(hidden)]
#[cfg(feature = "program")]
pub use sweep::{for_each_day, is_reproducible_here, open_lock_file, open_shards};
#[doc(hidden)]
pub use sweep::{is_untouched, plan_of_key};
