//! Tables of a store: what a sweep is, its points under the names of their keys, and its blocks of days.

use rusqlite::{Connection, Row, params};

use super::design::{Design, Spread};
use super::share::Share;
use super::stamp::Stamp;
use super::sweep::Sweep;
use crate::scenario::{Written, si_value};

/// `shoa` in letters: says whose database it is.
pub(super) const APPLICATION_ID: i32 = 0x7368_6f61;
/// Version of these tables.
pub(super) const FORMAT_VERSION: i32 = 1;

const TABLES: &str = "
CREATE TABLE stamp (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE plan (plan INTEGER PRIMARY KEY, name TEXT NOT NULL);
CREATE TABLE block (
    point INTEGER NOT NULL, plan INTEGER NOT NULL, first_day INTEGER NOT NULL, days INTEGER NOT NULL,
    weight_sum_g INTEGER NOT NULL, weight_sum_g2 INTEGER NOT NULL,
    fish INTEGER NOT NULL, bites INTEGER NOT NULL, casts INTEGER NOT NULL, bait_mg INTEGER NOT NULL,
    weights_g BLOB NOT NULL,
    PRIMARY KEY (point, plan, first_day)
) WITHOUT ROWID;
CREATE TABLE run (
    run INTEGER PRIMARY KEY, started_unix_s INTEGER NOT NULL, process INTEGER NOT NULL,
    threads INTEGER NOT NULL, worked_s REAL NOT NULL, sessions INTEGER NOT NULL
);
";

/// A shared comparison keeps its days whole, so that all that it tells can be added up when its shares are joined.
const DAYS: &str = "CREATE TABLE day (day INTEGER PRIMARY KEY, fished TEXT NOT NULL)";

/// Columns of a point: each key as it was written, and those that are numbers in SI units too.
pub(super) struct Columns {
    /// For each key, the column of its number, if it has one.
    pub(super) numbers: Vec<Option<String>>,
}

impl Columns {
    /// The columns of keys, as the values at some point show them to be numbers.
    pub(super) fn of(keys: &[String], values: Option<&Vec<String>>) -> Self {
        let number = |(at, key): (usize, &String)| {
            let (_, unit) = si_value(key, values?.get(at)?)?;
            Some(format!("{key}_{}", if unit.is_empty() { "number" } else { unit }))
        };
        Self { numbers: keys.iter().enumerate().map(number).collect() }
    }
}

/// A name as SQL takes it.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

/// Makes the tables where there are none, says which sweep it is, and adds the points that are not there;
/// returns the points' numbers in the order of the design.
pub(super) fn write(database: &mut Connection, sweep: &Sweep) -> rusqlite::Result<Vec<i64>> {
    let design = &sweep.design;
    let columns = Columns::of(&design.keys, design.points.first());
    let step = database.transaction()?;
    let made: i32 = step.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if made == 0 {
        step.pragma_update(None, "application_id", APPLICATION_ID)?;
        step.pragma_update(None, "user_version", FORMAT_VERSION)?;
        step.execute_batch(TABLES)?;
        step.execute_batch(&point_tables(design, &columns))?;
        if sweep.is_comparison() {
            step.execute_batch(DAYS)?;
        }
        for (plan, name) in sweep.plans.iter().enumerate() {
            step.execute("INSERT INTO plan VALUES (?1, ?2)", params![plan, name])?;
        }
    }
    for (name, value) in said(sweep) {
        step.execute("INSERT OR REPLACE INTO stamp VALUES (?1, ?2)", params![name, value])?;
    }
    let numbers = write_points(&step, design, &columns)?;
    step.commit()?;
    Ok(numbers)
}

/// The table of points, and a view of results for whoever opens the store with another program.
fn point_tables(design: &Design, columns: &Columns) -> String {
    let written = design.keys.iter().map(|key| (quoted(key), "TEXT"));
    let numbers = columns.numbers.iter().flatten().map(|name| (quoted(name), "REAL"));
    let all: Vec<(String, &str)> = written.chain(numbers).collect();
    let defined: String =
        all.iter().map(|(name, kind)| format!(", {name} {kind} NOT NULL")).collect();
    let shown: String = all.iter().map(|(name, _)| format!("point.{name}, ")).collect();
    format!(
        "CREATE TABLE point (point INTEGER PRIMARY KEY, place INTEGER NOT NULL, given TEXT NOT NULL UNIQUE{defined});
         CREATE VIEW result AS SELECT {shown}plan.name AS plan, sum(days) AS days,
             sum(weight_sum_g) / 1e3 / sum(days) AS weight_mean_kg,
             (sum(weight_sum_g2) - 1.0 * sum(weight_sum_g) * sum(weight_sum_g) / sum(days))
                 / (sum(days) - 1) / 1e6 AS weight_variance_kg2,
             1.0 * sum(fish) / sum(days) AS fish_mean, 1.0 * sum(bites) / sum(days) AS bites_mean,
             1.0 * sum(casts) / sum(days) AS casts_mean, sum(bait_mg) / 1e6 / sum(days) AS bait_mean_kg
         FROM block JOIN point USING (point) JOIN plan USING (plan)
         GROUP BY block.point, block.plan ORDER BY point.place, block.plan;"
    )
}

/// Writes the points that are not there and sets each in its place; their numbers, in order.
fn write_points(
    step: &Connection,
    design: &Design,
    columns: &Columns,
) -> rusqlite::Result<Vec<i64>> {
    let names: String = design
        .keys
        .iter()
        .chain(columns.numbers.iter().flatten())
        .map(|name| format!(", {}", quoted(name)))
        .collect();
    let width = design.keys.len() + columns.numbers.iter().flatten().count();
    let marks: String = (3..3 + width).map(|at| format!(", ?{at}")).collect();
    let mut put = step.prepare(&format!(
        "INSERT INTO point (place, given{names}) VALUES (?1, ?2{marks}) \
         ON CONFLICT (given) DO UPDATE SET place = excluded.place RETURNING point"
    ))?;
    let mut numbers = Vec::with_capacity(design.points.len());
    for (place, values) in design.points.iter().enumerate() {
        let given = json(values);
        put.raw_bind_parameter(1, place)?;
        put.raw_bind_parameter(2, &given)?;
        for (at, value) in values.iter().enumerate() {
            put.raw_bind_parameter(3 + at, value)?;
        }
        let pairs = design.keys.iter().zip(values).zip(&columns.numbers);
        let numbered = pairs.filter_map(|(pair, column)| column.as_ref().map(|_| pair));
        for (at, (key, value)) in numbered.enumerate() {
            // A word among numbers, as `never` among times, stands beyond all of them.
            let si = si_value(key, value).map_or(f64::INFINITY, |(si, _)| si);
            put.raw_bind_parameter(3 + values.len() + at, si)?;
        }
        let mut rows = put.raw_query();
        if let Some(row) = rows.next()? {
            numbers.push(row.get(0)?);
        }
        while rows.next()?.is_some() {}
    }
    Ok(numbers)
}

fn json<T: serde::Serialize + ?Sized>(value: &T) -> String {
    serde_json::to_string(value).expect("texts can be written as JSON")
}

/// What a store says of its sweep.
fn said(sweep: &Sweep) -> Vec<(&'static str, String)> {
    let stamp = &sweep.stamp;
    let spread = match sweep.design.spread {
        Spread::Grid => "grid".to_owned(),
        Spread::Sobol(points) => format!("sobol {points}"),
        Spread::Latin(points) => format!("latin {points}"),
    };
    vec![
        ("format", format!("shoalwise/sweep/{FORMAT_VERSION}")),
        ("version", stamp.version.clone()),
        ("commit", stamp.commit.clone()),
        ("target", stamp.target.clone()),
        ("seed", stamp.seed.to_string()),
        ("scenario", stamp.scenario.clone()),
        ("scenario_sha256", stamp.scenario_sha256.clone()),
        ("scenario_text", sweep.written.text.clone()),
        ("weigh_ins_text", sweep.written.weigh_ins().unwrap_or_default().to_owned()),
        ("sets", json(&sweep.sets)),
        ("fixed_days", sweep.fixed_days.to_string()),
        ("plans", json(&sweep.plans)),
        ("keys", json(&sweep.design.keys)),
        ("spread", spread),
        ("days", sweep.days.to_string()),
        ("part", sweep.share.to_string()),
        (
            "weights_g",
            "a day's weight at the scales, unsigned 32-bit whole grams, lowest byte first"
                .to_owned(),
        ),
    ]
}

/// Reads which sweep it is, and its points' numbers; none where something of it is missing.
pub(super) fn read(database: &Connection) -> rusqlite::Result<Option<(Sweep, Vec<i64>)>> {
    let mut names = database.prepare("SELECT value FROM stamp WHERE name = ?1")?;
    let mut text = |name: &str| names.query_row([name], |row| row.get::<_, String>(0));
    let list = |text: String| serde_json::from_str::<Vec<String>>(&text).ok();
    let stamp = Stamp {
        version: text("version")?,
        commit: text("commit")?,
        seed: 0,
        scenario: text("scenario")?,
        scenario_sha256: text("scenario_sha256")?,
        target: text("target")?,
    };
    let spread = text("spread")?;
    let spread = match spread.split_once(' ') {
        None => Some(Spread::Grid),
        Some(("sobol", points)) => points.parse().ok().map(Spread::Sobol),
        Some((_, points)) => points.parse().ok().map(Spread::Latin),
    };
    let weigh_ins = Some(text("weigh_ins_text")?).filter(|text| !text.is_empty());
    let written = Written::kept(text("scenario_text")?, stamp.scenario.clone(), weigh_ins);
    let fixed_days = text("fixed_days")? == "true";
    let known = (
        list(text("sets")?),
        list(text("plans")?),
        list(text("keys")?),
        text("seed")?.parse().ok(),
        text("days")?.parse().ok(),
        text("part")?.parse::<Share>().ok(),
    );
    let (Some(sets), Some(plans), Some(keys), Some(seed), Some(days), Some(share)) = known else {
        return Ok(None);
    };
    let mut points = database.prepare("SELECT point, given FROM point ORDER BY place, point")?;
    let point = |row: &Row<'_>| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?));
    let (mut numbers, mut values) = (Vec::new(), Vec::new());
    for point in points.query_map([], point)? {
        let (number, given) = point?;
        let Some(given) = list(given).filter(|given| given.len() == keys.len()) else {
            return Ok(None);
        };
        numbers.push(number);
        values.push(given);
    }
    Ok(spread.map(|spread| {
        let design = Design { keys, points: values, spread };
        let stamp = Stamp { seed, ..stamp };
        (Sweep { stamp, written, sets, fixed_days, plans, design, days, share }, numbers)
    }))
}
