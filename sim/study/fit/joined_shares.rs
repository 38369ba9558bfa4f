//! Joins the shares of a fit's simulated logs.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::log_share::LogShare;
use super::run::{FitSpec, is_simulated_alike, table_identity};
use super::simulated_table::SimulatedCase;
use super::table_file::{LogsOfShare, TableFile};
use crate::scenario::{grouped, system_fault};
use crate::study::shard::Shard;

/// Why shares of simulated logs cannot be joined.
#[derive(Debug, thiserror::Error)]
pub enum LogShareError {
    /// A file cannot be read.
    #[error("cannot read {path}: {}", system_fault(error))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// Error of the system.
        error: std::io::Error,
    },
    /// A file that was named is not a share of simulated logs.
    #[error("{0} is no share of simulated logs: name the folders that `learn --part` wrote")]
    NoShare(PathBuf),
    /// A share was made from something else.
    #[error(
        "{0} was simulated for another log, scenario or seed, or by another version of this program: simulate that \
         share again with the same words as this command"
    )]
    OtherFit(PathBuf),
    /// A share belongs to another number of logs or shares.
    #[error("{path} is share {actual}, and this needs one of {wanted}")]
    OtherNumber {
        /// The file.
        path: PathBuf,
        /// Which share it is, and of how many logs.
        actual: String,
        /// How many shares of how many logs this run needs.
        wanted: String,
    },
    /// A share was given twice.
    #[error("share {0} was given twice: name only one of the two folders")]
    Twice(Shard),
    /// Shares are missing.
    #[error(
        "of {count} shares these are missing: {missing}; simulate them with --part, or name their folders too"
    )]
    Missing {
        /// Their numbers.
        missing: String,
        /// Number of shares.
        count: u32,
    },
    /// A share is not complete, or damaged.
    #[error(
        "{path} lacks {} of its logs: run the command that made it once more to complete it",
        grouped(*.logs as u64)
    )]
    Incomplete {
        /// The file.
        path: PathBuf,
        /// How many are missing.
        logs: usize,
    },
    /// A share gives other logs on this machine.
    #[error(
        "{0} comes from a machine that computes differently: the same waters give other logs here. Simulate that share \
         on a machine of the same kind as this one"
    )]
    NotReproducible(PathBuf),
}

/// Joins the shares of a fit's simulated logs; each of `paths` is a file or the folder that holds it. One log of each
/// share is simulated again, to check that its machine computes like this one.
///
/// # Errors
///
/// [`LogShareError`].
pub fn join_log_shares(
    paths: &[PathBuf],
    spec: &FitSpec<'_>,
) -> Result<Vec<SimulatedCase>, LogShareError> {
    let mut shares = Vec::new();
    for path in paths {
        let path = if path.is_dir() { path.join(TableFile::NAME) } else { path.clone() };
        let read = read_share(&path, spec)?;
        shares.push((path, read));
    }
    shares.sort_by_key(|(_, (share, _))| share.shard.number);
    let Some((_, (first, _))) = shares.first() else { return Ok(Vec::new()) };
    let count = first.shard.count;
    for (path, (share, _)) in &shares {
        if share.shard.count != count || share.logs != spec.simulated_logs {
            return Err(LogShareError::OtherNumber {
                path: path.clone(),
                actual: format!("{} of {} logs", share.shard, grouped(share.logs)),
                wanted: format!("{count} shares of {} logs", grouped(spec.simulated_logs)),
            });
        }
    }
    let numbers: Vec<u32> = shares.iter().map(|(_, (share, _))| share.shard.number).collect();
    if let Some(twice) = numbers.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(LogShareError::Twice(Shard { number: twice[0], count }));
    }
    let missing: Vec<String> =
        (1..=count).filter(|part| !numbers.contains(part)).map(|part| part.to_string()).collect();
    if !missing.is_empty() {
        return Err(LogShareError::Missing { missing: missing.join(", "), count });
    }
    let mut joined: Vec<(u32, SimulatedCase)> = Vec::new();
    for (path, (share, cases)) in shares {
        let waters = share.waters();
        if cases.len() < waters.len() {
            return Err(LogShareError::Incomplete { path, logs: waters.len() - cases.len() });
        }
        let last = waters.last().zip(cases.last());
        if last.is_some_and(|(&water, case)| !is_simulated_alike(spec, water, case)) {
            return Err(LogShareError::NotReproducible(path));
        }
        joined.extend(waters.into_iter().zip(cases));
    }
    joined.sort_by_key(|(water, _)| *water);
    Ok(joined.into_iter().map(|(_, case)| case).collect())
}

fn read_share(
    path: &Path,
    spec: &FitSpec<'_>,
) -> Result<(LogShare, Vec<SimulatedCase>), LogShareError> {
    let path = path.to_owned();
    match TableFile::read_share(&path, &table_identity(spec)) {
        Ok(LogsOfShare::Read(share, cases)) => Ok((share, cases)),
        Ok(LogsOfShare::OtherFit) => Err(LogShareError::OtherFit(path)),
        Ok(LogsOfShare::None) => Err(LogShareError::NoShare(path)),
        Err(error) if error.kind() == ErrorKind::NotFound => Err(LogShareError::NoShare(path)),
        Err(error) => Err(LogShareError::Unreadable { path, error }),
    }
}
