//! `merge`: joins the shares of a sweep or a comparison.

use std::path::PathBuf;

use crate::cli::args::{MergeArgs, UnitsArg};
use crate::cli::exit_status::ExitError;
use crate::cli::output::{
    ComparisonFiles, Folder, RunOrigin, RunSpec, choose_sweep_folder, publish_sweep,
    refuse_no_folder,
};
use crate::cli::terminal::notify;
use crate::study::{
    Scoreboard, Store, SweepDefinition, comparison, for_each_day, merge_shards, open_shards,
};

/// Joins the shares of a sweep or a comparison, and prints and writes what one machine would have.
///
/// # Errors
///
/// [`ExitError::WrongInput`] if shares are missing, given twice, unfinished or from different runs.
pub fn merge(args: &MergeArgs) -> Result<(), ExitError> {
    refuse_no_folder(&args.output, "joined shares are kept in a folder")?;
    let store_path =
        |path: &PathBuf| if path.is_dir() { path.join(Store::FILE) } else { path.clone() };
    let paths: Vec<PathBuf> = args.shares.iter().map(store_path).collect();
    let (shards, whole) = open_shards(&paths)?;
    if whole.is_comparison() {
        return merge_comparison(args, &shards, &whole);
    }
    merge_sweep(args, &shards, whole)
}

/// Joins the stores of the shares into one.
fn merge_sweep(
    args: &MergeArgs,
    shards: &[Store],
    whole: SweepDefinition,
) -> Result<(), ExitError> {
    let mut base = whole.source.read(&whole.overrides)?;
    base.fixed_days = whole.fixed_days;
    let output = &args.output;
    let origin = RunOrigin::new(&base, UnitsArg::resolved(args.units, &base));
    let (folder, path) =
        choose_sweep_folder(&whole, "sweep", output.folder(), output.quiet, origin)?;
    let store = merge_shards(shards, whole, &path)?;
    notify_joined(args, shards);
    publish_sweep(&store, folder, output, UnitsArg::resolved(args.units, &base))
}

/// Adds up the days of all shares.
fn merge_comparison(
    args: &MergeArgs,
    shards: &[Store],
    whole: &SweepDefinition,
) -> Result<(), ExitError> {
    notify_joined(args, shards);
    let scenario = whole.scenario(&[])?;
    let request = RunSpec {
        command: "compare",
        stamp: whole.stamp.clone(),
        plans: whole.plans.clone(),
        result_options: Vec::new(),
        days: whole.days,
        origin: RunOrigin::new(&scenario, UnitsArg::resolved(args.units, &scenario)),
    };
    let mut files = ComparisonFiles::new(Folder::choose(args.output.folder(), request)?);
    let mut board = Scoreboard::new(&scenario);
    for_each_day(shards, whole, |day| {
        board.add(day);
        files.write_day(&scenario, day)
    })
    .inspect_err(|_: &ExitError| files.discard())?;
    let result = comparison(&scenario, whole.stamp.seed, &board);
    files.publish(
        &result,
        &scenario,
        UnitsArg::resolved(args.units, &scenario),
        &args.output,
        false,
    )
}

fn notify_joined(args: &MergeArgs, shards: &[Store]) {
    if !args.output.quiet {
        notify(&format!(
            "{} shares are joined; some days of each were fished again here, with the same result",
            shards.len()
        ));
    }
}
