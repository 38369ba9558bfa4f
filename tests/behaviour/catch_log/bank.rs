//! `log`: casts added on the bank.

use std::fs;
use std::io::Write;
use std::process::Stdio;

use sim::catch_log::{
    BankEntry, BankLog, EndKind, catch_log_template, load_catch_log, read_clock_s, save_log_text,
};

use crate::command_line::{ProgramFolder, ProgramOutput};

/// Runs `log` with lines typed into it.
fn typed(folder: &ProgramFolder, args: &[&str], lines: &[&str]) -> ProgramOutput {
    let mut command = folder.command(&[&["log"], args].concat());
    let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = piped.spawn().expect("the program starts");
    let mut input = child.stdin.take().expect("an input");
    for line in lines {
        writeln!(input, "{line}").expect("it reads");
    }
    drop(input);
    child.wait_with_output().expect("it ends").into()
}

/// Records entries one after the other, each with its time.
fn recorded(log: &mut BankLog, entries: &[&str]) -> Vec<String> {
    entries
        .iter()
        .map(|typed| {
            let timed = BankEntry::parse(typed).expect("an entry").expect("not blank");
            log.record(&timed.entry, timed.time_s.unwrap_or(0.0))
                .unwrap_or_else(|message| panic!("{typed}: {message}"))
        })
        .collect()
}

fn new_log() -> BankLog {
    BankLog::open("", "bank.csv", "sunday", "2026-06-07").expect("a new log")
}

#[test]
fn casts_bites_and_fish_are_recorded_by_a_letter_each() {
    let folder = ProgramFolder::new();
    let output = typed(
        &folder,
        &["bank.csv", "--session", "sunday"],
        &[
            "l bar",
            "h corn",
            "f 25 g",
            "9:00 c",
            "9:02:30 c",
            "9:03 b",
            "y 3 lb 4 oz carp",
            "9:06 c",
            "9:08 s",
            "9:09 c",
        ],
    );
    assert_eq!(output.code, Some(0), "{}", output.err);
    assert!(
        output.out.contains("9:02:30 wound in without a bite; cast to bar, corn, 25 g"),
        "{}",
        output.out
    );
    let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
    let casts = &log.sessions[0].casts;
    assert_eq!(log.sessions[0].name, "sunday");
    let ends: Vec<_> = casts.iter().map(|cast| cast.end.as_ref().map(|end| end.kind)).collect();
    assert_eq!(ends, [Some(EndKind::WoundIn), Some(EndKind::Bite), Some(EndKind::Snag), None]);
    assert_eq!(casts[0].wait_s(), Some(150.0));
    let catch = casts[1].end.as_ref().and_then(|end| end.catch.as_ref()).expect("a catch");
    assert_eq!((catch.landed, catch.species.as_str()), (Some(true), "carp"));
    // The next run goes on where this one ended, with the same line and bait.
    let output =
        typed(&folder, &["bank.csv", "--session", "sunday"], &["9:12 b", "n", "9:14 c", "q"]);
    assert_eq!(output.code, Some(0), "{}", output.err);
    let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
    let casts = &log.sessions[0].casts;
    assert_eq!((casts.len(), casts[3].has_bite(), casts[4].line.as_str()), (5, true, "bar"));
    assert_eq!(casts[4].bait, "corn");
}

#[test]
fn an_entry_is_on_disk_before_the_answer_is_printed() {
    use std::io::{BufRead, BufReader};
    let folder = ProgramFolder::new();
    let mut command = folder.command(&["log", "bank.csv"]);
    let mut child =
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it starts");
    let mut input = child.stdin.take().expect("an input");
    let mut answers = BufReader::new(child.stdout.take().expect("an output")).lines();
    writeln!(input, "l bar").expect("it reads");
    answers.next().expect("an answer").expect("text");
    for (count, entry) in ["9:00 c", "9:02 c", "9:03 c"].iter().enumerate() {
        writeln!(input, "{entry}").expect("it reads");
        answers.next().expect("an answer").expect("text");
        let text = fs::read_to_string(folder.path("bank.csv")).expect("the log");
        assert_eq!(text.lines().count(), count + 2, "{text}");
    }
    // Killed at the prompt, it leaves a sound log and nothing else.
    child.kill().expect("it runs");
    child.wait().expect("it ends");
    let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
    assert_eq!(log.casts().count(), 3);
    let left: Vec<_> = fs::read_dir(folder.path("."))
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().contains("unfinished")), "{left:?}");
}

#[test]
fn a_kill_at_any_moment_loses_no_acknowledged_entry() {
    use std::io::{BufRead, BufReader};
    const CASTS: usize = 20;
    for acknowledged in 1..=12 {
        let folder = ProgramFolder::new();
        let mut command = folder.command(&["log", "bank.csv", "--session", "sunday"]);
        let mut child =
            command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it starts");
        // All entries are there at once, so that it is killed while it works on a later one.
        let entries: String = (0..CASTS).map(|at| format!("9:{at:02} c\n")).collect();
        let mut input = child.stdin.take().expect("an input");
        input.write_all(format!("l bar\n{entries}").as_bytes()).expect("it reads");
        let mut answers = BufReader::new(child.stdout.take().expect("an output")).lines();
        for _ in 0..=acknowledged {
            answers.next().expect("an answer").expect("text");
        }
        child.kill().expect("it runs");
        child.wait().expect("it ends");
        let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
        let times_s: Vec<f64> = log.casts().map(|cast| cast.cast_s).collect();
        assert!((acknowledged..=CASTS).contains(&times_s.len()), "{times_s:?}");
        let expected = |at: usize| 9.0 * 3600.0 + 60.0 * at as f64;
        assert!(
            times_s.iter().enumerate().all(|(at, s)| (*s - expected(at)).abs() < 1e-9),
            "{times_s:?}"
        );
        // It goes on from there.
        let output = typed(&folder, &["bank.csv", "--session", "sunday"], &["9:30 c"]);
        assert_eq!(output.code, Some(0), "{}", output.err);
        let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
        assert_eq!(log.casts().count(), times_s.len() + 1);
    }
}

#[test]
fn a_slip_is_undone_to_the_last_byte_as_often_as_needed() {
    let mut log = new_log();
    let mut texts = Vec::new();
    let entries = [
        "l bar", "9:00 c", "9:01 b", "y 2 lb", "9:04 c", "t 1 pint", "x windy", "9:06 r", "f 30 g",
    ];
    for entry in entries {
        texts.push(log.text().to_owned());
        recorded(&mut log, &[entry]);
    }
    for text in texts.iter().rev() {
        recorded(&mut log, &["u"]);
        assert_eq!(log.text(), text);
    }
    assert_eq!(log.record(&BankEntry::Undo, 0.0), Err("there is nothing to undo".to_owned()));
}

#[test]
fn what_cannot_be_is_refused_and_changes_nothing() {
    let folder = ProgramFolder::new();
    let lines = [
        "9:00 c",
        "l bar",
        "9:00 b",
        "9:00 c",
        "8:00 b",
        "y",
        "9:01 b",
        "y 3 stone",
        "zz",
        "9:05",
        "c now",
    ];
    let output = typed(&folder, &["bank.csv"], &lines);
    assert_eq!(output.code, Some(2), "{}", output.err);
    for part in [
        "write first where you cast to",
        "no bait is out",
        "is before cast_at",
        "the last cast has no bite",
        "\"stone\" is not a unit",
        "\"zz\" is not an entry",
        "a time stands alone",
        "c takes nothing after it",
        "8 of the entries could not be recorded",
    ] {
        assert!(output.err.contains(part), "{part:?} is missing:\n{}", output.err);
    }
    let log = load_catch_log(&folder.path("bank.csv")).expect("a sound log");
    assert_eq!(log.casts().count(), 1);
    assert!(log.casts().all(|cast| cast.wait_s() == Some(60.0)));
}

#[test]
fn a_log_of_ones_own_is_continued_byte_for_byte() {
    let own = "session;cast_at;line;recast_at;bite_at;note\n\"a; b\";9:00;bar;9:05;;\"x; y\"\n\nsunday;9:10;open;;;\n";
    let mut log = BankLog::open(own, "own.csv", "sunday", "2026-06-07").expect("a sound log");
    recorded(&mut log, &["9:12 m"]);
    let expected = own.replace("sunday;9:10;open;;;\n", "sunday;9:10;open;9:12:00;;moved\n");
    assert_eq!(log.text(), expected);
    // The file has no column for the date, so a new row cannot hold it.
    let cast = log.record(&BankEntry::Cast, read_clock_s("9:13").expect("a time"));
    assert!(cast.expect_err("no column").contains("the log has no column date"));
    assert_eq!(log.text(), expected);
    let broken =
        BankLog::open("session,line\n", "own.csv", "a", "").expect_err("columns are missing");
    assert!(broken.to_string().contains("own.csv:1: cast_at: this column is missing"), "{broken}");
    // A log that is only a header is begun.
    let mut empty =
        BankLog::open(&catch_log_template(), "own.csv", "a", "2026-06-07").expect("a header");
    recorded(&mut empty, &["l bar", "9:00 c"]);
    assert!(empty.text().ends_with("a,2026-06-07,9:00:00,bar,,,,,,,,,\n"), "{}", empty.text());
}

#[test]
fn a_log_that_somebody_else_changes_is_not_overwritten() {
    use std::io::{BufRead, BufReader};
    let folder = ProgramFolder::new();
    let mut command = folder.command(&["log", "bank.csv"]);
    let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = piped.spawn().expect("it starts");
    let mut input = child.stdin.take().expect("an input");
    let mut output = BufReader::new(child.stdout.take().expect("an output"));
    let mut answer = String::new();
    writeln!(input, "l bar\n9:00 c").expect("it reads");
    output.read_line(&mut answer).expect("an answer");
    output.read_line(&mut answer).expect("an answer");
    let other = "session,cast_at,line,recast_at,bite_at\n";
    save_log_text(&folder.path("bank.csv"), other).expect("saved");
    writeln!(input, "9:05 c").expect("it reads");
    drop(input);
    let output: ProgramOutput = child.wait_with_output().expect("it ends").into();
    assert_eq!(output.code, Some(1), "{}", output.err);
    assert!(output.err.contains("changed by another program"), "{}", output.err);
    assert_eq!(fs::read_to_string(folder.path("bank.csv")).expect("the log"), other);
}
