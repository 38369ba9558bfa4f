//! The simulator fitted to a log, and what its book does.

use std::fs;

use sim::angler::HookSize;
use sim::catch_log::{CatchLog, catch_log_text, read_catch_log};
use sim::scenario::{Scenario, UnknownTarget, learned_book_text, read, read_learned_book};
use sim::session::Day;
use sim::study::{
    Compare, Control, FitOutcome, FitResult, FitSpec, fit, logged_plans, simulated_session,
};

use super::samples::sound;
use crate::command_line::ProgramFolder;

/// A small water, quickly fished.
const WATER: &str = "session.length = \"1 h\"\nline.bar.distance = \"20 m\"\nline.deep.distance = \"26 m\"\n\
    shoal.residents.count = 80\nshoal.residents.home = \"bar\"\n\
    shoal.residents.home_half_length = \"8 m\"\nshoal.residents.home_half_width = \"8 m\"\n\
    plan.short.line = \"bar\"\nplan.short.recast = \"90 s\"\nplan.long.line = \"bar\"\nplan.long.recast = \"6 min\"\n\
    plan.deep.line = \"deep\"\nplan.deep.recast = \"4 min\"\n";

/// Many fish that come readily and search well.
const RICH: [&str; 5] = [
    "shoal.residents.count=200",
    "book.fish.take_share=0.6",
    "book.fish.comes_to_splash=0.5",
    "book.fish.pause_s=60",
    "book.fish.hookbait_notice=4",
];

fn water(sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
    read(WATER, "pond", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A log of `sessions` days with the second plan, on a water with these settings.
fn log_of(sets: &[&str], sessions: u32) -> CatchLog {
    log_of_seed(sets, sessions, 77)
}

fn log_of_seed(sets: &[&str], sessions: u32, seed: u64) -> CatchLog {
    let scenario = water(sets);
    let days = 1..=sessions;
    let sessions: Vec<_> = days
        .map(|number| {
            let day = Day::draw(&scenario, seed, number);
            let mut session = simulated_session(&scenario, &scenario.plans[1], &day, 0.0, 1.0);
            session.name = format!("day-{number}");
            session
        })
        .collect();
    sound(&catch_log_text(&sessions))
}

fn fitted(log: &CatchLog, scenario: &Scenario, threads: usize) -> FitOutcome {
    let plans = logged_plans(log, "pond.csv", scenario).unwrap_or_else(|faults| panic!("{faults}"));
    let spec = FitSpec { log, plans: &plans, scenario, seed: 5, simulated_logs: 400, days: 40 };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    pool.install(|| fit(&spec, Control::default()))
}

fn sound_fit(outcome: FitOutcome) -> (FitResult, String) {
    match outcome {
        FitOutcome::Fitted { result, book } => (*result, book),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_simulated_session_is_written_down_as_a_log() {
    let scenario = water(&["book.fish.take_share=0.6"]);
    let day = Day::draw(&scenario, 77, 1);
    let session = simulated_session(&scenario, &scenario.plans[1], &day, 9.0 * 3600.0, 1.0);
    let log = sound(&catch_log_text(std::slice::from_ref(&session)));
    let outcome = sim::session::run_session(&scenario, &scenario.plans[1], &day);
    let read_back = &log.sessions[0].casts;
    assert_eq!(read_back.len(), session.casts.len());
    let bites = read_back.iter().filter(|cast| cast.has_bite()).count();
    assert_eq!(
        bites as u32,
        outcome.bites + outcome.foul_hooked,
        "every bite is a bite of the log"
    );
    let landed_g: f64 = read_back
        .iter()
        .filter_map(|cast| cast.end.as_ref()?.catch.as_ref()?.weight_kg)
        .map(|kg| 1000.0 * kg)
        .sum();
    assert!(
        (landed_g - outcome.weight_g as f64).abs() < 1.0,
        "{landed_g} g, {} g",
        outcome.weight_g
    );
    let waits = read_back.iter().filter(|cast| !cast.has_bite()).filter_map(|cast| cast.wait_s());
    assert!(
        waits.into_iter().all(|wait_s| wait_s <= 362.0),
        "no bait waits longer than its recast"
    );
}

#[test]
fn a_log_becomes_a_plan_with_its_lines_waits_and_rests() {
    let text = "session,cast_at,line,recast_at,bite_at,bait,feeder,loose_feed\n\
        a,0:05:00,bar,0:09:00,,corn,30 g,\n\
        a,0:10:00,bar,,0:10:20,corn,30 g,100 g\n\
        a,0:12:00,bar,0:16:00,,corn,30 g,\n\
        a,0:40:00,deep,0:45:00,,worm,20 g,\n";
    let scenario = water(&[]);
    let plans = logged_plans(&sound(text), "pond.csv", &scenario).expect("all names are known");
    let phases = &plans[0].plan.phases;
    assert!(plans[0].start_s.abs() < 1e-9);
    assert_eq!(phases.len(), 4);
    assert_eq!(scenario.hookbaits[phases[0].tackle.hookbait].name, "corn");
    assert_eq!(scenario.hookbaits[phases[3].tackle.hookbait].name, "worm");
    assert_eq!(scenario.lines[phases[3].tackle.line].name, "deep");
    let patience: Vec<f64> = phases.iter().map(|phase| phase.tackle.recast_s).collect();
    assert_eq!(
        patience,
        [240.0, 240.0, 240.0, 300.0],
        "a bitten cast would have waited as its neighbours"
    );
    assert!((phases[0].tackle.load_kg - 0.030).abs() < 1e-12);
    assert!((phases[1].loose_feed[0].amount_kg - 0.1).abs() < 1e-12);
    assert!(phases[0].loose_feed.is_empty() && phases[2].loose_feed.is_empty());
    assert!((phases[2].until_s - 960.0).abs() < 1e-9, "the rod was out of the water for the rest");
    assert!((phases[3].from_s - (40.0 * 60.0 - 17.0)).abs() < 1e-9);
    assert!((plans[0].scenario.session_s - 2700.0).abs() < 1e-9);
}

#[test]
fn a_log_becomes_a_plan_with_the_line_and_hook_that_it_states() {
    let text = "session,cast_at,line,recast_at,bite_at,bait,hook\n\
        a,0:05:00,bar,0:09:00,,corn,strong\n\
        a,0:10:00,bar,0:14:00,,corn,\n";
    let scenario = water(&[]);
    let plans = logged_plans(&sound(text), "pond.csv", &scenario).expect("all names are known");
    let hooks: Vec<_> = plans[0].plan.phases.iter().map(|phase| phase.tackle.end.hook).collect();
    assert_eq!(hooks, [Some(HookSize::Strong), None]);
}

#[test]
fn names_that_the_scenario_lacks_are_reported_with_row_and_column() {
    let text = "session,cast_at,line,recast_at,bite_at,bait\n\
        a,0:05:00,bra,0:09:00,,corn\na,0:10:00,bar,0:12:00,,cron\n";
    let faults = logged_plans(&sound(text), "pond.csv", &water(&[])).expect_err("two names");
    let faults: Vec<String> = faults.list().iter().map(ToString::to_string).collect();
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert!(faults[0].starts_with("pond.csv:2: line: pond has no line \"bra\""), "{}", faults[0]);
    assert!(
        faults[0].contains("did you mean `bar`?") && faults[0].contains("bar, deep"),
        "{}",
        faults[0]
    );
    assert!(faults[1].starts_with("pond.csv:3: bait: pond has no bait \"cron\""), "{}", faults[1]);
    assert!(faults[1].contains("did you mean `corn`?"), "{}", faults[1]);
}

/// Of eight sessions each, on the mean of four logs: one log may be a lucky or an unlucky one.
#[test]
fn logs_of_a_rich_water_raise_what_plans_are_worth_and_of_a_poor_one_lower_it() {
    const LOGS: u64 = 4;
    let scenario = water(&[]);
    let poor = ["book.fish.take_share=0.16", "shoal.residents.count=40"];
    let (mut raised, mut lowered) = (0.0, 0.0);
    for seed in 1..=LOGS {
        let [rich, poor] = [&RICH[..], &poor].map(|sets| log_of_seed(sets, 8, seed));
        let bites = |log: &CatchLog| log.casts().filter(|cast| cast.has_bite()).count();
        assert!(bites(&rich) > 2 * bites(&poor), "{} and {} bites", bites(&rich), bites(&poor));
        let [(before, after_rich), (same, after_poor)] = [rich, poor].map(|log| {
            let (result, _) = sound_fit(fitted(&log, &scenario, 2));
            (result.plans[1].before_kg, result.plans[1].after_kg)
        });
        assert_eq!(before.to_bits(), same.to_bits(), "before the log nothing is known of it");
        raised += after_rich / before / LOGS as f64;
        lowered += after_poor / before / LOGS as f64;
    }
    assert!(raised > 1.2, "after rich logs {raised} times what it was");
    assert!(lowered < 0.8, "after poor logs {lowered} times what it was");
}

#[test]
fn a_fit_does_not_depend_on_threads_and_its_book_is_used() {
    let scenario = water(&[]);
    let log = log_of(&RICH, 3);
    let (result, text) = sound_fit(fitted(&log, &scenario, 1));
    assert_eq!(sound_fit(fitted(&log, &scenario, 3)), (result.clone(), text.clone()));
    assert!(
        result.learned.iter().any(|unknown| unknown.spread_ratio < 0.8),
        "{:?}",
        result.learned
    );
    let book = read_learned_book(&text, "learned-book.toml", &scenario).expect("its own book");
    let mut with_book = scenario.clone();
    with_book.lay_over(book.clone());
    let compared = |scenario: &Scenario| Compare::new(scenario).seed(5).days(40).run();
    let after = compared(&with_book);
    assert_eq!(after.plans[1].weight_kg.mean.to_bits(), result.plans[1].after_kg.to_bits());
    assert_eq!(after.stamp.book_sha256.as_deref(), Some(book.sha256.as_str()));
    assert_ne!(after.stamp.scenario_sha256, compared(&scenario).stamp.scenario_sha256);
}

#[test]
fn a_log_that_the_model_cannot_make_is_not_fitted() {
    // A bite five seconds after every cast.
    let mut text = String::from("session,cast_at,line,recast_at,bite_at\n");
    for cast in 0..30 {
        text.push_str(&format!("a,0:{:02}:00,bar,,0:{:02}:05\n", 2 * cast, 2 * cast));
    }
    let outcome = fitted(&sound(&text), &water(&[]), 2);
    let FitOutcome::Impossible { outside, .. } = &outcome else { panic!("{outcome:?}") };
    assert!(outside.iter().any(|summary| summary.observed > summary.high), "{outside:?}");
    let words = sim::report::misfit_text(&outcome, "pond");
    assert!(
        words.contains("pond cannot make such a log") && words.contains("Nothing was fitted"),
        "{words}"
    );
}

#[test]
fn a_day_takes_a_row_of_the_book_as_a_whole_and_leaves_all_else() {
    let scenario = water(&[]);
    let unknowns = scenario.unknowns();
    let take =
        unknowns.iter().find(|unknown| unknown.key == "book.fish.take_share").expect("a row");
    let count = unknowns.last().expect("the number of fish");
    assert_eq!(count.key, "shoal.residents.count");
    let none = [0.0; 3];
    let rows = [vec![0.2, 0.5], vec![0.5, 2.0]];
    let text = learned_book_text("", &[(take, none, none), (count, none, none)], &rows);
    let mut with_book = scenario.clone();
    with_book.lay_over(read_learned_book(&text, "b.toml", &scenario).expect("a sound book"));
    let UnknownTarget::Row(place) = take.target else { panic!("{take:?}") };
    let mut seen = [0; 2];
    for number in 1..=60 {
        let (plain, day) = (Day::draw(&scenario, 3, number), Day::draw(&with_book, 3, number));
        let row = rows
            .iter()
            .position(|row| row[0].to_bits() == day.drawn[place].to_bits())
            .expect("a row of the book");
        seen[row] += 1;
        let reach = |day: &Day| {
            day.stock.iter().filter(|fish| fish.state != sim::fish::FishState::Away).count()
        };
        assert_eq!(reach(&day), (rows[row][1] * 80.0).round() as usize, "day {number}");
        assert_eq!(reach(&plain), 80);
        let same =
            |at: &usize| *at == place || plain.drawn[*at].to_bits() == day.drawn[*at].to_bits();
        assert!((0..plain.drawn.len()).all(|at| same(&at)), "day {number}");
    }
    assert!(seen[0] > 15 && seen[1] > 15, "{seen:?}");
    let set = water(&["book.fish.take_share=0.4"]);
    let mut both = set.clone();
    both.lay_over(read_learned_book(&text, "b.toml", &set).expect("a sound book"));
    assert!((Day::draw(&both, 3, 1).drawn[place] - 0.4).abs() < 1e-12, "what is set stays");
}

#[test]
fn books_that_do_not_fit_are_refused() {
    let scenario = water(&[]);
    let faults = |text: &str| match read_learned_book(text, "b.toml", &scenario) {
        Ok(book) => panic!("{book:?}"),
        Err(faults) => faults.to_string(),
    };
    let book = |key: &str, row: &str| {
        format!("format = \"shoalwise/book/1\"\ndraws = [{row}]\n[[unknown]]\nkey = \"{key}\"\n")
    };
    for (text, part) in [
        ("draws = 3".to_owned(), "cannot be read as a book"),
        (
            book("shoal.others.count", "[1.0]"),
            "pond has no such unknown; did you mean `shoal.residents.count`?",
        ),
        (book("shoal.residents.count", "[9.0]"), "9 is outside 0.4 to 2.5"),
        (book("shoal.residents.count", "[1.0, 2.0]"), "has 2 numbers for 1 unknowns"),
        (book("shoal.residents.count", ""), "there are 0"),
        (
            book("shoal.residents.count", "[1.0]").replace("book/1", "book/9"),
            "this version reads shoalwise/book/1",
        ),
    ] {
        assert!(faults(&text).contains(part), "{text}\n{}", faults(&text));
    }
}

#[test]
fn the_command_fits_writes_a_book_and_takes_it_back() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("pond.toml"), WATER).expect("a file");
    let log = log_of(&RICH, 6);
    fs::write(folder.path("log.csv"), catch_log_text(&log.sessions)).expect("a file");
    let run = |line: &str| folder.run(&line.split(' ').collect::<Vec<_>>());
    let learnt = run("learn log.csv --scenario pond.toml --logs 300 --days 20 --out fit");
    assert_eq!(learnt.code, Some(0), "{}", learnt.err);
    assert!(learnt.out.contains("What the log taught:"), "{}", learnt.out);
    assert!(learnt.out.contains("Your plans before and after the log:"), "{}", learnt.out);
    for file in ["fit.json", "learned-book.toml", "unknowns.svg", "unknowns.png", "stamp.json"] {
        assert!(folder.path("fit").join(file).exists(), "{file}");
    }
    let with = run("compare pond.toml --days 20 --json --quiet --book fit/learned-book.toml");
    let without = run("compare pond.toml --days 20 --json --quiet");
    assert_eq!((with.code, without.code), (Some(0), Some(0)), "{}{}", with.err, without.err);
    assert!(with.out.contains("book_sha256") && !without.out.contains("book_sha256"));
    let missing = run("compare pond.toml --days 20 --book nowhere.toml");
    assert_eq!(missing.code, Some(2));
    assert!(missing.err.contains("there is no such file"), "{}", missing.err);
    let replayed = run("replay pond.toml --plan long --day 2 --log");
    let text = replayed.out;
    assert!(read_catch_log(&text, "pond", "pond.csv").is_ok(), "{text}");
    assert!(text.contains("day-2,,0:00:"), "{text}");
}

#[test]
fn a_fit_that_was_cut_short_goes_on_and_ends_in_the_same_bytes() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("pond.toml"), WATER).expect("a file");
    let log = log_of(&[], 2);
    fs::write(folder.path("log.csv"), catch_log_text(&log.sessions)).expect("a file");
    let line = "learn log.csv --scenario pond.toml --logs 250 --days 10 --out fit";
    let run = || folder.run(&line.split(' ').collect::<Vec<_>>());
    let whole = run();
    assert_eq!(whole.code, Some(0), "{}", whole.err);
    let text = |name: &str| fs::read_to_string(folder.path("fit").join(name)).expect("a file");
    let (logs, fit, book) =
        (text("simulated-logs.txt"), text("fit.json"), text("learned-book.toml"));
    assert_eq!(logs.lines().count(), 251, "a head and a line for each log");
    // As a power cut leaves it: in the middle of a line, with a turned digit before it.
    let half = logs.len() / 2;
    for damaged in [logs[..half].to_owned(), logs[..half].replacen("0.1", "0.2", 1), String::new()]
    {
        fs::write(folder.path("fit").join("simulated-logs.txt"), damaged).expect("a file");
        let again = run();
        assert_eq!(again.code, Some(0), "{}", again.err);
        assert_eq!(text("simulated-logs.txt"), logs);
        assert_eq!((text("fit.json"), text("learned-book.toml")), (fit.clone(), book.clone()));
    }
    let again = run();
    assert!(again.err.contains("250 of the logs were simulated before"), "{}", again.err);
}
