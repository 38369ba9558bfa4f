//! `log`: adds casts to a catch log on the bank.

use std::fs;
use std::io::{BufRead, IsTerminal, Write, stdin, stdout};
use std::path::PathBuf;

use anyhow::anyhow;
use chrono::{Local, Timelike};

use crate::catch_log::{BankEntry, BankLog, TimedEntry, read_log_text, save_log_text};
use crate::cli::args::LogArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::terminal::notify;
use crate::scenario::{shown_plainly, system_fault};

/// A log file that is being added to.
struct OpenFile {
    path: PathBuf,
    /// What the file holds. `None` if it does not exist yet.
    on_disk: Option<String>,
}

/// Reads entries from standard input, line by line, and records each in the log before the next is read.
///
/// # Errors
///
/// [`ExitError::WrongInput`] if the log has faults, and at the end of input that is not typed if entries were refused;
/// [`ExitError::Failed`] if an entry cannot be saved.
pub fn log(args: &LogArgs) -> Result<(), ExitError> {
    // A link stays a link: the file that it points to is replaced.
    let path = args.file.canonicalize().unwrap_or_else(|_| args.file.clone());
    let on_disk = if path.exists() { Some(read_log_text(&path)?) } else { None };
    let date = Local::now().format("%Y-%m-%d").to_string();
    let session = args.session.as_deref().unwrap_or(&date);
    let text = on_disk.as_deref().unwrap_or_default();
    let mut log = BankLog::open(text, &path.display().to_string(), session, &date)?;
    let mut file = OpenFile { path, on_disk };
    let is_typed = stdin().is_terminal();
    if is_typed {
        let words = format!("Session {session} in {}. ? shows what to type.", file.path.display());
        writeln!(stdout(), "{}", shown_plainly(&words))?;
    }
    let mut refused = 0_u64;
    prompt(is_typed)?;
    for line in stdin().lock().lines() {
        match BankEntry::parse(&line?) {
            Ok(None) => {}
            Ok(Some(TimedEntry { entry: BankEntry::Quit, .. })) => break,
            Ok(Some(TimedEntry { entry: BankEntry::Help, .. })) => {
                stdout().write_all(BankEntry::HELP.as_bytes())?;
            }
            Ok(Some(timed)) => match log.record(&timed.entry, timed.time_s.unwrap_or_else(now_s)) {
                Ok(words) => {
                    file.save(log.text())?;
                    writeln!(stdout(), "{}", shown_plainly(&words))?;
                }
                Err(message) => {
                    refused += 1;
                    notify(&message);
                }
            },
            Err(message) => {
                refused += 1;
                notify(&message);
            }
        }
        prompt(is_typed)?;
    }
    if refused > 0 && !is_typed {
        return Err(ExitError::WrongInput(anyhow!(
            "{refused} of the entries could not be recorded; all others are"
        )));
    }
    Ok(())
}

/// Time of day [s since midnight].
fn now_s() -> f64 {
    f64::from(Local::now().time().num_seconds_from_midnight())
}

fn prompt(is_typed: bool) -> Result<(), ExitError> {
    if is_typed {
        write!(stdout(), "> ")?;
    }
    Ok(stdout().flush()?)
}

impl OpenFile {
    /// Saves the log, unless somebody else has changed it meanwhile.
    fn save(&mut self, text: &str) -> Result<(), ExitError> {
        if self.on_disk.as_deref() == Some(text) {
            return Ok(());
        }
        let path = self.path.display();
        if fs::read_to_string(&self.path).ok() != self.on_disk {
            return Err(ExitError::Failed(anyhow!(
                "{path} was changed by another program; the last entry is not recorded, everything else is in the file: \
                 start again"
            )));
        }
        save_log_text(&self.path, text).map_err(|error| {
            ExitError::Failed(anyhow!("cannot write {path}: {}", system_fault(&error)))
        })?;
        self.on_disk = Some(text.to_owned());
        Ok(())
    }
}
