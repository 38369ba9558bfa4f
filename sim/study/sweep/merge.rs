//! Merges the shares of a sweep into the store that one machine would have made.

use std::path::{Path, PathBuf};

use super::block::BLOCK_DAYS;
use super::definition::SweepDefinition;
use super::identity::{Property, first_difference, identity};
use super::run::is_reproducible_here;
use super::shard::Shard;
use crate::study::replicate::DayOutcomes;
use crate::study::sweep::store::{Store, StoreError};

/// Why shares cannot be merged.
#[derive(Debug, thiserror::Error)]
pub enum MergeError {
    /// A store cannot be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
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
    #[error("share {share} was given twice, as {first} and {second}: name only one of them")]
    Duplicate {
        /// The share.
        share: Shard,
        /// One store.
        first: PathBuf,
        /// The other store.
        second: PathBuf,
    },
    /// Shares are missing.
    #[error(
        "shares {missing} of {count} are missing: fish them with --part, or name their stores too"
    )]
    MissingShards {
        /// Numbers of the missing shares.
        missing: String,
        /// Number of shares.
        count: u32,
    },
    /// A share is not complete.
    #[error(
        "{path} lacks {sessions} of its sessions: run the command that made it once more to complete it"
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
/// Some days of each share are fished again, to check that its machine computes like this one.
///
/// # Errors
///
/// [`MergeError`].
pub fn open_shards(paths: &[PathBuf]) -> Result<(Vec<Store>, SweepDefinition), MergeError> {
    let mut shares = paths.iter().map(|path| Store::read(path)).collect::<Result<Vec<_>, _>>()?;
    check_same_sweep(&shares)?;
    shares.sort_by_key(|share| share.sweep().shard.number);
    check_each_once(&shares)?;
    for share in &shares {
        let path = share.path().to_owned();
        match share.sessions_to_do() {
            0 if is_reproducible_here(share)? => {}
            0 => return Err(MergeError::NotReproducible { path }),
            sessions => return Err(MergeError::Incomplete { path, sessions }),
        }
    }
    let whole = SweepDefinition { shard: Shard::WHOLE, ..shares[0].sweep().clone() };
    Ok((shares, whole))
}

/// Checks that there are shares, and that all of them belong to the sweep of the first.
fn check_same_sweep(shares: &[Store]) -> Result<(), MergeError> {
    let Some(first) = shares.first() else {
        return Err(MergeError::MissingShards { missing: "all".to_owned(), count: 1 });
    };
    for share in shares {
        let difference =
            first_difference(share_identity(share.sweep()), share_identity(first.sweep()));
        if let Some((property, value, expected)) = difference {
            let (path, first) = (share.path().to_owned(), first.path().to_owned());
            return Err(MergeError::OtherSweep { path, first, property, value, expected });
        }
    }
    Ok(())
}

/// Checks that each share of the sweep is there exactly once; `shares` are sorted and not empty.
fn check_each_once(shares: &[Store]) -> Result<(), MergeError> {
    let number = |store: &Store| store.sweep().shard.number;
    if let Some(twins) = shares.windows(2).find(|pair| number(&pair[0]) == number(&pair[1])) {
        return Err(MergeError::Duplicate {
            share: twins[0].sweep().shard,
            first: twins[0].path().to_owned(),
            second: twins[1].path().to_owned(),
        });
    }
    let count = shares[0].sweep().shard.count;
    let missing: Vec<String> = (1..=count)
        .filter(|part| !shares.iter().any(|share| number(share) == *part))
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
    shares: &[Store],
    whole: &SweepDefinition,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<(), E> {
    for number in 1..=whole.days {
        let block = u64::from((number - 1) / BLOCK_DAYS);
        let share = shares.iter().find(|share| share.sweep().shard.includes(block));
        let Some(share) = share else { continue };
        each_day(&share.day(number).map_err(MergeError::from)?)?;
    }
    Ok(())
}

/// Joins gathered shares into a new store at `path`.
///
/// # Errors
///
/// If the store cannot be written, or if days turn out to be missing or duplicated.
pub fn merge_shards(
    shares: &[Store],
    whole: SweepDefinition,
    path: &Path,
) -> Result<Store, StoreError> {
    let store = Store::open(path, whole.clone())?;
    store.copy_blocks(shares)?;
    drop(store);
    // Opening it again checks that it has every day exactly once.
    Store::open(path, whole)
}
