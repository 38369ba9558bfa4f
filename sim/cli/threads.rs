//! Runs work on a chosen number of threads, and studies with their progress shown.

use super::args::RunOptions;
use super::exit_status::ExitError;
use super::interrupt;
use super::progress::ProgressDisplay;
use crate::study::Control;

/// Runs a study of about `sessions` sessions with the options of a run: shows its progress, and stops it on Ctrl-C.
pub(super) fn run_study<T: Send>(
    options: &RunOptions,
    sessions: u64,
    study: impl FnOnce(Control<'_>) -> T + Send,
) -> Result<T, ExitError> {
    let stop = interrupt::listen()?;
    let progress = ProgressDisplay::new(sessions, options.output.quiet);
    let control = Control { progress: &progress, stop };
    let result = on_threads(options.threads, || study(control));
    progress.finish();
    result
}

/// Runs `work` on a pool of `threads` threads, or of one thread per core if `None`.
pub(super) fn on_threads<T: Send>(
    threads: Option<usize>,
    work: impl FnOnce() -> T + Send,
) -> Result<T, ExitError> {
    // Zero lets rayon take one thread per core.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build();
    Ok(pool.map_err(|error| ExitError::Failed(error.into()))?.install(work))
}
