//! `page`: what is to be shown and where; the serving itself is the other door's.

use std::io::{self, Write, stdout};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::AtomicBool;

use anyhow::anyhow;

use super::args::PageArgs;
use super::door::tell;
use super::ended::Ended;
use super::interrupt;
use crate::scenario::load;

/// Folder whose scenarios are shown where no scenario is named.
const USUAL_FOLDER: &str = "scenarios";

/// What was asked to be shown.
#[derive(Clone, Debug)]
pub struct PageAsked {
    /// Folder whose scenarios may be shown.
    pub folder: Option<PathBuf>,
    /// Name of the scenario shown first.
    pub first: Option<String>,
    /// Address to listen on; port 0 takes a free one.
    pub at: SocketAddr,
}

/// Shows a page until it is interrupted; `serve` does the showing, and says when the page can be opened.
///
/// # Errors
///
/// [`Ended::WrongInput`] where the scenario is wrong, [`Ended::Failed`] where nothing can be served.
pub fn page(
    asked: &PageArgs,
    serve: impl FnOnce(&PageAsked, &AtomicBool, &dyn Fn(SocketAddr) -> io::Result<()>) -> io::Result<()>,
) -> Result<(), Ended> {
    let (folder, first) = match &asked.scenario {
        Some(path) => {
            // Every fault of the scenario named is told here, before anything is served.
            load(path, &[])?;
            let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
            let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
            let ending = path.extension().is_some_and(|ending| ending == "toml");
            if !ending {
                let name = path.display();
                return Err(Ended::WrongInput(anyhow!(
                    "{name}: the page shows files that end in .toml"
                )));
            }
            (Some(folder.unwrap_or(Path::new(".")).to_owned()), stem)
        }
        None => (Some(PathBuf::from(USUAL_FOLDER)).filter(|folder| folder.is_dir()), None),
    };
    let at = SocketAddr::new(asked.host, asked.port);
    if !at.ip().is_loopback() {
        tell(&format!(
            "mind: everybody who can reach {} may open this page and make this machine work",
            at.ip()
        ));
    }
    let stop = interrupt::listen()?;
    serve(&PageAsked { folder, first, at }, stop, &|at| {
        let address = format!("http://{at}/");
        writeln!(stdout(), "{address}  (Ctrl-C ends it)")?;
        stdout().flush()?;
        if !asked.no_open {
            open(&address);
        }
        Ok(())
    })
    .map_err(|why| {
        Ended::Failed(anyhow!(why).context(format!("the page cannot be served at {at}")))
    })
}

/// Opens an address in the usual browser; where there is none, the printed address has to do.
fn open(address: &str) {
    let (program, args): (&str, &[&str]) = match std::env::consts::OS {
        "windows" => ("rundll32", &["url.dll,FileProtocolHandler"]),
        "macos" => ("open", &[]),
        _ => ("xdg-open", &[]),
    };
    let mut command = Command::new(program);
    command.args(args).arg(address);
    let _ = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
}
