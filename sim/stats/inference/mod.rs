//! Inference from samples: intervals, paired comparisons, the bootstrap and verdicts. It must not know how the
//! samples were made.

mod bootstrap;
mod independent;
mod interim_analyses;
mod interval;
mod lowest_mean;
mod order_statistics;
mod paired;
mod paired_table;
mod rank_influence;
mod superiority;
mod verdict;

pub use bootstrap::{BootstrapDistribution, bootstrap_counts, lower_tail_mean};
pub use independent::{MannWhitney, Welch};
pub use interim_analyses::{InterimAnalyses, bonferroni_level};
pub use interval::{Interval, Proportion, mean_interval, t_quantile, wilson_interval};
pub use lowest_mean::{lowest_influences, lowest_mean_interval};
pub use order_statistics::{QuantileRanks, quantile_ranks};
pub use paired::Paired;
pub use paired_table::{PairedTable, newcombe_interval};
pub use rank_influence::{rank_influences, share_interval};
pub use superiority::probability_of_superiority;
pub use verdict::Verdict;

pub(super) use interval::z_quantile;
