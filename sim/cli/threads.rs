//! Runs work on a chosen number of threads.

use super::exit_status::ExitError;

/// Runs `work` on a pool of `threads` threads, or of one thread per core if `None`.
pub(super) fn on_threads<T: Send>(
    threads: Option<usize>,
    work: impl FnOnce() -> T + Send,
) -> Result<T, ExitError> {
    // Zero lets rayon take one thread per core.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build();
    Ok(pool.map_err(|error| ExitError::Failed(error.into()))?.install(work))
}
