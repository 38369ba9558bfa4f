//! Ctrl-C and the request to terminate: the first asks a study to stop, a second stops at once.

use std::process::exit;
use std::sync::atomic::{AtomicBool, Ordering};

use super::door::tell;
use super::ended::Ended;

static STOP: AtomicBool = AtomicBool::new(false);

/// The flag that is set when somebody asks to stop; listens from now on.
pub(super) fn listen() -> Result<&'static AtomicBool, Ended> {
    let asked_to_stop = || {
        if STOP.swap(true, Ordering::Relaxed) {
            exit(130);
        }
        tell("stopping; once more stops at once");
    };
    ctrlc::set_handler(asked_to_stop).map_err(|why| Ended::Failed(why.into()))?;
    Ok(&STOP)
}
