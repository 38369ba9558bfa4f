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
    SwimSummary, VerdictRule, Warning, WeightKg, compare, compare_until_clear,
};
pub use estimate::Estimate;
pub use fit::{
    CheckFigures, FitCheck, FitOutcome, FitResult, FitSpec, LearnedUnknown, LoggedPlan, Misfit,
    PlanBeforeAfter, SummaryOutside, fit, logged_plans,
};
pub use learn::{
    BiteRate, EndShare, FittedWeibull, GroupBy, GroupDifference, HazardPiece, LearnResult,
    LearnSpec, LogTotals, NeverShare, RateByHour, RecastAdvice, RecastOutcome, RecastPoint,
    RecastTime, SessionTrend, WaitGroup, WaitPoint, learn,
};
pub use next::{NextResult, NextSpec, Practice, PracticeKind, PracticeWorth, what_to_try_next};
pub use now::{
    ForecastMethod, NowError, NowResult, NowSpec, Turn, WayForecast, WayKind, WayToGoOn, now,
};
pub use optimise::{
    BaselineResult, Finalist, FinalistVerdict, Objective, PlanVariant, PointEvaluation,
    ReadVariant, SearchResult, SearchSpec, SearchStopped, Setting, SettingResult, ValueEffect,
    find_best,
};
pub use progress::{Control, NoProgress, Progress};
pub use replicate::{DayOutcomes, replicate};
pub use sensitivity::{
    Effort, HeldMean, InfluentialInput, PairVariances, ProfilePoint, ReversalInterval,
    ScreenedInput, SensitivityReport, StructureDoubt, UnderAlternative, VarianceComponent,
    VarianceComponentsKg2, WithoutMechanism, ZeroCrossing, analyse_sensitivity,
};
pub use shard::Shard;
pub use stamp::{MODEL_VERSION, Stamp};
#[cfg(feature = "program")]
pub use sweep::{
    Design, DesignError, MergeError, Sampling, Store, StoreError, SweepDefinition, SweepError,
    merge_shards, run_sweep, summarise,
};
pub use sweep::{SweepResult, SweptPlan, SweptSetting, SweptWeightKg};
pub use waters::{CompareWaters, PairDays, WaterPair, WaterPlan, WatersComparison, WatersOutcome};

// What only the two front ends and tests use.
#[doc(hidden)]
pub use compare::{comparison, curve_times_s, decompose};
#[doc(hidden)]
pub use csv_cell::safe_cell;
#[doc(hidden)]
pub use csv_column::{CellKind, CsvColumn};
#[doc(hidden)]
pub use fit::{
    LogShare, LogSimulator, SimulatedCase, SummaryFrame, TableFile, UnknownsPosterior, fit_from,
    fit_sessions, simulate_share, simulated_session, table_identity, unknowns_posterior,
};
#[doc(hidden)]
#[cfg(feature = "program")]
pub use fit::{LogShareError, join_log_shares};
#[doc(hidden)]
pub use learn::{MIN_BITES, MIN_BITES_FOR_RECAST};
#[doc(hidden)]
pub use next::{chance_of_worse, chance_of_worse_after, next_sessions, practices};
#[doc(hidden)]
pub use now::{NowStudy, SimulatedRest, last_time_s, ways_to_go_on};
#[doc(hidden)]
pub use optimise::{EVALUATION_COLUMNS, MAX_CONFIRMATION_DAYS, evaluations_csv};
#[doc(hidden)]
pub use runner::seconds_per_session;
#[doc(hidden)]
pub use sensitivity::{PairVarianceComponents, pair_variance_components, reversals, two_best};
#[doc(hidden)]
pub use sessions_csv::SessionsCsv;
#[doc(hidden)]
pub use stamp::IS_DIRTY_BUILD;
#[doc(hidden)]
#[cfg(feature = "program")]
pub use sweep::{
    BLOCK_DAYS, BestSoFar, MAX_POINTS, Repair, StoreContent, SweepTotals, for_each_day,
    is_reproducible_here, open_lock_file, open_shards,
};
#[doc(hidden)]
pub use sweep::{is_untouched, plan_of_key};
