//! Opens the store of a sweep and knows how far it is.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rusqlite::{Connection, OpenFlags, params};

use super::digest::BlockDigests;
use super::error::{StoreError, store_error};
use super::lock::StoreLock;
use super::schema::{self, APPLICATION_ID, FORMAT_VERSION};
use super::verify::{VerifiedDays, Verifier};
use crate::angler::PlanId;
use crate::scenario::system_fault;
use crate::stats::Moments;
use crate::study::sweep::block::WorkUnit;
use crate::study::sweep::definition::SweepDefinition;
use crate::study::sweep::identity::{first_difference, identity};
use crate::study::sweep::totals::SweepTotals;

/// How long a reader waits for a batch that is being written.
const MAX_WAIT: Duration = Duration::from_secs(20);

/// Time between two looks at a store that is being created.
const PAUSE: Duration = Duration::from_millis(50);

/// Opens a file that exists.
pub(super) const EXISTING: OpenFlags =
    OpenFlags::SQLITE_OPEN_READ_WRITE.union(OpenFlags::SQLITE_OPEN_NO_MUTEX);
/// Opens a file, and creates it if need be.
pub(super) const CREATE: OpenFlags = EXISTING.union(OpenFlags::SQLITE_OPEN_CREATE);

pub(super) fn open_database(path: &Path, flags: OpenFlags) -> rusqlite::Result<Connection> {
    // SQLite takes a name that begins with `file:` for an address with options; this one never does.
    Connection::open_with_flags(Path::new(".").join(path), flags)
}

/// What is at the path of a store.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StoreContent {
    /// No file.
    Nothing,
    /// The store of this sweep, or of a part of its days or points.
    SameSweep,
    /// A store that is damaged so much that it cannot say of which sweep it is.
    Damaged,
    /// Something else, described in words.
    Other(String),
}

/// An open store.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    pub(super) database: Connection,
    pub(super) sweep: SweepDefinition,
    /// Makes the digests of its blocks.
    pub(super) digests: BlockDigests,
    /// Numbers of the points in the database, in the order of the design.
    pub(super) points: Vec<i64>,
    /// How far each point is.
    pub(super) days: VerifiedDays,
    /// Number of this run in the database; `None` until it stores its first batch.
    pub(super) run: Option<i64>,
    _lock: Option<StoreLock>,
}

impl Store {
    /// Name of the file in the folder of a sweep.
    pub const FILE: &'static str = "sweep.db";

    /// Whether there is no file at `path`, or an empty one, as remains of a run that ended while it created its store.
    #[must_use]
    pub fn holds_nothing(path: &Path) -> bool {
        std::fs::metadata(path).map_or(true, |file| file.is_file() && file.len() == 0)
    }

    /// Examines what is at `path`, where a sweep would keep its store.
    #[must_use]
    pub fn examine(path: &Path, sweep: &SweepDefinition) -> StoreContent {
        if Self::holds_nothing(path) {
            return StoreContent::Nothing;
        }
        Self::content(path, &Self::inspect_when_ready(path), sweep)
    }

    /// What a store turned out to hold when it was inspected.
    pub(super) fn content(
        path: &Path,
        inspected: &Result<Self, StoreError>,
        sweep: &SweepDefinition,
    ) -> StoreContent {
        match inspected {
            Ok(store) => store.compare_with(sweep),
            // Reading rolled back a run that ended while it created the store, and nothing remains.
            Err(StoreError::Unreadable { .. } | StoreError::Damaged { .. })
                if Self::holds_nothing(path) =>
            {
                StoreContent::Nothing
            }
            Err(StoreError::Damaged { .. }) => StoreContent::Damaged,
            Err(StoreError::Unreadable { reason: why, .. }) => {
                StoreContent::Other(format!("a {} that is not a readable store: {why}", Self::FILE))
            }
            Err(error) => StoreContent::Other(error.to_string()),
        }
    }

    /// Opens the store of a sweep for writing. It is created if it does not exist, and extended if the sweep has more
    /// points or days.
    ///
    /// # Errors
    ///
    /// [`StoreError`].
    pub fn open(path: &Path, sweep: SweepDefinition) -> Result<Self, StoreError> {
        let lock = Self::lock(path)?;
        if !Self::holds_nothing(path) {
            let inspected = Self::inspect(path);
            match (Self::content(path, &inspected, &sweep), inspected) {
                (StoreContent::Other(content), _) => {
                    return Err(StoreError::OtherSweep { path: path.to_owned(), content });
                }
                (StoreContent::Damaged, Err(damage)) => return Err(damage),
                (_, Ok(store)) => store.undamaged().map(drop)?,
                _ => {}
            }
        }
        let to_error = |error| store_error(path, &error);
        // The path is always a path, never an address with options.
        let mut database = open_database(path, CREATE).map_err(to_error)?;
        database.busy_timeout(MAX_WAIT).map_err(to_error)?;
        database.pragma_update(None, "journal_mode", "DELETE").map_err(to_error)?;
        database.pragma_update(None, "synchronous", "EXTRA").map_err(to_error)?;
        let points = schema::write(&mut database, &sweep).map_err(to_error)?;
        Self::verified(path, database, sweep, points, Some(lock))?.undamaged()
    }

    /// Takes the lock of the store at `path`; its folder is created if need be.
    pub(super) fn lock(path: &Path) -> Result<StoreLock, StoreError> {
        let to_disk_error = |error: std::io::Error| match error.kind() {
            std::io::ErrorKind::StorageFull => StoreError::DiskFull { path: path.to_owned() },
            _ => StoreError::Io { path: path.to_owned(), reason: system_fault(&error) },
        };
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(to_disk_error)?;
        }
        let lock = StoreLock::take(path).map_err(to_disk_error)?;
        lock.map_err(|who| StoreError::Locked { path: path.to_owned(), process: who })
    }

    /// Opens a store for reading; another process may be writing it.
    ///
    /// # Errors
    ///
    /// [`StoreError`].
    pub fn read(path: &Path) -> Result<Self, StoreError> {
        Self::inspect_when_ready(path)?.undamaged()
    }

    /// As [`Store::inspect`], but waits for another process that is creating the store.
    fn inspect_when_ready(path: &Path) -> Result<Self, StoreError> {
        let started = Instant::now();
        loop {
            match Self::inspect(path) {
                Err(StoreError::Unreadable { .. })
                    if StoreLock::is_held(path) && started.elapsed() < MAX_WAIT =>
                {
                    std::thread::sleep(PAUSE);
                }
                inspected => return inspected,
            }
        }
    }

    /// Whether a process is writing or creating the store at `path`.
    #[must_use]
    pub fn is_in_use(path: &Path) -> bool {
        StoreLock::is_held(path)
    }

    /// Opens a store for reading, whether its blocks are whole or not.
    pub(super) fn inspect(path: &Path) -> Result<Self, StoreError> {
        let foreign =
            |why: &str| StoreError::Unreadable { path: path.to_owned(), reason: why.to_owned() };
        let damaged =
            |what: &str| StoreError::Damaged { path: path.to_owned(), what: what.to_owned() };
        if Self::holds_nothing(path) {
            return Err(foreign("it does not exist or is empty"));
        }
        let to_error = |error| store_error(path, &error);
        // Opened for writing, since an interrupted batch must first be rolled back.
        let database = open_database(path, EXISTING).map_err(to_error)?;
        database.busy_timeout(MAX_WAIT).map_err(to_error)?;
        let number =
            |name: &str| database.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
        if number("application_id").map_err(to_error)? != i64::from(APPLICATION_ID) {
            return Err(foreign("it is the database of another program"));
        }
        let version = number("user_version").map_err(to_error)?;
        if version != i64::from(FORMAT_VERSION) {
            let why = format!(
                "its format has version {version}, and this program reads {FORMAT_VERSION}"
            );
            return Err(foreign(&why));
        }
        // It reports at most one fault, in the database's own words.
        let check =
            database.query_row("PRAGMA integrity_check(1)", [], |row| row.get::<_, String>(0));
        if check.map_err(to_error)? != "ok" {
            return Err(damaged("its tables are not whole"));
        }
        let (sweep, points) = schema::read(&database)
            .map_err(to_error)?
            .ok_or_else(|| damaged("its description of the sweep was changed"))?;
        Self::verified(path, database, sweep, points, None)
    }

    /// A store with all its blocks verified.
    fn verified(
        path: &Path,
        database: Connection,
        sweep: SweepDefinition,
        points: Vec<i64>,
        lock: Option<StoreLock>,
    ) -> Result<Self, StoreError> {
        let (path, digests) = (path.to_owned(), BlockDigests::new(&sweep));
        let days = VerifiedDays::default();
        let mut store =
            Self { path, database, sweep, digests, points, days, run: None, _lock: lock };
        store.days = store.verify()?;
        Ok(store)
    }

    fn verify(&self) -> Result<VerifiedDays, StoreError> {
        let days = Verifier::new(&self.sweep, &self.digests, &self.points).verify(&self.database);
        days.map_err(|error| self.error(&error))
    }

    /// The store itself, if no block was found to be damaged when it was opened.
    pub(super) fn undamaged(self) -> Result<Self, StoreError> {
        match self.days.damage.in_words() {
            None => Ok(self),
            Some(what) => Err(StoreError::Damaged { path: self.path, what }),
        }
    }

    /// Verifies all blocks once more, since time has passed since the store was opened.
    ///
    /// # Errors
    ///
    /// [`StoreError::Damaged`] if a block is damaged, and other [`StoreError`]s if the store cannot be read.
    pub fn check_blocks(&self) -> Result<(), StoreError> {
        match self.verify()?.damage.in_words() {
            None => Ok(()),
            Some(what) => Err(StoreError::Damaged { path: self.path.clone(), what }),
        }
    }

    /// Whether this is the store of `sweep`, or of a smaller sweep that can be extended to it.
    fn compare_with(&self, sweep: &SweepDefinition) -> StoreContent {
        let stored = &self.sweep;
        let with_share = |sweep: &SweepDefinition| {
            let mut properties = identity(sweep);
            properties.push(("share", sweep.shard.to_string()));
            properties
        };
        if let Some((name, old, new)) = first_difference(with_share(stored), with_share(sweep)) {
            return StoreContent::Other(format!(
                "a sweep of another run ({name} {old}, not {new})"
            ));
        }
        if stored.days > sweep.days {
            return StoreContent::Other(format!(
                "this sweep on {} days, not {}",
                stored.days, sweep.days
            ));
        }
        let points: HashSet<_> = sweep.design.points.iter().collect();
        let additional = stored.design.points.iter().find(|values| !points.contains(values));
        if let Some(values) = additional {
            let values = values.join(", ");
            return StoreContent::Other(format!("a sweep with an additional point ({values})"));
        }
        let must_grow = stored.design.points.len() < sweep.design.points.len();
        if must_grow && !sweep.shard.is_whole() {
            return StoreContent::Other(format!("share {} of fewer points", stored.shard));
        }
        StoreContent::SameSweep
    }

    /// Definition of the sweep.
    #[must_use]
    pub fn sweep(&self) -> &SweepDefinition {
        &self.sweep
    }

    /// Path of the file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Last day done at each point, in the order of the design.
    pub(in crate::study::sweep) fn days_done(&self) -> &[u32] {
        &self.days.done
    }

    /// Days before those that are missing, as after a repair.
    pub(in crate::study::sweep) fn gaps(&self) -> &[WorkUnit] {
        &self.days.gaps
    }

    /// Number of sessions still to do.
    #[must_use]
    pub fn sessions_to_do(&self) -> u64 {
        let gaps = self.gaps().iter().copied();
        self.sweep.sessions_of(gaps.chain(self.sweep.to_do(&self.days.done)))
    }

    /// Whether a process is writing it now.
    #[must_use]
    pub fn is_locked(&self) -> bool {
        StoreLock::is_held(&self.path)
    }

    /// Size on the disk [bytes].
    #[must_use]
    pub fn bytes(&self) -> u64 {
        std::fs::metadata(&self.path).map_or(0, |file| file.len())
    }

    /// Totals so far: sums of every plan at every point.
    ///
    /// # Errors
    ///
    /// If the store cannot be read.
    pub fn totals(&self) -> Result<SweepTotals, StoreError> {
        let to_error = |error| self.error(&error);
        let mut totals = SweepTotals::new(self.points.len(), self.sweep.plans.len());
        let mut sums = self
            .database
            .prepare(
                "SELECT total(days), sum(weight_sum_g), sum(weight_sum_g2) FROM block \
                 WHERE point = ?1 AND plan = ?2",
            )
            .map_err(to_error)?;
        for (index, number) in self.points.iter().enumerate() {
            for plan in 0..self.sweep.plans.len() {
                let moments_g = sums.query_row(params![number, plan], |row| {
                    let sum = |column| {
                        let sum: Option<i64> = row.get(column)?;
                        Ok::<i128, rusqlite::Error>(sum.unwrap_or(0).into())
                    };
                    Ok(Moments::from_sums(row.get::<_, f64>(0)? as u64, sum(1)?, sum(2)?))
                });
                totals.set(index, PlanId(plan), moments_g.map_err(to_error)?);
            }
        }
        Ok(totals)
    }

    /// Translates an error of the database for the user.
    pub(super) fn error(&self, error: &rusqlite::Error) -> StoreError {
        store_error(&self.path, error)
    }
}
