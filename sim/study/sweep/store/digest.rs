//! Digests by which a store vouches for its values: one of the definition of the sweep, one of each block, and one of
//! each stored day.
//!
//! They find accidents, such as a bit that turned on a disk or a value that was edited; they are no signature.

use rusqlite::Connection;
use rusqlite::types::ValueRef;
use sha2::{Digest, Sha256};

use super::json_text::json;
use super::row::StoredBlock;
use crate::study::sweep::definition::SweepDefinition;

/// Length of the digest of a block or a day [bytes].
pub(super) const DIGEST_BYTES: usize = 16;

/// A digest of a block or a day: the first bytes of a SHA-256.
pub(super) type BlockDigest = [u8; DIGEST_BYTES];

/// Makes the digests of the blocks and days of one sweep, which depend on the seed, the scenario and all else that
/// decides a result.
#[derive(Clone, Debug)]
pub(super) struct BlockDigests {
    /// Hash of what is the same for all blocks.
    begun: Sha256,
    plans: Vec<String>,
}

impl BlockDigests {
    /// For the blocks of a sweep, and of all its shares and extensions.
    pub(super) fn new(sweep: &SweepDefinition) -> Self {
        let stamp = &sweep.stamp;
        let mut begun = Sha256::new();
        for text in [
            &stamp.version,
            &stamp.commit,
            &stamp.target,
            &stamp.seed.to_string(),
            &stamp.scenario,
            &stamp.scenario_sha256,
            &json(&sweep.plans),
            &json(&sweep.design.keys),
        ] {
            add_text(&mut begun, text);
        }
        Self { begun, plans: sweep.plans.clone() }
    }

    /// Digest of a block at a point, whose values are `given` as JSON.
    pub(super) fn block(&self, given: &str, block: &StoredBlock) -> BlockDigest {
        let mut hash = self.begun.clone();
        add_text(&mut hash, "block");
        add_text(&mut hash, given);
        add_text(&mut hash, self.plans.get(block.plan.0).map_or("", String::as_str));
        for number in [u64::from(block.first_day), u64::from(block.days)] {
            hash.update(number.to_le_bytes());
        }
        for number in [block.weight_sum_g, block.weight_sum_g2] {
            hash.update(number.to_le_bytes());
        }
        for number in [block.fish, block.bites, block.casts, block.bait_mg] {
            hash.update(number.to_le_bytes());
        }
        hash.update(&block.weights_g);
        shortened(hash)
    }

    /// Digest of a day of a comparison, written as JSON.
    pub(super) fn day(&self, number: u32, text: &str) -> BlockDigest {
        let mut hash = self.begun.clone();
        add_text(&mut hash, "day");
        hash.update(u64::from(number).to_le_bytes());
        hash.update(text);
        shortened(hash)
    }
}

/// Adds a text and a zero byte, which marks its end.
fn add_text(hash: &mut Sha256, text: &str) {
    hash.update(text);
    hash.update([0]);
}

fn shortened(hash: Sha256) -> BlockDigest {
    let mut digest = [0; DIGEST_BYTES];
    digest.copy_from_slice(&hash.finalize()[..DIGEST_BYTES]);
    digest
}

/// What the digest of a definition covers: the tables themselves, the points in their order, the plans, and the stamp
/// without the digest.
const DEFINITION: [&str; 4] = [
    "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name",
    "SELECT * FROM point ORDER BY place, point",
    "SELECT * FROM plan ORDER BY plan",
    "SELECT name, value FROM stamp WHERE name <> 'definition_sha256' ORDER BY name",
];

/// SHA-256 of the definition of the sweep in a database, in hexadecimal.
pub(super) fn definition_sha256(database: &Connection) -> rusqlite::Result<String> {
    let mut hash = Sha256::new();
    for query in DEFINITION {
        let mut statement = database.prepare(query)?;
        let columns = statement.column_count();
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            for column in 0..columns {
                add_value(&mut hash, row.get_ref(column)?);
            }
        }
    }
    Ok(hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Adds a value with its kind and length, so that no two rows of values give the same bytes.
fn add_value(hash: &mut Sha256, value: ValueRef<'_>) {
    let (kind, bytes): (u8, &[u8]) = match value {
        ValueRef::Null => (0, &[]),
        ValueRef::Integer(number) => return add_number(hash, 1, number.to_le_bytes()),
        ValueRef::Real(number) => return add_number(hash, 2, number.to_bits().to_le_bytes()),
        ValueRef::Text(text) => (3, text),
        ValueRef::Blob(bytes) => (4, bytes),
    };
    hash.update([kind]);
    hash.update((bytes.len() as u64).to_le_bytes());
    hash.update(bytes);
}

fn add_number(hash: &mut Sha256, kind: u8, bytes: [u8; 8]) {
    hash.update([kind]);
    hash.update(bytes);
}
