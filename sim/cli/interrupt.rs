//! Ctrl-C and the request to terminate: the first one asks a study to stop, the second one ends the program at once.

use std::io;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, LazyLock};

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

static STOP: LazyLock<Arc<AtomicBool>> = LazyLock::new(Arc::default);
/// Number of the last signal received.
static SIGNAL: LazyLock<Arc<AtomicUsize>> = LazyLock::new(Arc::default);

/// Starts to listen for signals; returns the flag that the first signal sets.
pub(super) fn listen() -> io::Result<&'static AtomicBool> {
    #[cfg(unix)]
    let signals = [SIGINT, SIGTERM, signal_hook::consts::SIGHUP];
    #[cfg(not(unix))]
    let signals = [SIGINT, SIGTERM];
    for signal in signals {
        // The order matters: the handler that reads the flag must run before the handler that sets it.
        flag::register_conditional_shutdown(signal, 128 + signal, Arc::clone(&STOP))?;
        flag::register_usize(signal, Arc::clone(&SIGNAL), signal as usize)?;
        flag::register(signal, Arc::clone(&STOP))?;
    }
    Ok(&STOP)
}

/// Whether the last signal was not Ctrl-C.
pub(super) fn was_terminated() -> bool {
    !matches!(SIGNAL.load(Ordering::Relaxed) as i32, 0 | SIGINT)
}

/// Exit code of a command that was stopped: 130 for Ctrl-C, 143 for the request to terminate.
pub(super) fn exit_code() -> u8 {
    match SIGNAL.load(Ordering::Relaxed) as u8 {
        0 => 130,
        signal => 128 + signal,
    }
}
