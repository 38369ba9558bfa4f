//! Log files: reading, and writing so that no power cut can spoil them.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

use super::cast::CatchLog;
use super::read::read_catch_log;
use crate::scenario::{Diagnostic, Diagnostics, SourceLocation, system_problem};

/// Largest log that is read [bytes], enough for sixty thousand casts.
const MAX_BYTES: u64 = 5_000_000;

/// Reads the text of a log file.
///
/// # Errors
///
/// If the file does not exist, is too large, cannot be read or is not text.
pub fn read_log_text(path: &Path) -> Result<String, Diagnostics> {
    let fault = |problem: String, fix: &str| {
        let fault = Diagnostic::new(&SourceLocation::File, "", problem, fix);
        Diagnostics::from_fault(&path.display().to_string(), fault)
    };
    if path.is_dir() {
        return Err(fault("is a folder".to_owned(), "name a catch log, which ends in .csv"));
    }
    let file = File::open(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => fault(
            "there is no such file".to_owned(),
            "name a catch log; `learn --template` writes an empty one",
        ),
        _ => unreadable(path, &error),
    })?;
    text_of(file, path)
}

/// The fault of a log that the system cannot read.
fn unreadable(path: &Path, error: &io::Error) -> Diagnostics {
    let (problem, fix) = system_problem(error);
    let problem = format!("cannot be read: {problem}");
    let fault = Diagnostic::new(&SourceLocation::File, "", problem, fix);
    Diagnostics::from_fault(&path.display().to_string(), fault)
}

/// The text of a log that is called `path` in messages.
fn text_of(input: impl Read, path: &Path) -> Result<String, Diagnostics> {
    let fault = |problem: &str, fix: &str| {
        let fault = Diagnostic::new(&SourceLocation::File, "", problem.to_owned(), fix);
        Diagnostics::from_fault(&path.display().to_string(), fault)
    };
    let mut bytes = Vec::new();
    let read = input.take(MAX_BYTES + 1).read_to_end(&mut bytes);
    read.map_err(|error| unreadable(path, &error))?;
    if bytes.len() as u64 > MAX_BYTES {
        let fix = "a catch log has at most 5,000,000 bytes; divide it into several";
        return Err(fault("is too large", fix));
    }
    String::from_utf8(bytes)
        .map_err(|_| fault("has bytes that are not UTF-8 text", "save the log as CSV in UTF-8"))
}

/// Reads a log file.
///
/// # Errors
///
/// Everything that is wrong with the file, all at once.
pub fn load_catch_log(path: &Path) -> Result<CatchLog, Diagnostics> {
    let text = read_log_text(path)?;
    let name =
        path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    read_catch_log(&text, &name, &path.display().to_string())
}

/// Reads a log from an input, such as standard input; it is called `stdin`.
///
/// # Errors
///
/// Everything that is wrong with the text, all at once.
pub fn read_catch_log_from(input: impl Read) -> Result<CatchLog, Diagnostics> {
    const NAME: &str = "stdin";
    read_catch_log(&text_of(input, Path::new(NAME))?, NAME, NAME)
}

/// Replaces a log file in one step: when this returns, the text is on the disk, and at any moment before either the old
/// or the new text is.
///
/// # Errors
///
/// An error of the system; the file is then as it was.
pub fn save_log_text(path: &Path, text: &str) -> io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let unfinished = folder.join(format!(".{name}.{}.unfinished", std::process::id()));
    let written = File::create(&unfinished)
        .and_then(|mut file| {
            file.write_all(text.as_bytes())?;
            file.sync_all()
        })
        .and_then(|()| fs::rename(&unfinished, path));
    if let Err(error) = written {
        // If it cannot be removed either, its name marks it as unfinished.
        let _ = fs::remove_file(&unfinished);
        return Err(error);
    }
    sync_folder(folder)
}

/// Makes sure that a new name in a folder is on the disk.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Elsewhere a folder cannot be opened, and the system takes care of names itself.
#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
