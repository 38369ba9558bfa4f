//! Simulated logs of a fit in shares, made apart and joined.

use std::fs;

use sim::catch_log::{LoggedSession, catch_log_text};
use sim::scenario::read;
use sim::session::Day;
use sim::study::simulated_session;

use crate::command_line::{POND, ProgramFolder, ProgramOutput};

/// A folder with the pond and a log of two sessions on it.
fn folder() -> ProgramFolder {
    let folder = ProgramFolder::new();
    let scenario = read(POND, "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let sessions: Vec<LoggedSession> = (1..=2)
        .map(|number| {
            let day = Day::draw(&scenario, 5, number);
            let mut session = simulated_session(&scenario, &scenario.plans[1], &day, 0.0, 1.0);
            session.name = format!("day-{number}");
            session
        })
        .collect();
    fs::write(folder.path("log.csv"), catch_log_text(&sessions)).expect("a log");
    folder
}

fn learn(folder: &ProgramFolder, more: &str) -> ProgramOutput {
    let logs = if more.contains("--logs") { "" } else { " --logs 300" };
    let line = format!("learn log.csv --scenario pond.toml --days 10 --quiet{logs} {more}");
    folder.run(&line.split(' ').collect::<Vec<_>>())
}

#[test]
fn shares_of_a_fit_are_joined_to_the_fit_of_one_machine() {
    let folder = folder();
    let whole = learn(&folder, "--out whole");
    assert_eq!(whole.code, Some(0), "{}", whole.err);
    for part in 1..=3 {
        let share = learn(&folder, &format!("--part {part}/3 --out share-{part}"));
        assert_eq!((share.code, share.out.as_str()), (Some(0), ""), "{}", share.err);
        let left = folder.path(&format!("share-{part}"));
        assert!(!left.join("learned-book.toml").exists(), "a share has no result of its own");
    }
    let text = |place: &str, name: &str| {
        fs::read_to_string(folder.path(place).join(name)).expect("a file")
    };
    // A share that was cut short goes on and ends in the same bytes.
    let share = text("share-2", "simulated-logs.txt");
    fs::write(folder.path("share-2/simulated-logs.txt"), &share[..share.len() / 2])
        .expect("a file");
    let refused = learn(&folder, "--merge share-1 --merge share-2 --merge share-3 --out joined");
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{}", refused.err);
    assert!(refused.err.contains("share-2/simulated-logs.txt lacks"), "{}", refused.err);
    assert_eq!(learn(&folder, "--part 2/3 --out share-2").code, Some(0));
    assert_eq!(text("share-2", "simulated-logs.txt"), share);
    let joined = learn(
        &folder,
        "--merge share-3 --merge share-1/simulated-logs.txt --merge share-2 --out joined",
    );
    assert_eq!(joined.code, Some(0), "{}", joined.err);
    for name in ["simulated-logs.txt", "fit.json", "learned-book.toml", "unknowns.svg"] {
        assert!(text("joined", name) == text("whole", name), "{name} differs");
    }
}

#[test]
fn shares_that_do_not_fit_are_refused_in_words() {
    let folder = folder();
    for part in ["1/2", "2/2"] {
        let out = format!("--part {part} --out share-{}", &part[..1]);
        assert_eq!(learn(&folder, &out).code, Some(0));
    }
    assert_eq!(learn(&folder, "--part 1/3 --out third").code, Some(0));
    assert_eq!(learn(&folder, "--part 2/2 --seed 2 --out seed").code, Some(0));
    assert_eq!(learn(&folder, "--out whole").code, Some(0));
    for (shares, message) in [
        ("--merge share-1", "of 2 shares these are missing: 2"),
        ("--merge share-1 --merge share-1", "share 1/2 was given twice"),
        ("--merge share-2 --merge third", "is share"),
        ("--merge share-1 --merge seed", "another log, scenario or seed"),
        ("--merge share-1 --merge whole", "is no share of simulated logs"),
        ("--merge share-1 --merge nowhere", "is no share of simulated logs"),
        ("--merge share-1 --merge log.csv", "is no share of simulated logs"),
        ("--merge share-1 --merge share-2 --logs 400", "2 shares of 400 logs"),
        ("--merge share-1 --part 1/2", "--part"),
        ("--part 3/2", "3/2"),
        ("--part 1/2 --next", "--next"),
    ] {
        let refused = learn(&folder, &format!("{shares} --out refused"));
        assert_eq!(
            (refused.code, refused.out.as_str()),
            (Some(2), ""),
            "{shares}: {}",
            refused.err
        );
        assert!(refused.err.contains(message), "{message}: {}", refused.err);
        assert!(!folder.path("refused").exists(), "{shares}: something was written");
    }
    let alone = folder.run(&["learn", "log.csv", "--part", "1/2"]);
    assert_eq!(alone.code, Some(2), "{}", alone.err);
    assert!(alone.err.contains("--scenario"), "{}", alone.err);
}
