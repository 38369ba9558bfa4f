//! The digests of a store, computed as `output/README.md` describes them.

use std::path::Path;

use rusqlite::types::ValueRef;
use rusqlite::{Connection, params};
use sha2::{Digest, Sha256};

/// The part of every digest that is the same in all blocks of a sweep.
fn begun(store: &Connection) -> Sha256 {
    let mut hash = Sha256::new();
    let names =
        ["version", "commit", "target", "seed", "scenario", "scenario_sha256", "plans", "keys"];
    for name in names {
        let query = "SELECT value FROM stamp WHERE name = ?1";
        let value: String = store.query_row(query, [name], |row| row.get(0)).expect("a value");
        hash.update(value + "\0");
    }
    hash
}

/// Gives all blocks and days of a store the digests of their present values, as another machine would have done that
/// computed these values.
pub(super) fn digest_again(path: &Path) {
    let store = Connection::open(path).expect("a database");
    let begun = begun(&store);
    let columns = "first_day, days, weight_sum_g, weight_sum_g2, fish, bites, casts, bait_mg";
    let query = format!(
        "SELECT point, plan, given, name, weights_g, {columns} \
         FROM block JOIN point USING (point) JOIN plan USING (plan)"
    );
    let mut blocks = store.prepare(&query).expect("blocks");
    let mut rows = blocks.query([]).expect("rows");
    let mut digests = Vec::new();
    while let Some(row) = rows.next().expect("a row") {
        let mut hash = begun.clone();
        let text = |column| row.get::<_, String>(column).expect("text") + "\0";
        hash.update("block\0".to_owned() + &text(2) + &text(3));
        for column in 5..13 {
            hash.update(row.get::<_, i64>(column).expect("a number").to_le_bytes());
        }
        hash.update(row.get::<_, Vec<u8>>(4).expect("weights"));
        let number = |column| row.get::<_, i64>(column).expect("a number");
        digests.push((number(0), number(1), number(5), hash.finalize()[..16].to_vec()));
    }
    let update = "UPDATE block SET digest = ?4 WHERE point = ?1 AND plan = ?2 AND first_day = ?3";
    for (point, plan, day, digest) in digests {
        store.execute(update, params![point, plan, day, digest]).expect("updated");
    }
    let Ok(mut days) = store.prepare("SELECT day, fished FROM day") else { return };
    let days = days.query_map([], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?)));
    let days: Vec<(i64, String)> = days.and_then(Iterator::collect).expect("days");
    for (day, text) in days {
        let mut hash = begun.clone();
        hash.update("day\0");
        hash.update(day.to_le_bytes());
        hash.update(text);
        let digest = hash.finalize()[..16].to_vec();
        store
            .execute("UPDATE day SET digest = ?2 WHERE day = ?1", params![day, digest])
            .expect("updated");
    }
}

/// Gives the description of the sweep in a store the digest of what it is now.
pub(super) fn describe_again(path: &Path) {
    let store = Connection::open(path).expect("a database");
    let mut hash = Sha256::new();
    for query in [
        "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name",
        "SELECT * FROM point ORDER BY place, point",
        "SELECT * FROM plan ORDER BY plan",
        "SELECT name, value FROM stamp WHERE name <> 'definition_sha256' ORDER BY name",
    ] {
        let mut statement = store.prepare(query).expect("a query");
        let columns = statement.column_count();
        let mut rows = statement.query([]).expect("rows");
        while let Some(row) = rows.next().expect("a row") {
            for column in 0..columns {
                let (kind, bytes) = match row.get_ref(column).expect("a value") {
                    ValueRef::Null => (0, vec![0; 8]),
                    ValueRef::Integer(number) => (1, number.to_le_bytes().to_vec()),
                    ValueRef::Real(number) => (2, number.to_bits().to_le_bytes().to_vec()),
                    ValueRef::Text(text) => (3, with_length(text)),
                    ValueRef::Blob(bytes) => (4, with_length(bytes)),
                };
                hash.update([kind]);
                hash.update(bytes);
            }
        }
    }
    let digest: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    let update = "UPDATE stamp SET value = ?1 WHERE name = 'definition_sha256'";
    store.execute(update, [digest]).expect("updated");
}

fn with_length(bytes: &[u8]) -> Vec<u8> {
    [&(bytes.len() as u64).to_le_bytes()[..], bytes].concat()
}
