//! `sweep`: fishes every plan at every point of a grid or sample, resumable, into a store.

use super::sweep_job::SweepJob;
use crate::cli::args::{SamplingArg, SweepArgs};
use crate::cli::exit_status::ExitError;
use crate::study::{Sampling, Shard};

/// Fishes every plan at every point, on the same days, into a store; prints the result and writes pictures and tables
/// when all points are done.
pub fn sweep(args: &SweepArgs) -> Result<(), ExitError> {
    let spread = match (args.points, args.design.unwrap_or_default()) {
        (None, _) => Sampling::Grid,
        (Some(points), SamplingArg::Sobol) => Sampling::Sobol(points),
        (Some(points), SamplingArg::Latin) => Sampling::Latin(points),
    };
    let job = SweepJob {
        command: "sweep",
        scenario: &args.scenario,
        plans: &args.plans,
        vary: &args.vary,
        spread,
        days: args.days,
        share: args.part.unwrap_or(Shard::WHOLE),
        repair: args.repair,
        options: &args.run,
    };
    if args.status { job.print_status() } else { job.run() }
}
