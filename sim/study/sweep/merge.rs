//! Merges the shares of a sweep into the store that one machine would have made.

use std::path::{Path, PathBuf};

use super::block::BLOCK_DAYS;
use super::definition::SweepDefinition;
use super::identity::{Property, first_difference, identity};
use super::run::{SweepError, is_reproducible_here};
use crate::scenario::{Diagnostics, grouped};
use crate::study::replicate::DayOutcomes;
use crate::study::shard::Shard;
use crate::study::sweep::store::{Store, StoreError};

/// Why shares cannot be merged.
#[derive(Debug, thiserror::Error)]
pub enum MergeError {
    /// A store cannot be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A point has faults.
    #[error(transparent)]
    Point(#[from] Diagnostics),
    /// A share belongs to another sweep.
    #[error("{path} is a share of another sweep than {first}: {property} {value}, not {expected}")]
    OtherSweep {
        /// Store of the share.
        path: PathBuf,
        /// Store of the first share.
        first: PathBuf,
        /// Name of the property that differs.
        property: &'static str,
        /// Its value in the share.
        value: String,
        /// Its value in the first share.
        expected: String,
    },
    /// A share was given twice.
    #[error("share {shard} was given twice, as {first} and {second}: name only one of them")]
    Duplicate {
        /// The share.
        shard: Shard,
        /// One store.
        first: PathBuf,
        /// The other store.
        second: PathBuf,
    },
    /// Shares are missing.
    #[error(
        "of {count} shares these are missing: {missing}; fish them with --part, or name their stores too"
    )]
    MissingShards {
        /// Numbers of the missing shares.
        missing: String,
        /// Number of shares.
        count: u32,
    },
    /// A share is not complete.
    #[error(
        "{path} lacks {} of its sessions: run the command that made it once more to complete it",
        grouped(*.sessions)
    )]
    Incomplete {
        /// Store of the share.
        path: PathBuf,
        /// Number of sessions that are missing.
        sessions: u64,
    },
    /// A share gives different results on this machine.
    #[error(
        "{path} comes from a machine that computes differently: the same days give other results here. Fish that \
         share on a machine of the same kind as this one"
    )]
    NotReproducible {
        /// Store of the share.
        path: PathBuf,
    },
}

impl From<SweepError> for MergeError {
    fn from(error: SweepError) -> Self {
        match error {
            SweepError::Store(error) => error.into(),
            SweepError::Point(faults) => faults.into(),
        }
    }
}

/// Properties on which all shares of a sweep must agree.
fn share_identity(sweep: &SweepDefinition) -> Vec<Property> {
    let mut properties = identity(sweep);
    properties.extend([
        ("points", format!("{:?}", sweep.design.points)),
        ("days", sweep.days.to_string()),
        ("number of shares", sweep.shard.count.to_string()),
    ]);
    properties
}

/// Opens all shares, checks that they are complete and belong to one sweep, and returns them in order with the
/// definition of the whole sweep.
///
/// All blocks are verified, and some of each share, spread over its days and points, are fished again, to check that its
/// machine computes like this one.
///
/// # Errors
///
/// [`MergeError`].
pub fn open_shards(paths: &[PathBuf]) -> Result<(Vec<Store>, SweepDefinition), MergeError> {
    let mut shards = paths.iter().map(|path| Store::read(path)).collect::<Result<Vec<_>, _>>()?;
    check_same_sweep(&shards)?;
    shards.sort_by_key(|shard| shard.sweep().shard.number);
    check_each_once(&shards)?;
    for shard in &shards {
        let path = shard.path().to_owned();
        match shard.sessions_to_do() {
            0 if is_reproducible_here(shard, shards.len())? => {}
            0 => return Err(MergeError::NotReproducible { path }),
            sessions => return Err(MergeError::Incomplete { path, sessions }),
        }
    }
    let whole = SweepDefinition { shard: Shard::WHOLE, ..shards[0].sweep().clone() };
    Ok((shards, whole))
}

/// Checks that there are shares, and that all of them belong to the sweep of the first.
fn check_same_sweep(shards: &[Store]) -> Result<(), MergeError> {
    let Some(first) = shards.first() else {
        return Err(MergeError::MissingShards { missing: "all".to_owned(), count: 1 });
    };
    for shard in shards {
        let difference =
            first_difference(share_identity(shard.sweep()), share_identity(first.sweep()));
        if let Some((property, value, expected)) = difference {
            let (path, first) = (shard.path().to_owned(), first.path().to_owned());
            return Err(MergeError::OtherSweep { path, first, property, value, expected });
        }
    }
    Ok(())
}

/// Checks that each share of the sweep is there exactly once; `shares` are sorted and not empty.
fn check_each_once(shards: &[Store]) -> Result<(), MergeError> {
    let number = |store: &Store| store.sweep().shard.number;
    if let Some(twins) = shards.windows(2).find(|pair| number(&pair[0]) == number(&pair[1])) {
        return Err(MergeError::Duplicate {
            shard: twins[0].sweep().shard,
            first: twins[0].path().to_owned(),
            second: twins[1].path().to_owned(),
        });
    }
    let count = shards[0].sweep().shard.count;
    let missing: Vec<String> = (1..=count)
        .filter(|part| !shards.iter().any(|shard| number(shard) == *part))
        .map(|part| part.to_string())
        .collect();
    if missing.is_empty() {
        Ok(())
    } else {
        Err(MergeError::MissingShards { missing: missing.join(", "), count })
    }
}

/// Delivers the days of a comparison in order from its gathered shares.
///
/// # Errors
///
/// If a day cannot be read, and the first error of `each_day`.
pub fn for_each_day<E: From<MergeError>>(
    shards: &[Store],
    whole: &SweepDefinition,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<(), E> {
    for number in 1..=whole.days {
        let block = u64::from((number - 1) / BLOCK_DAYS);
        let shard = shards.iter().find(|store| store.sweep().shard.includes(block));
        let Some(shard) = shard else { continue };
        each_day(&shard.day(number).map_err(MergeError::from)?)?;
    }
    Ok(())
}

/// Joins gathered shares into a new store at `path`.
///
/// # Errors
///
/// If the store cannot be written, or if days turn out to be missing or duplicated.
pub fn merge_shards(
    shards: &[Store],
    whole: SweepDefinition,
    path: &Path,
) -> Result<Store, StoreError> {
    let store = Store::open(path, whole.clone())?;
    store.copy_blocks(shards)?;
    drop(store);
    // Opening it again checks that it has every day exactly once.
    Store::open(path, whole)
}
