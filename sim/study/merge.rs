//! Joins the shares of a sweep into the store that one machine would have made.

use std::path::{Path, PathBuf};

use rusqlite::params;

use super::replicate::DayFished;
use super::share::Share;
use super::store::Store;
use super::store_fault::StoreFault;
use super::sweep::{BLOCK_DAYS, Sweep, same_here};

/// Why shares cannot be joined.
#[derive(Debug, thiserror::Error)]
pub enum MergeFault {
    /// A store cannot be read or written.
    #[error(transparent)]
    Store(#[from] StoreFault),
    /// A share of something else.
    #[error("{path} is a share of another sweep than {first}: {what} {there}, not {here}")]
    Other {
        /// The share.
        path: PathBuf,
        /// The first share.
        first: PathBuf,
        /// What differs.
        what: &'static str,
        /// What it is in the share.
        there: String,
        /// What it is in the first.
        here: String,
    },
    /// A share twice.
    #[error("share {share} is there twice, in {first} and {second}: name one of them")]
    Twice {
        /// Which.
        share: Share,
        /// One store.
        first: PathBuf,
        /// The other.
        second: PathBuf,
    },
    /// Shares that are not there.
    #[error(
        "shares {missing} of {of} are missing: fish them with --part, or name their stores too"
    )]
    Missing {
        /// Their numbers.
        missing: String,
        /// Of how many.
        of: u32,
    },
    /// A share that is not done.
    #[error(
        "{path} lacks {sessions} of its sessions: give the command that made it once more, and it goes on"
    )]
    Unfinished {
        /// The share.
        path: PathBuf,
        /// How many.
        sessions: u64,
    },
    /// Bytes that come out differently here.
    #[error(
        "{path} was fished on a machine that computes differently: days fished again here come out otherwise. Fish \
         that share on machines like this one"
    )]
    Differs {
        /// The share.
        path: PathBuf,
    },
}

/// What all shares of a sweep must say alike, in words.
fn identity(sweep: &Sweep) -> [(&'static str, String); 11] {
    let (stamp, design) = (&sweep.stamp, &sweep.design);
    [
        ("version", stamp.version.clone()),
        ("commit", stamp.commit.clone()),
        ("machine kind", stamp.target.clone()),
        ("seed", stamp.seed.to_string()),
        ("scenario", stamp.scenario.clone()),
        ("the scenario's SHA-256", stamp.scenario_sha256.clone()),
        ("plans", sweep.plans.join(", ")),
        ("keys", design.keys.join(", ")),
        ("points", format!("{:?}", design.points)),
        ("days", sweep.days.to_string()),
        ("number of shares", sweep.share.of.to_string()),
    ]
}

/// Opens the shares, sees that they are all of one sweep and nothing twice, and returns them in order with the
/// sweep they make.
///
/// Some days of each share are fished again here, to see that the machine it came from computes as this one.
///
/// # Errors
///
/// [`MergeFault`].
pub fn gather(paths: &[PathBuf]) -> Result<(Vec<Store>, Sweep), MergeFault> {
    let mut shares = paths.iter().map(|path| Store::read(path)).collect::<Result<Vec<_>, _>>()?;
    let Some(first) = shares.first() else {
        return Err(MergeFault::Missing { missing: "all".to_owned(), of: 1 });
    };
    let said = identity(first.sweep());
    for share in &shares {
        let differs = identity(share.sweep()).into_iter().zip(&said).find(|(a, b)| a != *b);
        if let Some(((what, there), (_, here))) = differs {
            let short = |text: &str| text.chars().take(60).collect::<String>();
            let (path, first) = (share.path().to_owned(), first.path().to_owned());
            let (there, here) = (short(&there), short(here));
            return Err(MergeFault::Other { path, first, what, there, here });
        }
    }
    shares.sort_by_key(|store| store.sweep().share.part);
    if let Some(two) = shares.windows(2).find(|two| two[0].sweep().share == two[1].sweep().share) {
        let share = two[0].sweep().share;
        let (first, second) = (two[0].path().to_owned(), two[1].path().to_owned());
        return Err(MergeFault::Twice { share, first, second });
    }
    let of = shares[0].sweep().share.of;
    let is_there = |part: &u32| shares.iter().any(|store| store.sweep().share.part == *part);
    let missing: Vec<String> =
        (1..=of).filter(|part| !is_there(part)).map(|part| part.to_string()).collect();
    if !missing.is_empty() {
        return Err(MergeFault::Missing { missing: missing.join(", "), of });
    }
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

/// Hands over the days of a comparison in their order out of its gathered shares.
///
/// # Errors
///
/// Where a day cannot be read, and the first error of `each_day`.
pub fn days_of_shares<E: From<MergeFault>>(
    shares: &[Store],
    whole: &Sweep,
    mut each_day: impl FnMut(&DayFished) -> Result<(), E>,
) -> Result<(), E> {
    for number in 1..=whole.days {
        let block = u64::from((number - 1) / BLOCK_DAYS);
        let of = shares.iter().find(|share| share.sweep().share.takes(block));
        let Some(share) = of else { continue };
        each_day(&share.day(number).map_err(MergeFault::from)?)?;
    }
    Ok(())
}

/// Joins gathered shares into a new store at `path`.
///
/// # Errors
///
/// Where it cannot be written; or where, after all, days are missing or twice.
pub fn join(shares: &[Store], whole: Sweep, path: &Path) -> Result<Store, StoreFault> {
    let store = Store::open(path, whole.clone())?;
    let told = |why| store.fault(&why);
    let step = store.database().unchecked_transaction().map_err(told)?;
    // A run that was ended half-way through is begun anew.
    step.execute("DELETE FROM block", []).map_err(told)?;
    {
        // The points' numbers differ between stores; what is given at them does not.
        let mut put = step
            .prepare(
                "INSERT INTO block SELECT (SELECT point FROM point WHERE given = ?1), ?2, ?3, ?4, ?5, ?6, ?7, ?8, \
                 ?9, ?10, ?11",
            )
            .map_err(told)?;
        for share in shares {
            let read = |why| share.fault(&why);
            let mut blocks = share
                .database()
                .prepare(
                    "SELECT point.given, plan, first_day, days, weight_sum_g, weight_sum_g2, fish, bites, casts, \
                     bait_mg, weights_g FROM block JOIN point USING (point)",
                )
                .map_err(read)?;
            let mut rows = blocks.query([]).map_err(read)?;
            while let Some(row) = rows.next().map_err(read)? {
                let column = |at: usize| row.get_ref(at);
                let all = (0..11).map(column).collect::<Result<Vec<_>, _>>().map_err(read)?;
                let all = all.into_iter().map(rusqlite::types::ToSqlOutput::Borrowed);
                put.execute(rusqlite::params_from_iter(all)).map_err(told)?;
            }
        }
    }
    let rows = params![std::process::id()];
    step.execute(
        "INSERT INTO run (started_unix_s, process, threads, worked_s, sessions) VALUES (0, ?1, 0, 0, 0)",
        rows,
    )
    .map_err(told)?;
    step.commit().map_err(told)?;
    drop(store);
    // Opened once more, it is seen that every day is there once.
    Store::open(path, whole)
}
