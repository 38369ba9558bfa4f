//! Ctrl-C and the request to terminate: the first asks a study to stop, a second stops at once.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, LazyLock};

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

use super::ended::Ended;

static STOP: LazyLock<Arc<AtomicBool>> = LazyLock::new(Arc::default);
/// The signal that asked last.
static SIGNAL: LazyLock<Arc<AtomicUsize>> = LazyLock::new(Arc::default);

/// The flag that is set when somebody asks to stop; listens from now on.
pub(super) fn listen() -> Result<&'static AtomicBool, Ended> {
    #[cfg(unix)]
    let signals = [SIGINT, SIGTERM, signal_hook::consts::SIGHUP];
    #[cfg(not(unix))]
    let signals = [SIGINT, SIGTERM];
    for signal in signals {
        // In this order: what looks at the flag comes before what sets it.
        flag::register_conditional_shutdown(signal, 128 + signal, Arc::clone(&STOP))
            .and_then(|_| flag::register_usize(signal, Arc::clone(&SIGNAL), signal as usize))
            .and_then(|_| flag::register(signal, Arc::clone(&STOP)))
            .map_err(|why| Ended::Failed(why.into()))?;
    }
    Ok(&STOP)
}

/// The exit code of a command that was asked to stop: 130 for Ctrl-C, 143 for the request to terminate.
pub(super) fn exit_code() -> u8 {
    match SIGNAL.load(Ordering::Relaxed) as u8 {
        0 => 130,
        signal => 128 + signal,
    }
}
