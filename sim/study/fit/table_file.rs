//! A file that keeps simulated logs while they are made, so that a run that was cut short goes on where it stopped.
//!
//! A line for each log, with a digest; a line that was cut short or changed, and all after it, are simulated again.

use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::check_figures::CheckFigures;
use super::log_share::LogShare;
use super::simulated_table::SimulatedCase;

/// Name and version of the format.
const FORMAT: &str = "shoalwise/simulated-logs/1";
/// More logs than any fit takes.
#[cfg(feature = "program")]
const MAX_LOGS: u32 = 1_000_000;
/// Characters of a digest that are kept.
const DIGEST: usize = 16;

/// A file of simulated logs, open for more.
#[derive(Debug)]
pub struct TableFile {
    file: File,
    identity: String,
    /// Numbers of the share's waters; `None` for all waters.
    waters: Option<Vec<u32>>,
}

/// What is in a file that should hold a share.
#[cfg(feature = "program")]
pub(super) enum LogsOfShare {
    /// A share with its whole logs.
    Read(LogShare, Vec<SimulatedCase>),
    /// A share of another fit.
    OtherFit,
    /// No share.
    None,
}

/// A simulated log as a line.
#[derive(Serialize, Deserialize)]
struct CaseLine {
    scores: Vec<f64>,
    summaries: Vec<f64>,
    checks: [f64; 4],
}

impl TableFile {
    /// Name of the file in a folder.
    pub const NAME: &'static str = "simulated-logs.txt";

    /// Opens or creates the file of a run, or of a `share` of it; `identity` is everything that decides its logs. Returns
    /// the logs that it holds already; those of another run are removed.
    ///
    /// # Errors
    ///
    /// An error of the system.
    pub fn open(
        path: &Path,
        identity: &str,
        share: Option<LogShare>,
    ) -> io::Result<(Self, Vec<SimulatedCase>)> {
        let options =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).clone();
        let mut file = options.open(path)?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        let identity = hex(identity);
        let head = match share {
            None => format!("{FORMAT} {identity}\n"),
            Some(LogShare { shard, logs }) => format!("{FORMAT} {identity} {shard} of {logs}\n"),
        };
        let waters = share.map(LogShare::waters);
        let text = String::from_utf8_lossy(&bytes);
        let mut cases = Vec::new();
        let mut kept = 0;
        if let Some(rest) = text.strip_prefix(&head) {
            kept = head.len();
            cases = read_lines(rest, &identity, waters.as_deref(), &mut kept);
        }
        file.set_len(kept as u64)?;
        file.seek(SeekFrom::Start(kept as u64))?;
        if kept == 0 {
            file.write_all(head.as_bytes())?;
        }
        Ok((Self { file, identity, waters }, cases))
    }

    /// Reads the file of a share.
    #[cfg(feature = "program")]
    pub(super) fn read_share(path: &Path, identity: &str) -> io::Result<LogsOfShare> {
        let text = String::from_utf8_lossy(&std::fs::read(path)?).into_owned();
        let (head, rest) = text.split_once('\n').unwrap_or((&text, ""));
        let words: Vec<&str> = head.split(' ').collect();
        let [FORMAT, of_fit, shard, "of", logs] = words[..] else { return Ok(LogsOfShare::None) };
        let (Ok(shard), Ok(logs)) = (shard.parse(), logs.parse()) else {
            return Ok(LogsOfShare::None);
        };
        let identity = hex(identity);
        if of_fit != identity {
            return Ok(LogsOfShare::OtherFit);
        }
        let share = LogShare { shard, logs };
        if logs > MAX_LOGS {
            return Ok(LogsOfShare::None);
        }
        let cases = read_lines(rest, &identity, Some(&share.waters()), &mut 0);
        Ok(LogsOfShare::Read(share, cases))
    }

    /// Adds logs, the first of which is number `from` of the file, counted from 0; they are on the disk when this returns.
    ///
    /// # Errors
    ///
    /// An error of the system.
    pub fn add(&mut self, from: usize, cases: &[SimulatedCase]) -> io::Result<()> {
        let lines: io::Result<String> = cases
            .iter()
            .enumerate()
            .map(|(at, case)| line(case, &self.identity, number(self.waters.as_deref(), from + at)))
            .collect();
        self.file.write_all(lines?.as_bytes())?;
        self.file.sync_data()
    }
}

/// Number of a log of a file, counted from 0, among the logs of all shares.
fn number(waters: Option<&[u32]>, place: usize) -> usize {
    match waters {
        None => place,
        Some(waters) => waters.get(place).map_or(usize::MAX, |water| *water as usize - 1),
    }
}

/// The logs of whole lines, up to the first that is not; adds the bytes of these lines to `kept`.
fn read_lines(
    text: &str,
    identity: &str,
    waters: Option<&[u32]>,
    kept: &mut usize,
) -> Vec<SimulatedCase> {
    let mut cases = Vec::new();
    for line in text.split_inclusive('\n') {
        let number = number(waters, cases.len());
        let Some(case) = read_line(line, identity, number) else { break };
        *kept += line.len();
        cases.push(case);
    }
    cases
}

fn line(case: &SimulatedCase, identity: &str, number: usize) -> io::Result<String> {
    let checks = case.checks.named().map(|(_, value)| value);
    let line = CaseLine { scores: case.scores.clone(), summaries: case.summaries.clone(), checks };
    let json = serde_json::to_string(&line)?;
    Ok(format!("{} {json}\n", digest(identity, number, &json)))
}

/// The log of a line. `None` if the line is not whole.
fn read_line(line: &str, identity: &str, number: usize) -> Option<SimulatedCase> {
    let (written, json) = line.strip_suffix('\n')?.split_once(' ')?;
    if written != digest(identity, number, json) {
        return None;
    }
    let CaseLine { scores, summaries, checks } = serde_json::from_str(json).ok()?;
    let [longest_blank_run, first_bite_min, best_half_hour, heaviest_kg] = checks;
    let checks = CheckFigures { longest_blank_run, first_bite_min, best_half_hour, heaviest_kg };
    Some(SimulatedCase { scores, summaries, checks })
}

fn digest(identity: &str, number: usize, json: &str) -> String {
    let mut digest = hex(&format!("{identity} {number} {json}"));
    digest.truncate(DIGEST);
    digest
}

fn hex(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
