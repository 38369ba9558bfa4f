//! The store of a sweep: a SQLite database that keeps what is done, whatever ends the program.
//!
//! A batch is one transaction under a rollback journal with `synchronous = EXTRA`: the file and its folder are on
//! the disk before a batch counts, so that a kill or a power cut leaves the batches before it whole.

use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use rusqlite::{Connection, OpenFlags, OptionalExtension, params};

use super::block::{BlockRow, days_g};
use super::owner::Owner;
use super::replicate::DayFished;
use super::schema::{self, APPLICATION_ID, FORMAT_VERSION};
use super::standing::Standing;
use super::store_fault::{StoreFault, fault};
use super::sweep::{BLOCK_DAYS, Piece, Sweep};
use crate::stats::Moments;

/// How long a reader waits for a batch that is being written.
const PATIENCE: Duration = Duration::from_secs(20);

/// What stands at a place where a store might be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// Nothing yet.
    Nothing,
    /// The store of this sweep, or of fewer days or points of it.
    This,
    /// Something else, in words.
    Else(String),
}

/// An open store.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    database: Connection,
    sweep: Sweep,
    /// Numbers of the points in the database, in the order of the design.
    points: Vec<i64>,
    /// The day up to which each is done.
    done: Vec<u32>,
    /// Seconds worked and sessions fished before this start.
    run: Option<i64>,
    _owner: Option<Owner>,
}

impl Store {
    /// Name of the file in a sweep's folder.
    pub const FILE: &'static str = "sweep.db";

    /// Whether no file is at `path`, or an empty one as a run leaves that ended while it made its store.
    pub(super) fn holds_nothing(path: &Path) -> bool {
        std::fs::metadata(path).map_or(true, |about| about.is_file() && about.len() == 0)
    }

    /// What stands at `path` where a sweep would keep its store.
    #[must_use]
    pub fn examine(path: &Path, sweep: &Sweep) -> Found {
        if Self::holds_nothing(path) {
            return Found::Nothing;
        }
        match Self::read(path) {
            Ok(store) => store.is_for(sweep),
            // Looking took back a run that ended while it made the store, and nothing is left of it.
            Err(StoreFault::Foreign { .. }) if Self::holds_nothing(path) => Found::Nothing,
            Err(StoreFault::Foreign { why, .. }) => {
                Found::Else(format!("a {} that is no store that can be read: {why}", Self::FILE))
            }
            Err(fault) => Found::Else(fault.to_string()),
        }
    }

    /// Opens a sweep's store to write, made if there is none; more points or days than it has are added.
    ///
    /// # Errors
    ///
    /// [`StoreFault`].
    pub fn open(path: &Path, sweep: Sweep) -> Result<Self, StoreFault> {
        let disk = |why: std::io::Error| match why.kind() {
            std::io::ErrorKind::StorageFull => StoreFault::Full { path: path.to_owned() },
            _ => StoreFault::Disk { path: path.to_owned(), why: why.to_string() },
        };
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(disk)?;
        }
        let owner = Owner::take(path).map_err(disk)?;
        let owner = owner.map_err(|who| StoreFault::Busy { path: path.to_owned(), who })?;
        match Self::examine(path, &sweep) {
            Found::Nothing => {}
            Found::This => {}
            Found::Else(holds) => {
                return Err(StoreFault::Other { path: path.to_owned(), holds });
            }
        }
        let told = |why| fault(path, &why);
        let mut database = Connection::open(path).map_err(told)?;
        database.busy_timeout(PATIENCE).map_err(told)?;
        database.pragma_update(None, "journal_mode", "DELETE").map_err(told)?;
        database.pragma_update(None, "synchronous", "EXTRA").map_err(told)?;
        let points = schema::write(&mut database, &sweep).map_err(told)?;
        let mut store = Self {
            path: path.to_owned(),
            database,
            done: vec![0; points.len()],
            points,
            sweep,
            run: None,
            _owner: Some(owner),
        };
        store.read_done()?;
        Ok(store)
    }

    /// Opens a store only to look at it; another process may be writing it.
    ///
    /// # Errors
    ///
    /// [`StoreFault`].
    pub fn read(path: &Path) -> Result<Self, StoreFault> {
        let foreign =
            |why: &str| StoreFault::Foreign { path: path.to_owned(), why: why.to_owned() };
        if Self::holds_nothing(path) {
            return Err(foreign("it is not there, or empty"));
        }
        let told = |why| fault(path, &why);
        // Not for reading only: a batch that was cut short is first taken back, which is written.
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let database = Connection::open_with_flags(path, flags).map_err(told)?;
        database.busy_timeout(PATIENCE).map_err(told)?;
        let number =
            |name: &str| database.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
        if number("application_id").map_err(told)? != i64::from(APPLICATION_ID) {
            return Err(foreign("it is the database of another program"));
        }
        let version = number("user_version").map_err(told)?;
        if version != i64::from(FORMAT_VERSION) {
            let why = format!(
                "its format has version {version}, and this program reads {FORMAT_VERSION}"
            );
            return Err(foreign(&why));
        }
        let sound: String =
            database.pragma_query_value(None, "quick_check", |row| row.get(0)).map_err(told)?;
        if sound != "ok" {
            return Err(foreign(&format!(
                "it is damaged ({})",
                sound.lines().next().unwrap_or("")
            )));
        }
        let (sweep, points) = schema::read(&database)
            .map_err(told)?
            .ok_or_else(|| foreign("what it says of its sweep cannot be read"))?;
        let mut store = Self {
            path: path.to_owned(),
            database,
            done: vec![0; points.len()],
            points,
            sweep,
            run: None,
            _owner: None,
        };
        store.read_done()?;
        Ok(store)
    }

    /// Whether it is the store of a sweep, or of a smaller one that can grow into it.
    fn is_for(&self, sweep: &Sweep) -> Found {
        let (there, here) = (&self.sweep, sweep);
        let (old, new) = (&there.stamp, &here.stamp);
        let short = |text: &str| text.chars().take(12).collect::<String>();
        let differs = [
            ("version", old.version.clone(), new.version.clone()),
            ("commit", old.commit.clone(), new.commit.clone()),
            ("machine kind", old.target.clone(), new.target.clone()),
            ("seed", old.seed.to_string(), new.seed.to_string()),
            ("scenario", old.scenario.clone(), new.scenario.clone()),
            ("scenario's SHA-256", short(&old.scenario_sha256), short(&new.scenario_sha256)),
            ("plans", there.plans.join(", "), here.plans.join(", ")),
            ("keys", there.design.keys.join(", "), here.design.keys.join(", ")),
            ("share", there.share.to_string(), here.share.to_string()),
        ];
        if let Some((what, old, new)) = differs.iter().find(|(_, old, new)| old != new) {
            return Found::Else(format!("a sweep of another run ({what} {old}, not {new})"));
        }
        if there.days > here.days {
            return Found::Else(format!("this sweep on {} days, not {}", there.days, here.days));
        }
        let asked: std::collections::HashSet<_> = here.design.points.iter().collect();
        let missing = there.design.points.iter().find(|values| !asked.contains(values));
        if let Some(values) = missing {
            let at = values.join(", ");
            return Found::Else(format!("a sweep with a point that is not asked for ({at})"));
        }
        let grows = there.design.points.len() < here.design.points.len();
        if grows && !here.share.is_whole() {
            return Found::Else(format!("share {} of fewer points", there.share));
        }
        Found::This
    }

    /// Reads how far each point is, and sees that no day of it is missing.
    fn read_done(&mut self) -> Result<(), StoreFault> {
        let standing = self.standing()?;
        let mut last = self
            .database
            .prepare("SELECT max(first_day + days - 1) FROM block WHERE point = ?1 AND plan = ?2")
            .map_err(|why| self.fault(&why))?;
        let (sweep, points) = (&self.sweep, self.sweep.design.points.len() as u64);
        for place in 0..self.points.len() {
            for plan in 0..sweep.plans.len() {
                let until: Option<u32> = last
                    .query_row(params![self.points[place], plan], |row| row.get(0))
                    .map_err(|why| self.fault(&why))?;
                let until = until.unwrap_or(0);
                let mine =
                    |block: &u32| sweep.share.takes(u64::from(*block) * points + place as u64);
                let days =
                    |block| until.min((block + 1) * BLOCK_DAYS).saturating_sub(block * BLOCK_DAYS);
                let owed: u64 = (0..until.div_ceil(BLOCK_DAYS))
                    .filter(mine)
                    .map(|block| u64::from(days(block)))
                    .sum();
                let held = standing.weights_g(place, plan).n();
                if held != owed || (plan > 0 && until != self.done[place]) {
                    let why = format!("it has {held} days of a point where {owed} must be");
                    return Err(StoreFault::Foreign { path: self.path.clone(), why });
                }
                self.done[place] = until;
            }
        }
        Ok(())
    }

    /// The sweep whose store it is.
    #[must_use]
    pub fn sweep(&self) -> &Sweep {
        &self.sweep
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The day up to which each point is done, in the order of the design.
    pub(super) fn days_done(&self) -> &[u32] {
        &self.done
    }

    /// Sessions still to do.
    #[must_use]
    pub fn sessions_to_do(&self) -> u64 {
        self.sweep.sessions_after(&self.done)
    }

    /// Whether some process works on it now.
    #[must_use]
    pub fn is_at_work(&self) -> bool {
        Owner::is_at_work(&self.path)
    }

    /// Its size on the disk [bytes].
    #[must_use]
    pub fn bytes(&self) -> u64 {
        std::fs::metadata(&self.path).map_or(0, |about| about.len())
    }

    /// Sessions a second of the last start that fished any; none before the first.
    ///
    /// # Errors
    ///
    /// Where it cannot be read.
    pub fn sessions_per_s(&self) -> Result<Option<f64>, StoreFault> {
        let last =
            "SELECT sessions / worked_s FROM run WHERE sessions > 0 ORDER BY run DESC LIMIT 1";
        let rate = self.database.query_row(last, [], |row| row.get(0)).optional();
        rate.map_err(|why| self.fault(&why))
    }

    /// How the sweep stands: sums of every plan at every point.
    ///
    /// # Errors
    ///
    /// Where it cannot be read.
    pub fn standing(&self) -> Result<Standing, StoreFault> {
        let told = |why| self.fault(&why);
        let mut standing = Standing::new(self.points.len(), self.sweep.plans.len());
        let mut sums = self
            .database
            .prepare(
                "SELECT total(days), sum(weight_sum_g), sum(weight_sum_g2) FROM block \
             WHERE point = ?1 AND plan = ?2",
            )
            .map_err(told)?;
        for (place, point) in self.points.iter().enumerate() {
            for plan in 0..self.sweep.plans.len() {
                let moments_g = sums.query_row(params![point, plan], |row| {
                    let sum = |at| {
                        Ok::<i128, rusqlite::Error>(
                            row.get::<_, Option<i64>>(at)?.unwrap_or(0).into(),
                        )
                    };
                    Ok(Moments::kept(row.get::<_, f64>(0)? as u64, sum(1)?, sum(2)?))
                });
                standing.set(place, plan, moments_g.map_err(told)?);
            }
        }
        Ok(standing)
    }

    /// Keeps a batch, all of it or nothing.
    pub(super) fn keep(
        &mut self,
        pieces: &[Piece],
        worked_s: f64,
        threads: usize,
    ) -> Result<(), StoreFault> {
        self.keep_all(pieces, worked_s, threads).map_err(|why| fault(&self.path, &why))?;
        for row in pieces.iter().flat_map(|piece| &piece.rows) {
            self.done[row.unit.place] = row.unit.to;
        }
        Ok(())
    }

    fn keep_all(
        &mut self,
        pieces: &[Piece],
        worked_s: f64,
        threads: usize,
    ) -> rusqlite::Result<()> {
        let step = self.database.transaction()?;
        {
            let mut put = step.prepare_cached(
                "INSERT INTO block (point, plan, first_day, days, weight_sum_g, weight_sum_g2, fish, bites, casts, \
                 bait_mg, weights_g) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            )?;
            for row in pieces.iter().flat_map(|piece| &piece.rows) {
                let sum = |whole: i128| i64::try_from(whole).unwrap_or(i64::MAX);
                put.execute(params![
                    self.points[row.unit.place],
                    row.plan,
                    row.unit.from,
                    row.moments_g.n(),
                    sum(row.moments_g.sum()),
                    sum(row.moments_g.sum_of_squares()),
                    row.fish,
                    row.bites,
                    row.casts,
                    row.bait_mg,
                    row.weights_g,
                ])?;
            }
        }
        for day in pieces.iter().flat_map(|piece| &piece.days) {
            let text = serde_json::to_string(day).expect("a day can be written as JSON");
            step.prepare_cached("INSERT INTO day VALUES (?1, ?2)")?
                .execute(params![day.number, text])?;
        }
        let rows = pieces.iter().flat_map(|piece| &piece.rows);
        let sessions: u64 = rows.map(|row| row.moments_g.n()).sum();
        if self.run.is_none() {
            let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |t| t.as_secs());
            step.execute(
                "INSERT INTO run (started_unix_s, process, threads, worked_s, sessions) VALUES (?1, ?2, ?3, 0, 0)",
                params![now, std::process::id(), threads],
            )?;
        }
        let run = self.run.unwrap_or_else(|| step.last_insert_rowid());
        step.execute(
            "UPDATE run SET worked_s = ?1, sessions = sessions + ?2 WHERE run = ?3",
            params![worked_s, sessions, run],
        )?;
        step.commit()?;
        self.run = Some(run);
        Ok(())
    }

    /// Sums of fish, casts and bait [mg] of a plan at a point.
    pub(super) fn counts(&self, place: usize, plan: usize) -> Result<[u64; 3], StoreFault> {
        let sums = "SELECT total(fish), total(casts), total(bait_mg) FROM block \
                    WHERE point = ?1 AND plan = ?2";
        let mut sums = self.database.prepare_cached(sums).map_err(|why| self.fault(&why))?;
        let counts = sums.query_row(params![self.points[place], plan], |row| {
            let sum = |at| Ok::<_, rusqlite::Error>(row.get::<_, f64>(at)? as u64);
            Ok([sum(0)?, sum(1)?, sum(2)?])
        });
        counts.map_err(|why| self.fault(&why))
    }

    /// Hands over the weights of a plan at a point, a block at a time in the order of the days, as kept: four
    /// bytes a day, the lowest first [g].
    pub(super) fn each_block(
        &self,
        place: usize,
        plan: usize,
        mut take: impl FnMut(&[u8]),
    ) -> Result<(), StoreFault> {
        let told = |why| self.fault(&why);
        let blocks =
            "SELECT weights_g FROM block WHERE point = ?1 AND plan = ?2 ORDER BY first_day";
        let mut blocks = self.database.prepare_cached(blocks).map_err(told)?;
        let mut rows = blocks.query(params![self.points[place], plan]).map_err(told)?;
        while let Some(row) = rows.next().map_err(told)? {
            let block = row.get_ref(0).and_then(|value| Ok(value.as_blob()?)).map_err(told)?;
            take(block);
        }
        Ok(())
    }

    /// Hands over the weights of a plan at two points, day by day [g].
    pub(super) fn each_pair(
        &self,
        (one, other): (usize, usize),
        plan: usize,
        mut take: impl FnMut(u32, u32),
    ) -> Result<(), StoreFault> {
        let told = |why| self.fault(&why);
        let blocks =
            "SELECT weights_g FROM block WHERE point = ?1 AND plan = ?2 ORDER BY first_day";
        let mut statements = [
            self.database.prepare(blocks).map_err(told)?,
            self.database.prepare(blocks).map_err(told)?,
        ];
        let mut cursors = [None, None];
        for ((cursor, blocks), place) in cursors.iter_mut().zip(&mut statements).zip([one, other]) {
            *cursor = Some(blocks.query(params![self.points[place], plan]).map_err(told)?);
        }
        // Blocks of the two may be cut at other days, so each side has what is left of its last one.
        let mut left = [Vec::new(), Vec::new()];
        loop {
            for (cursor, left) in cursors.iter_mut().zip(&mut left) {
                if let (true, Some(rows)) = (left.is_empty(), cursor.as_mut()) {
                    let Some(row) = rows.next().map_err(told)? else { return Ok(()) };
                    let block: Vec<u8> = row.get(0).map_err(told)?;
                    *left = days_g(&block).collect();
                }
            }
            let days = left[0].len().min(left[1].len());
            let [one, other] = &mut left;
            one.drain(..days).zip(other.drain(..days)).for_each(|(one, other)| take(one, other));
        }
    }

    /// Whether it has a block, to the last byte.
    pub(super) fn holds(&self, row: &BlockRow) -> Result<bool, StoreFault> {
        let block = "SELECT weights_g FROM block WHERE point = ?1 AND plan = ?2 AND first_day = ?3";
        let at = params![self.points[row.unit.place], row.plan, row.unit.from];
        let kept = self.database.query_row(block, at, |row| row.get::<_, Vec<u8>>(0)).optional();
        kept.map(|kept| kept.as_ref() == Some(&row.weights_g)).map_err(|why| self.fault(&why))
    }

    /// One day of a comparison, as it was fished.
    pub(super) fn day(&self, number: u32) -> Result<DayFished, StoreFault> {
        let mut days = self
            .database
            .prepare_cached("SELECT fished FROM day WHERE day = ?1")
            .map_err(|why| self.fault(&why))?;
        let text: String =
            days.query_row([number], |row| row.get(0)).map_err(|why| self.fault(&why))?;
        let unread = |why| StoreFault::Foreign {
            path: self.path.clone(),
            why: format!("its day {number} cannot be read ({why})"),
        };
        serde_json::from_str(&text).map_err(unread)
    }

    /// The database, for whoever joins shares.
    pub(super) fn database(&self) -> &Connection {
        &self.database
    }

    /// What an error of the database means to the user.
    pub(super) fn fault(&self, why: &rusqlite::Error) -> StoreFault {
        fault(&self.path, why)
    }
}
