//! A file that keeps simulated logs while they are made, so that a run that was cut short goes on where it stopped.
//!
//! A line for each log, with a digest; a line that was cut short or changed, and all after it, are simulated again.

use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::check_figures::CheckFigures;
use super::simulated_table::SimulatedCase;

/// Name and version of the format.
const FORMAT: &str = "shoalwise/simulated-logs/1";
/// Characters of a digest that are kept.
const DIGEST: usize = 16;

/// A file of simulated logs, open for more.
#[derive(Debug)]
pub struct TableFile {
    file: File,
    identity: String,
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

    /// Opens or creates the file of a run; `identity` is everything that decides its logs. Returns the logs that it holds
    /// already; those of another run are removed.
    ///
    /// # Errors
    ///
    /// An error of the system.
    pub fn open(path: &Path, identity: &str) -> io::Result<(Self, Vec<SimulatedCase>)> {
        let options =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).clone();
        let mut file = options.open(path)?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        let identity = hex(identity);
        let head = format!("{FORMAT} {identity}\n");
        let text = String::from_utf8_lossy(&bytes);
        let mut cases = Vec::new();
        let mut kept = 0;
        if let Some(rest) = text.strip_prefix(&head) {
            kept = head.len();
            for line in rest.split_inclusive('\n') {
                let Some(case) = read_line(line, &identity, cases.len()) else { break };
                kept += line.len();
                cases.push(case);
            }
        }
        file.set_len(kept as u64)?;
        file.seek(SeekFrom::Start(kept as u64))?;
        if kept == 0 {
            file.write_all(head.as_bytes())?;
        }
        Ok((Self { file, identity }, cases))
    }

    /// Adds logs, the first of which has the number `from`, counted from 0; they are on the disk when this returns.
    ///
    /// # Errors
    ///
    /// An error of the system.
    pub fn add(&mut self, from: usize, cases: &[SimulatedCase]) -> io::Result<()> {
        let lines: io::Result<String> = cases
            .iter()
            .enumerate()
            .map(|(at, case)| line(case, &self.identity, from + at))
            .collect();
        self.file.write_all(lines?.as_bytes())?;
        self.file.sync_data()
    }
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
