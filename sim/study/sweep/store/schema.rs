//! Tables of a store: the definition of the sweep, its points with a column per key, and its blocks of days.

use rusqlite::{Connection, OptionalExtension, Row, params};
use sha2::{Digest, Sha256};

use super::digest::definition_sha256;
use super::json_text::json;
use crate::scenario::{ScenarioSource, plain_name};
use crate::study::shard::Shard;
use crate::study::stamp::Stamp;
use crate::study::sweep::columns::SiColumns;
use crate::study::sweep::definition::SweepDefinition;
use crate::study::sweep::design::{Design, Sampling};

/// Identifies the program that made a database: `shoa` in letters.
pub(super) const APPLICATION_ID: i32 = 0x7368_6f61;
/// Version of these tables.
pub(super) const FORMAT_VERSION: i32 = 2;

const TABLES: &str = "
CREATE TABLE stamp (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE plan (plan INTEGER PRIMARY KEY, name TEXT NOT NULL);
CREATE TABLE block (
    point INTEGER NOT NULL, plan INTEGER NOT NULL, first_day INTEGER NOT NULL, days INTEGER NOT NULL,
    weight_sum_g INTEGER NOT NULL, weight_sum_g2 INTEGER NOT NULL,
    fish INTEGER NOT NULL, bites INTEGER NOT NULL, casts INTEGER NOT NULL, bait_mg INTEGER NOT NULL,
    weights_g BLOB NOT NULL, digest BLOB NOT NULL,
    PRIMARY KEY (point, plan, first_day)
) WITHOUT ROWID;
CREATE TABLE run (
    run INTEGER PRIMARY KEY, started_unix_s INTEGER NOT NULL, process INTEGER NOT NULL,
    threads INTEGER NOT NULL, worked_s REAL NOT NULL, sessions INTEGER NOT NULL
);
";

/// A comparison in shares stores whole days, so that its full result can be computed after the merge.
const DAYS: &str =
    "CREATE TABLE day (day INTEGER PRIMARY KEY, fished TEXT NOT NULL, digest BLOB NOT NULL)";

/// Quotes a name for SQL.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

/// Creates the tables if there are none, writes the definition of the sweep, and adds missing points; returns the
/// numbers of the points in the order of the design.
pub(super) fn write(
    database: &mut Connection,
    sweep: &SweepDefinition,
) -> rusqlite::Result<Vec<i64>> {
    let design = &sweep.design;
    let columns = SiColumns::new(&design.keys, design.points.first());
    let transaction = database.transaction()?;
    let version: i32 = transaction.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if version == 0 {
        transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
        transaction.pragma_update(None, "user_version", FORMAT_VERSION)?;
        transaction.execute_batch(TABLES)?;
        transaction.execute_batch(&point_tables(design, &columns))?;
        if sweep.is_comparison() {
            transaction.execute_batch(DAYS)?;
        }
        for (plan, name) in sweep.plans.iter().enumerate() {
            transaction.execute("INSERT INTO plan VALUES (?1, ?2)", params![plan, name])?;
        }
    }
    for (name, value) in description(sweep) {
        transaction
            .execute("INSERT OR REPLACE INTO stamp VALUES (?1, ?2)", params![name, value])?;
    }
    let numbers = write_points(&transaction, design, &columns)?;
    transaction.execute(
        "INSERT OR REPLACE INTO stamp VALUES ('definition_sha256', ?1)",
        [definition_sha256(&transaction)?],
    )?;
    transaction.commit()?;
    Ok(numbers)
}

/// SQL for the table of points, and for a view of the results for readers that open the store with another program.
fn point_tables(design: &Design, columns: &SiColumns) -> String {
    let written = design.keys.iter().map(|key| (quoted(key), "TEXT"));
    let numbers = columns.names().map(|name| (quoted(name), "REAL"));
    let columns: Vec<(String, &str)> = written.chain(numbers).collect();
    let defined: String =
        columns.iter().map(|(name, kind)| format!(", {name} {kind} NOT NULL")).collect();
    let shown: String = columns.iter().map(|(name, _)| format!("point.{name}, ")).collect();
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

/// Adds missing points and puts all points in the order of the design; returns their numbers in that order.
fn write_points(
    transaction: &Connection,
    design: &Design,
    columns: &SiColumns,
) -> rusqlite::Result<Vec<i64>> {
    let names: String = design
        .keys
        .iter()
        .chain(columns.names())
        .map(|name| format!(", {}", quoted(name)))
        .collect();
    let width = design.keys.len() + columns.names().count();
    let parameters: String = (3..3 + width).map(|index| format!(", ?{index}")).collect();
    let mut insert = transaction.prepare(&format!(
        "INSERT INTO point (place, given{names}) VALUES (?1, ?2{parameters}) \
         ON CONFLICT (given) DO UPDATE SET place = excluded.place RETURNING point"
    ))?;
    let mut numbers = Vec::with_capacity(design.points.len());
    for (place, values) in design.points.iter().enumerate() {
        let given = json(values);
        insert.raw_bind_parameter(1, place)?;
        insert.raw_bind_parameter(2, &given)?;
        for (index, value) in values.iter().enumerate() {
            insert.raw_bind_parameter(3 + index, value)?;
        }
        for (index, si) in columns.values(&design.keys, values).into_iter().enumerate() {
            // A word among numbers, as `never` among times, sorts after all numbers.
            insert.raw_bind_parameter(3 + values.len() + index, si.unwrap_or(f64::INFINITY))?;
        }
        let mut rows = insert.raw_query();
        if let Some(row) = rows.next()? {
            numbers.push(row.get(0)?);
        }
        while rows.next()?.is_some() {}
    }
    Ok(numbers)
}

/// Definition of a sweep as names and values.
fn description(sweep: &SweepDefinition) -> Vec<(&'static str, String)> {
    let stamp = &sweep.stamp;
    let spread = match sweep.design.sampling {
        Sampling::Grid => "grid".to_owned(),
        Sampling::Sobol(points) => format!("sobol {points}"),
        Sampling::Latin(points) => format!("latin {points}"),
    };
    let mut description = vec![
        ("format", format!("shoalwise/sweep/{FORMAT_VERSION}")),
        ("version", stamp.version.clone()),
        ("commit", stamp.commit.clone()),
        ("target", stamp.target.clone()),
        ("seed", stamp.seed.to_string()),
        ("scenario", stamp.scenario.clone()),
        ("scenario_sha256", stamp.scenario_sha256.clone()),
        ("scenario_text", sweep.source.text.clone()),
        ("weigh_ins_text", sweep.source.stored_weigh_ins().unwrap_or_default().to_owned()),
        ("sets", json(&sweep.overrides)),
        ("fixed_days", sweep.fixed_days.to_string()),
        ("plans", json(&sweep.plans)),
        ("keys", json(&sweep.design.keys)),
        ("spread", spread),
        ("days", sweep.days.to_string()),
        ("part", sweep.shard.to_string()),
        (
            "weights_g",
            "a day's weight at the scales, unsigned 32-bit whole grams, lowest byte first"
                .to_owned(),
        ),
    ];
    // A store without a book is as it was before there were any.
    description.extend(sweep.book.iter().map(|book| ("book_text", book.clone())));
    description
}

/// Reads the definition of the sweep and the numbers of its points. `None` if a part of it was changed since it was
/// written.
pub(super) fn read(database: &Connection) -> rusqlite::Result<Option<(SweepDefinition, Vec<i64>)>> {
    let mut names = database.prepare("SELECT value FROM stamp WHERE name = ?1")?;
    let mut text = |name: &str| names.query_row([name], |row| row.get::<_, String>(0));
    if text("definition_sha256")? != definition_sha256(database)? {
        return Ok(None);
    }
    let book = text("book_text").optional()?;
    let stamp = Stamp {
        version: text("version")?,
        commit: text("commit")?,
        seed: 0,
        scenario: text("scenario")?,
        scenario_sha256: text("scenario_sha256")?,
        book_sha256: book.as_deref().map(sha256),
        target: text("target")?,
    };
    let weigh_ins = Some(text("weigh_ins_text")?).filter(|text| !text.is_empty());
    let source =
        ScenarioSource::from_stored(text("scenario_text")?, stamp.scenario.clone(), weigh_ins);
    let fixed_days = text("fixed_days")? == "true";
    let parts = (
        list(text("sets")?),
        list(text("plans")?),
        list(text("keys")?),
        text("seed")?.parse().ok(),
        text("days")?.parse().ok(),
        text("part")?.parse::<Shard>().ok(),
        sampling(&text("spread")?),
    );
    let (
        Some(overrides),
        Some(plans),
        Some(keys),
        Some(seed),
        Some(days),
        Some(shard),
        Some(sampling),
    ) = parts
    else {
        return Ok(None);
    };
    // The names of plans become names of files.
    if !plans.iter().all(|plan| plain_name(plan) == *plan) {
        return Ok(None);
    }
    let Some((numbers, points)) = points(database, keys.len())? else { return Ok(None) };
    let sweep = SweepDefinition {
        stamp: Stamp { seed, ..stamp },
        source,
        overrides,
        book,
        fixed_days,
        plans,
        design: Design { keys, points, sampling },
        days,
        shard,
    };
    Ok(Some((sweep, numbers)))
}

/// A list of texts. `None` if it is not one.
fn list(text: String) -> Option<Vec<String>> {
    serde_json::from_str(&text).ok()
}

/// How the points were chosen. `None` if that cannot be read.
fn sampling(text: &str) -> Option<Sampling> {
    match text.split_once(' ') {
        None => Some(Sampling::Grid),
        Some(("sobol", points)) => points.parse().ok().map(Sampling::Sobol),
        Some((_, points)) => points.parse().ok().map(Sampling::Latin),
    }
}

/// Numbers and values of a sweep's points, in their order.
type Points = (Vec<i64>, Vec<Vec<String>>);

/// Reads the points; each has a value for each of `keys` keys. `None` if one has not.
fn points(database: &Connection, keys: usize) -> rusqlite::Result<Option<Points>> {
    let mut points = database.prepare("SELECT point, given FROM point ORDER BY place, point")?;
    let point = |row: &Row<'_>| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?));
    let (mut numbers, mut values) = (Vec::new(), Vec::new());
    for point in points.query_map([], point)? {
        let (number, given) = point?;
        let Some(given) = list(given).filter(|given| given.len() == keys) else {
            return Ok(None);
        };
        numbers.push(number);
        values.push(given);
    }
    Ok(Some((numbers, values)))
}

/// SHA-256 of a text, in hexadecimal.
fn sha256(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
