//! Merges the shares of a sweep into the store that one machine would have made.

use std::path::{Path, PathBuf};

use super::block::BLOCK_DAYS;
use super::definition::Sweep;
use super::identity::{Property, first_difference, identity};
use super::run::same_here;
use super::shard::Share;
use crate::study::replicate::DayOutcomes;
use crate::study::sweep::store::{Store, StoreFault};

/// Why shares cannot be merged.
#[derive(Debug, thiserror::Error)]
pub enum MergeFault {
    /// A store cannot be read or written.
    #[error(transparent)]
    Store(#[from] StoreFault),
    /// A share belongs to another sweep.
    #[error("{path} is a share of another sweep than {first}: {what} {there}, not {here}")]
    Other {
        /// Store of the share.
        path: PathBuf,
        /// Store of the first share.
        first: PathBuf,
        /// Name of the property that differs.
        what: &'static str,
        /// Its value in the share.
        there: String,
        /// Its value in the first share.
        here: String,
    },
    /// A share was given twice.
    #[error("share {share} was given twice, as {first} and {second}: name only one of them")]
    Twice {
        /// The share.
        share: Share,
        /// One store.
        first: PathBuf,
        /// The other store.
        second: PathBuf,
    },
    /// Shares are missing.
    #[error(
        "shares {missing} of {of} are missing: fish them with --part, or name their stores too"
    )]
    Missing {
        /// Numbers of the missing shares.
        missing: String,
        /// Number of shares.
        of: u32,
    },
    /// A share is not complete.
    #[error(
        "{path} lacks {sessions} of its sessions: run the command that made it once more to complete it"
    )]
    Unfinished {
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
    Differs {
        /// Store of the share.
        path: PathBuf,
    },
}

/// Properties on which all shares of a sweep must agree.
fn share_identity(sweep: &Sweep) -> Vec<Property> {
    let mut properties = identity(sweep);
    properties.extend([
        ("points", format!("{:?}", sweep.design.points)),
        ("days", sweep.days.to_string()),
        ("number of shares", sweep.share.of.to_string()),
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
/// [`MergeFault`].
pub fn gather(paths: &[PathBuf]) -> Result<(Vec<Store>, Sweep), MergeFault> {
    let mut shares = paths.iter().map(|path| Store::read(path)).collect::<Result<Vec<_>, _>>()?;
    check_same_sweep(&shares)?;
    shares.sort_by_key(|share| share.sweep().share.part);
    check_each_once(&shares)?;
    for share in &shares {
        let path = share.path().to_owned();
        match share.sessions_to_do() {
            0 if same_here(share)? => {}
            0 => return Err(MergeFault::Differs { path }),
            sessions => return Err(MergeFault::Unfinished { path, sessions }),
        }
    }
    let whole = Sweep { share: Share::WHOLE, ..shares[0].sweep().clone() };
    Ok((shares, whole))
}

/// Checks that there are shares, and that all of them belong to the sweep of the first.
fn check_same_sweep(shares: &[Store]) -> Result<(), MergeFault> {
    let Some(first) = shares.first() else {
        return Err(MergeFault::Missing { missing: "all".to_owned(), of: 1 });
    };
    for share in shares {
        let difference =
            first_difference(share_identity(share.sweep()), share_identity(first.sweep()));
        if let Some((what, there, here)) = difference {
            let (path, first) = (share.path().to_owned(), first.path().to_owned());
            return Err(MergeFault::Other { path, first, what, there, here });
        }
    }
    Ok(())
}

/// Checks that each share of the sweep is there exactly once; `shares` are sorted and not empty.
fn check_each_once(shares: &[Store]) -> Result<(), MergeFault> {
    let number = |store: &Store| store.sweep().share.part;
    if let Some(twins) = shares.windows(2).find(|pair| number(&pair[0]) == number(&pair[1])) {
        return Err(MergeFault::Twice {
            share: twins[0].sweep().share,
            first: twins[0].path().to_owned(),
            second: twins[1].path().to_owned(),
        });
    }
    let count = shares[0].sweep().share.of;
    let missing: Vec<String> = (1..=count)
        .filter(|part| !shares.iter().any(|share| number(share) == *part))
        .map(|part| part.to_string())
        .collect();
    if missing.is_empty() {
        Ok(())
    } else {
        Err(MergeFault::Missing { missing: missing.join(", "), of: count })
    }
}

/// Delivers the days of a comparison in order from its gathered shares.
///
/// # Errors
///
/// If a day cannot be read, and the first error of `each_day`.
pub fn days_of_shares<E: From<MergeFault>>(
    shares: &[Store],
    whole: &Sweep,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<(), E> {
    for number in 1..=whole.days {
        let block = u64::from((number - 1) / BLOCK_DAYS);
        let share = shares.iter().find(|share| share.sweep().share.takes(block));
        let Some(share) = share else { continue };
        each_day(&share.day(number).map_err(MergeFault::from)?)?;
    }
    Ok(())
}

/// Joins gathered shares into a new store at `path`.
///
/// # Errors
///
/// If the store cannot be written, or if days turn out to be missing or duplicated.
pub fn join(shares: &[Store], whole: Sweep, path: &Path) -> Result<Store, StoreFault> {
    let store = Store::open(path, whole.clone())?;
    store.copy_blocks(shares)?;
    drop(store);
    // Opening it again checks that it has every day exactly once.
    Store::open(path, whole)
}
