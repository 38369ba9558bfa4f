//! A sweep continues after any interruption and ends with the same bytes.
#![cfg(unix)]

use std::fs;
use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use super::results::same_bytes;
use crate::command_line::{ProgramFolder, json, send_signal, wait_until};

/// Days of a sweep that takes some seconds on a core; fewer in debug builds, where every session is checked.
const DAYS: &str = if cfg!(debug_assertions) { "160" } else { "3200" };
/// Days of a sweep that is killed inside its transactions.
const CUT_DAYS: &str = if cfg!(debug_assertions) { "64" } else { "640" };
const VARY: &str = "plan.often.recast=1..6/6 min";

fn args<'a>(days: &'a str, out: &'a str) -> Vec<&'a str> {
    let always =
        ["sweep", "pond.toml", "--plan", "often", "--vary", VARY, "--threads", "2", "--quiet"];
    [&always[..], &["--days", days, "--out", out]].concat()
}

fn start(folder: &ProgramFolder, args: &[&str]) -> Child {
    let mut command = folder.command(args);
    command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the program starts")
}

#[test]
fn a_sweep_killed_at_twenty_times_ends_with_the_same_bytes() {
    let folder = ProgramFolder::new();
    folder.run_ok(&args(DAYS, "whole"));
    if !cfg!(debug_assertions) {
        // A session takes four bytes of weight and a 32nd of a row of about 80; tables that do not grow take 32 kB.
        let bytes = folder.path("whole/sweep.db").metadata().expect("a store").len() - 32_768;
        let each = bytes as f64 / (6.0 * 3200.0);
        assert!((4.0..8.0).contains(&each), "{each} bytes a session");
    }
    let (mut chance, mut killed) = (7_u64, 0);
    for _ in 0..20 {
        let mut child = start(&folder, &args(DAYS, "killed"));
        // Delays from 0 to 0.4 s, by the generator of Lewis, Goodman and Miller.
        chance = chance * 16_807 % 2_147_483_647;
        std::thread::sleep(Duration::from_millis(chance % 400));
        child.kill().expect("killed");
        killed += u32::from(child.wait().expect("ended").code().is_none());
    }
    assert!(killed > 0, "no run was killed before its end");
    folder.run_ok(&args(DAYS, "killed"));
    same_bytes(&folder.path("whole"), &folder.path("killed"));
}

/// Kills a sweep while a transaction of its store is open, and lets it go on, `kills` times. Fails if the store then differs
/// from that of an undisturbed run; returns how many times the kill left a transaction half done.
fn kill_inside_transactions(kills: u64) -> u64 {
    let folder = ProgramFolder::new();
    folder.run_ok(&args(CUT_DAYS, "whole"));
    let (store, journal) = (folder.path("cut/sweep.db"), folder.path("cut/sweep.db-journal"));
    let mut half_done = 0;
    for kill in 0..kills {
        let before = store.metadata().map_or(0, |about| about.len());
        let mut child = start(&folder, &args(CUT_DAYS, "cut"));
        // The journal is there exactly as long as a transaction; some kills come after the file has grown.
        let is_inside = || {
            let has_grown = || store.metadata().is_ok_and(|about| about.len() > before);
            journal.exists() && (kill % 2 == 0 || has_grown())
        };
        while !is_inside() && child.try_wait().expect("a process").is_none() {
            std::hint::spin_loop();
        }
        child.kill().expect("killed");
        child.wait().expect("ended");
        half_done += u64::from(journal.metadata().is_ok_and(|about| about.len() > 0));
        if kill % 8 == 7 {
            folder.run_ok(&args(CUT_DAYS, "cut"));
            same_bytes(&folder.path("whole"), &folder.path("cut"));
            fs::remove_dir_all(folder.path("cut")).expect("removed");
        }
    }
    half_done
}

#[test]
fn a_sweep_killed_inside_transactions_ends_with_the_same_bytes() {
    let half_done = kill_inside_transactions(16);
    println!("16 kills, {half_done} with a transaction half done");
    assert!(half_done >= 4, "only {half_done} kills left a transaction half done");
}

#[test]
#[ignore = "takes minutes"]
fn two_hundred_kills_inside_transactions_end_with_the_same_bytes() {
    let half_done = kill_inside_transactions(200);
    println!("200 kills, {half_done} with a transaction half done");
    assert!(half_done >= 50, "only {half_done} kills left a transaction half done");
}

#[test]
fn a_sweep_killed_while_creating_its_store_starts_again() {
    let work = ProgramFolder::new();
    work.run_ok(&args("20", "whole"));
    // The file was opened, but nothing was written.
    fs::create_dir(work.path("opened")).expect("a folder");
    fs::write(work.path("opened/sweep.db"), "").expect("an empty store");
    // Half of the first transaction was written, with its journal next to it.
    for folder in ["half", "cut"] {
        fs::create_dir(work.path(folder)).expect("a folder");
    }
    let database = rusqlite::Connection::open(work.path("half/sweep.db")).expect("a database");
    database
        .execute_batch(
            "PRAGMA cache_size = 2; BEGIN; CREATE TABLE half (text);
             WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 2000)
             INSERT INTO half SELECT printf('%0500d', i) FROM n;",
        )
        .expect("a transaction under way");
    for name in ["sweep.db", "sweep.db-journal"] {
        let from = work.path(&format!("half/{name}"));
        assert!(from.metadata().expect("there").len() > 0, "{name} is empty");
        fs::copy(from, work.path(&format!("cut/{name}"))).expect("copied");
    }
    for folder in ["opened", "cut"] {
        work.run_ok(&args("20", folder));
        same_bytes(&work.path("whole"), &work.path(folder));
    }
}

#[test]
fn an_interrupted_sweep_finishes_its_batch_and_says_how_to_continue() {
    let folder = ProgramFolder::new();
    let status = [&args("1000000", "cut")[..], &["--status", "--json"]].concat();
    let is_running = || {
        let output = folder.run(&status);
        output.code == Some(0) && json(&output.out)["running"] == true
    };
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let child = start(&folder, &args("1000000", "cut"));
        wait_until("it is at work", is_running);
        let output = send_signal(child, signal);
        assert_eq!(
            (output.code, output.out.as_str()),
            (Some(code), ""),
            "{signal}: {}",
            output.err
        );
        for word in ["interrupted after", "of 6,000,000 sessions", "same command goes on"] {
            assert!(output.err.contains(word), "{word} is missing: {}", output.err);
        }
        // The status can be queried while no run is active.
        let status = json(&folder.run_ok(&status).out);
        assert_eq!(status["running"], false);
        let done = format!("after {} of", status["sessions_done"]);
        let plain = output.err.replace(',', "");
        assert!(plain.contains(&done), "{done}: {plain}");
    }
}

#[test]
fn a_second_terminal_can_query_progress_and_a_second_run_is_refused() {
    let folder = ProgramFolder::new();
    let long = args("1000000", "long");
    let child = start(&folder, &long);
    let status = || json(&folder.run_ok(&[&long[..], &["--status", "--json"]].concat()).out);
    let store = folder.path("long/sweep.db");
    wait_until("the store is there", || store.metadata().is_ok_and(|about| about.len() > 0));
    wait_until("a batch is kept", || status()["sessions_done"].as_u64() > Some(0));
    let output = status();
    assert_eq!((&output["running"], &output["sessions"]), (&true.into(), &6_000_000.into()));
    assert!(output["sessions_per_s"].as_f64() > Some(0.0), "{output}");
    assert!(
        output["left_s"].as_f64() > Some(0.0) && output["best"]["weight_kg"]["se"].is_f64(),
        "{output}"
    );
    // A second run of the same sweep is refused and does no harm.
    let second = folder.run(&long);
    assert_eq!(second.code, Some(2), "{}", second.err);
    assert!(second.err.contains(&format!("process {}", child.id())), "{}", second.err);
    let before = output["sessions_done"].as_u64();
    wait_until("the first goes on", || status()["sessions_done"].as_u64() > before);
    assert_eq!(send_signal(child, "-INT").code, Some(130));
}

#[test]
fn added_days_and_points_extend_a_sweep_and_only_they_are_fished() {
    let folder = ProgramFolder::new();
    let sweep = |vary: &str, days: &str, out: &str| {
        let vary = format!("plan.often.recast={vary}");
        let args = ["sweep", "pond.toml", "--plan", "often", "--quiet", "--vary", &vary];
        folder.run_ok(&[&args[..], &["--days", days, "--out", out]].concat());
    };
    // 40 and 70 days end within a block of 32.
    sweep("1 min,3 min", "40", "grown");
    sweep("1 min,3 min", "70", "grown");
    sweep("1 min,2 min,3 min,5 min", "70", "grown");
    sweep("1 min,2 min,3 min,5 min", "70", "whole");
    same_bytes(&folder.path("whole"), &folder.path("grown"));
    let store = rusqlite::Connection::open(folder.path("grown/sweep.db")).expect("a database");
    let fished = store.query_row("SELECT sum(sessions) FROM run", [], |row| row.get::<_, i64>(0));
    assert_eq!(fished, Ok(4 * 70), "no day is fished twice");
}

#[test]
fn threads_do_not_change_a_byte() {
    let folder = ProgramFolder::new();
    for threads in ["1", "8"] {
        let args = ["sweep", "pond.toml", "--quiet", "--points", "5", "--vary"];
        let vary = ["plan.often.load=8 g..80 g", "--vary", "shoal.small.count=20..40"];
        let days = ["--days", "40", "--threads", threads, "--out", threads];
        folder.run_ok(&[&args[..], &vary, &days].concat());
    }
    same_bytes(&folder.path("1"), &folder.path("8"));
}

#[test]
fn a_full_disk_keeps_the_finished_blocks() {
    let folder = ProgramFolder::new();
    let disk = folder.path("disk");
    std::fs::create_dir(&disk).expect("a folder");
    let mount = |options: &str| {
        let mut command = Command::new("mount");
        command.args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(&disk);
        command.output().is_ok_and(|output| output.status.success())
    };
    if !mount("size=96k") {
        // Written directly, since the test runner hides the output of a test that passes.
        let _ = writeln!(
            std::io::stderr(),
            "SKIPPED: a small disk cannot be mounted here; that takes root on Linux"
        );
        return;
    }
    let days = if cfg!(debug_assertions) { "2400" } else { "4800" };
    let output = folder.run(&args(days, "disk/sweep"));
    let again = folder.run(&args(days, "disk/sweep"));
    let grown = mount("remount,size=64m");
    let done = folder.run(&args(days, "disk/sweep"));
    let status = folder.run(&[&args(days, "disk/sweep")[..], &["--status"]].concat());
    folder.run_ok(&args(days, "whole"));
    let same = std::panic::catch_unwind(|| same_bytes(&folder.path("whole"), &disk.join("sweep")));
    let away = Command::new("umount").arg(&disk).status();
    // The disk is unmounted before anything is asserted.
    for output in [output, again] {
        assert_eq!((output.code, output.out.as_str()), (Some(1), ""), "{}", output.err);
        assert!(output.err.contains("the disk is full; all batches before"), "{}", output.err);
        assert!(output.err.contains("same command again"), "{}", output.err);
    }
    assert!(grown && away.is_ok_and(|away| away.success()));
    assert_eq!(done.code, Some(0), "{}", done.err);
    assert!(status.out.contains("100 %"), "{}", status.out);
    assert!(same.is_ok(), "the bytes differ");
}
