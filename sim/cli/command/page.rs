//! `page`: chooses what the local page shows and at which address.

use std::fs;
use std::io::{self, Write, stdout};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::AtomicBool;

use anyhow::anyhow;

use crate::cli::args::PageArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::terminal::notify;
use crate::scenario::{lessons_beside, load, shown_plainly, system_fault};

/// Folder whose scenarios are shown if none is named.
const DEFAULT_FOLDER: &str = "scenarios";

/// Function that `serve` calls with the address once the page can be opened.
type OnReady<'a> = &'a dyn Fn(SocketAddr) -> io::Result<()>;

/// Function that makes the page in one file, from the folder of scenarios and the name of the first; an error is in
/// words.
type InOneFile<'a> = &'a dyn Fn(Option<PathBuf>, Option<String>) -> Result<String, String>;

/// Shows the page until it is interrupted, or writes it into one file.
///
/// `serve` receives the folder of scenarios, the name of the scenario shown first, the address to listen on, the flag
/// that stops it, and a function to call when the page can be opened.
pub fn page(
    args: &PageArgs,
    in_one_file: InOneFile<'_>,
    serve: impl FnOnce(
        Option<PathBuf>,
        Option<String>,
        SocketAddr,
        &AtomicBool,
        OnReady<'_>,
    ) -> io::Result<()>,
) -> Result<(), ExitError> {
    let (folder, first) = match &args.scenario {
        Some(path) => {
            let (folder, name) = folder_and_name(path)?;
            (Some(folder), name)
        }
        None => (Some(PathBuf::from(DEFAULT_FOLDER)).filter(|folder| folder.is_dir()), None),
    };
    if let Some(path) = &args.save {
        let page =
            in_one_file(folder, first).map_err(|error| ExitError::WrongInput(anyhow!(error)))?;
        return save(path, &page);
    }
    let address = SocketAddr::new(args.host, args.port);
    if !address.ip().is_loopback() {
        notify(&format!(
            "warning: everybody who can reach {} can open this page and use this machine's processor",
            address.ip()
        ));
    }
    let stop = interrupt::listen()?;
    let on_ready = |bound: SocketAddr| {
        let url = format!("http://{bound}/");
        writeln!(stdout(), "{url}  (Ctrl-C ends it)")?;
        stdout().flush()?;
        if !args.no_open {
            open_browser(&url);
        }
        Ok(())
    };
    serve(folder, first, address, stop, &on_ready).map_err(|error| {
        if error.kind() == io::ErrorKind::AddrInUse {
            let port = address.port();
            return ExitError::Failed(anyhow!(
                "another program uses port {port}: give another with --port, or omit it for a free one"
            ));
        }
        let context = format!("the page cannot be served at {address}");
        ExitError::Failed(anyhow!(error).context(context))
    })?;
    // Ctrl-C is the usual end of a page; a request to terminate comes from outside, and its sender gets the usual code.
    match interrupt::was_terminated() {
        true => Err(ExitError::Interrupted("the page was terminated".to_owned())),
        false => Ok(()),
    }
}

/// Writes the page and says what to do with it.
fn save(path: &Path, page: &str) -> Result<(), ExitError> {
    fs::write(path, page).map_err(|error| {
        ExitError::Failed(anyhow!("cannot write {}: {}", path.display(), system_fault(&error)))
    })?;
    let megabytes = page.len() as f64 / 1e6;
    let words = format!(
        "{} ({megabytes:.1} MB): open it in any browser, also without a network",
        path.display()
    );
    Ok(writeln!(stdout(), "{}", shown_plainly(&words))?)
}

/// Folder and name of a scenario file, after it was checked for faults.
fn folder_and_name(path: &Path) -> Result<(PathBuf, Option<String>), ExitError> {
    load(path, &[])?;
    lessons_beside(path)?;
    if path.extension().is_none_or(|extension| extension != "toml") {
        let path = path.display();
        return Err(ExitError::WrongInput(anyhow!(
            "{path}: the page shows files that end in .toml"
        )));
    }
    let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    Ok((folder.unwrap_or(Path::new(".")).to_owned(), name))
}

/// Opens an address in the default browser; if that fails, the user has the printed address.
fn open_browser(url: &str) {
    let (program, args): (&str, &[&str]) = match std::env::consts::OS {
        "windows" => ("rundll32", &["url.dll,FileProtocolHandler"]),
        "macos" => ("open", &[]),
        _ => ("xdg-open", &[]),
    };
    let mut command = Command::new(program);
    command.args(args).arg(url);
    let _ = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
}
