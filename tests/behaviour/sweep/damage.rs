//! A store that was changed since it was written is never used as it is.

use std::fs;
use std::path::Path;
use std::time::Instant;

use proptest::prelude::{any, prop};
use sim::scenario::ScenarioSource;
use sim::study::{
    Control, Design, Sampling, Shard, Stamp, Store, SweepDefinition, SweepError, SweepResult,
    run_sweep, summarise,
};

use super::results::same_bytes;
use crate::attack::attack;
use crate::command_line::{POND, ProgramFolder};

const SWEEP: [&str; 9] = [
    "sweep",
    "pond.toml",
    "--vary",
    "plan.often.recast=1 min,2 min",
    "--quiet",
    "--days",
    "70",
    "--out",
    "here",
];

/// A sweep of the small pond.
fn definition(vary: &str, days: u32) -> SweepDefinition {
    let source = ScenarioSource::new(POND, "pond");
    let base = source.read(&[]).expect("sound");
    SweepDefinition {
        stamp: Stamp::new(&base.name, &base.sha256, 1),
        source,
        fixed_days: false,
        overrides: Vec::new(),
        book: None,
        plans: vec!["often".to_owned(), "seldom".to_owned()],
        design: Design::new(&[vary.to_owned()], Sampling::Grid).expect("points"),
        days,
        shard: Shard::WHOLE,
    }
}

/// What the command of a sweep does: opens the store, fishes what is missing, and summarises.
fn finished(path: &Path, sweep: &SweepDefinition) -> Result<SweepResult, SweepError> {
    let mut store = Store::open(path, sweep.clone())?;
    run_sweep(&mut store, Control::default(), |_| {})?;
    Ok(summarise(&store)?)
}

/// Words of the database and of its library, which no message may have.
const INTERNAL: [&str; 8] =
    ["SQL", "sqlite", "Query", "Invalid", "column", "constraint", "malformed", "B-tree"];

/// Turns `flips` single bits of a store, one at a time. Fails if any result is another one without an error; returns
/// how many times the store was refused, and how many times a repair led to the same result.
fn flip_bits(sweep: &SweepDefinition, flips: u64) -> (u64, u64) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("sweep.db");
    let result = finished(&path, sweep).expect("a sweep");
    let whole = fs::read(&path).expect("a store");
    let bits = 8 * whole.len() as u64;
    let (mut chance, mut refused, mut repaired) = (20_u64, 0, 0);
    for flip in 0..flips {
        // The generator of Lewis, Goodman and Miller.
        chance = chance * 16_807 % 2_147_483_647;
        let bit = chance % bits;
        let mut bytes = whole.clone();
        bytes[(bit / 8) as usize] ^= 1 << (bit % 8);
        fs::write(&path, &bytes).expect("a file");
        match finished(&path, sweep) {
            Ok(again) => assert!(again == result, "bit {bit} gave another result without a word"),
            Err(error) => {
                refused += 1;
                let message = error.to_string();
                let internal = INTERNAL.iter().find(|word| message.contains(**word));
                assert_eq!(internal, None, "bit {bit}: {message}");
                fs::write(&path, &bytes).expect("a file");
                if flip % 4 == 0 && Store::repair(&path, sweep).is_ok() {
                    let again = finished(&path, sweep);
                    let again = again.unwrap_or_else(|why| panic!("bit {bit}, repaired: {why}"));
                    assert!(again == result, "bit {bit} gave another result after a repair");
                    repaired += 1;
                }
            }
        }
    }
    (refused, repaired)
}

#[test]
fn a_turned_bit_never_changes_a_result_without_a_word() {
    let (refused, repaired) = flip_bits(&definition("plan.often.recast=1 min,2 min", 70), 100);
    assert!(refused > 10 && repaired > 2, "{refused} refused, {repaired} repaired");
}

#[test]
fn other_bytes_in_the_head_of_a_store_never_change_a_result_without_a_word() {
    let sweep = definition("plan.often.recast=1 min,2 min", 40);
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("sweep.db");
    let result = finished(&path, &sweep).expect("a sweep");
    let whole = fs::read(&path).expect("a store");
    // The head of the file takes 100 bytes, and the table of tables the rest of the first page.
    let page = usize::from(u16::from_be_bytes([whole[16], whole[17]]));
    assert!((512..whole.len()).contains(&page), "a page of {page} bytes");
    let changes =
        (prop::collection::vec((0..page, any::<u8>()), 1..4), any::<bool>(), 0..2 * whole.len());
    attack("heads of a store", 60, changes, |(changes, is_head, length)| {
        let mut bytes = whole.clone();
        for (at, byte) in changes {
            bytes[if is_head { at % 100 } else { at }] = byte;
        }
        bytes.truncate(length);
        fs::write(&path, &bytes).expect("a file");
        match finished(&path, &sweep) {
            Ok(again) => assert!(again == result, "another result without a word"),
            Err(error) => {
                let message = error.to_string();
                let internal = INTERNAL.iter().find(|word| message.contains(**word));
                assert_eq!(internal, None, "{message}");
            }
        }
        for name in ["sweep.db-journal", "sweep.db-wal", "sweep.db-shm"] {
            let _ = fs::remove_file(folder.path().join(name));
        }
    });
}

#[test]
#[ignore = "turns 2,000 bits, which takes minutes: `.ci/long` runs it"]
fn two_thousand_turned_bits_in_stores_of_three_sizes_never_change_a_result() {
    for (vary, days, flips) in [
        ("plan.often.recast=1 min,2 min", 40, 700),
        ("plan.often.recast=1..8/8 min", 100, 700),
        ("plan.often.recast=1..24/24 min", 400, 600),
    ] {
        let (refused, repaired) = flip_bits(&definition(vary, days), flips);
        println!("{vary}, {days} days: {flips} bits, {refused} refused, {repaired} repaired");
        assert!(refused > flips / 20 && repaired > 0);
    }
}

#[test]
fn a_damaged_block_is_named_and_fished_again_on_request() {
    let folder = ProgramFolder::new();
    folder.run_ok(&SWEEP);
    let untouched = folder.path("untouched");
    fs::create_dir(&untouched).expect("a folder");
    for entry in fs::read_dir(folder.path("here")).expect("a folder") {
        let entry = entry.expect("an entry");
        fs::copy(entry.path(), untouched.join(entry.file_name())).expect("a copy");
    }
    for (change, named) in [
        ("fish = fish + 1", "seldom at plan.often.recast=2 min, days 33 to 64"),
        ("weight_sum_g = 0", "seldom at plan.often.recast=2 min, days 33 to 64"),
        ("weights_g = zeroblob(length(weights_g))", "days 33 to 64"),
        ("casts = 'many'", "a block with unreadable values"),
        ("first_day = 34", "days 34 to 65"),
    ] {
        let store = rusqlite::Connection::open(folder.path("here/sweep.db")).expect("a database");
        let change =
            format!("UPDATE block SET {change} WHERE point = 2 AND plan = 1 AND first_day = 33");
        assert_eq!(store.execute(&change, []), Ok(1));
        drop(store);
        for more in [&[][..], &["--status"]] {
            let output = folder.run(&[&SWEEP[..], more].concat());
            assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{change} {more:?}");
            assert!(
                output.err.contains(named) && output.err.contains("--repair"),
                "{change}: {}",
                output.err
            );
        }
        let merged = folder.run(&["merge", "here", "--out", "joined"]);
        assert!(merged.code == Some(2) && merged.err.contains(named), "{}", merged.err);
        folder.run_ok(&[&SWEEP[..], &["--repair"]].concat());
        same_bytes(&untouched, &folder.path("here"));
        let store = rusqlite::Connection::open(folder.path("here/sweep.db")).expect("a database");
        let fished =
            store.query_row("SELECT sum(sessions) FROM run", [], |row| row.get::<_, i64>(0));
        assert_eq!(fished, Ok(64), "only the days of the damaged block are fished again");
        assert!(folder.path("here/sweep.db-damaged").exists(), "the damaged file is kept");
    }
    let output = folder.run_ok(&[&SWEEP[..6], &["70", "--out", "here", "--repair"]].concat());
    assert!(!output.err.contains("damaged"), "{}", output.err);
}

#[test]
fn a_changed_description_of_the_sweep_is_seen() {
    let folder = ProgramFolder::new();
    folder.run_ok(&SWEEP);
    let good = fs::read(folder.path("here/sweep.db")).expect("a store");
    for change in [
        "UPDATE stamp SET value = '2' WHERE name = 'seed'",
        "UPDATE stamp SET value = value || ' ' WHERE name = 'scenario_text'",
        "UPDATE stamp SET value = '71' WHERE name = 'days'",
        "DELETE FROM stamp WHERE name = 'sets'",
        "UPDATE plan SET name = 'never' WHERE plan = 1",
        "UPDATE point SET place = 1 - place",
        "UPDATE point SET \"plan.often.recast_s\" = 61 WHERE point = 1",
        "DROP VIEW result",
    ] {
        let store = rusqlite::Connection::open(folder.path("here/sweep.db")).expect("a database");
        store.execute_batch(change).expect("changed");
        drop(store);
        for args in [&SWEEP[..], &["merge", "here", "--out", "joined"]] {
            let output = folder.run(args);
            assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{change}");
            assert!(output.err.contains("description of the sweep was changed"), "{}", output.err);
        }
        // The blocks are whole, and none is fished again.
        let output = folder.run_ok(&[&SWEEP[..], &["--repair"]].concat());
        assert!(output.out.contains("best mean"), "{}", output.out);
        fs::write(folder.path("here/sweep.db"), &good).expect("a store");
    }
}

#[test]
fn a_repair_does_not_touch_a_store_of_another_sweep() {
    let folder = ProgramFolder::new();
    folder.run_ok(&SWEEP);
    let store = rusqlite::Connection::open(folder.path("here/sweep.db")).expect("a database");
    store.execute_batch("UPDATE block SET fish = fish + 1 WHERE first_day = 33").expect("changed");
    drop(store);
    let before = fs::read(folder.path("here/sweep.db")).expect("a store");
    let output = folder.run(&[&SWEEP[..], &["--seed", "2", "--repair"]].concat());
    assert_eq!(output.code, Some(2), "{}", output.err);
    assert!(output.err.contains("seed 1, not 2"), "{}", output.err);
    assert!(fs::read(folder.path("here/sweep.db")).expect("a store") == before);
    // Without a store there is nothing to repair.
    let output = folder.run(&["compare", "pond.toml", "--days", "2", "--repair"]);
    assert!(output.code == Some(2) && output.err.contains("--part"), "{}", output.err);
}

#[test]
#[ignore = "measures times, which other work on the machine would spoil: `.ci/long` runs it"]
fn digests_take_less_than_a_hundredth_of_a_sweep() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let sweep = definition("plan.often.recast=1..8/8 min", 640);
    let mut store = Store::open(&folder.path().join("sweep.db"), sweep).expect("a store");
    let started = Instant::now();
    run_sweep(&mut store, Control::default(), |_| {}).expect("fished");
    let fished_s = started.elapsed().as_secs_f64();
    let started = Instant::now();
    store.check_blocks().expect("whole");
    let verified_s = started.elapsed().as_secs_f64();
    println!("fished in {fished_s:.3} s, all digests computed again in {verified_s:.4} s");
    assert!(verified_s < 0.01 * fished_s);
}
