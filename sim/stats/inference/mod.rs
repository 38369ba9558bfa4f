//! Inference from samples: intervals, paired comparisons, the bootstrap and verdicts. It must not know how the
//! samples were made.

mod bootstrap;
mod interim_analyses;
mod interval;
mod order_statistics;
mod paired;
mod paired_table;
mod superiority;
mod verdict;

pub use bootstrap::{Resampled, draw_again, lower_tail_mean};
pub use interim_analyses::{Looks, level_of_each};
pub use interval::{Interval, Share, mean_interval, t_quantile, wilson};
pub use order_statistics::{Ranks, quantile_ranks};
pub use paired::Paired;
pub use paired_table::{Together, square_and_add};
pub use superiority::larger_on_separate_days;
pub use verdict::Standing;
