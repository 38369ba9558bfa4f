//! Options that many commands share: colour, version, folder, limits, and what may be left out.

use std::fs;
use std::process::Stdio;

use super::program::{POND, ProgramFolder, ProgramOutput, json, names, program};

#[test]
fn every_command_has_the_version_of_the_program() {
    let folder = ProgramFolder::new();
    let version = folder.run_ok(&["--version"]).out;
    for command in ["compare", "best", "sweep", "check", "card", "log", "params", "man"] {
        assert_eq!(folder.run_ok(&[command, "--version"]).out, version, "{command}");
        assert_eq!(folder.run_ok(&[command, "-V"]).out, version, "{command}");
    }
}

#[test]
#[cfg(target_os = "linux")]
fn help_that_cannot_be_written_is_a_failure() {
    for args in [&["--help"][..], &["--version"], &["compare", "--help"], &["params"]] {
        let full = fs::File::options().write(true).open("/dev/full").expect("the full device");
        let output = program().args(args).stdout(full).stderr(Stdio::piped()).output();
        let output = ProgramOutput::from(output.expect("the program starts"));
        assert_eq!(output.code, Some(1), "{args:?}");
        assert!(output.err.contains("the disk is full"), "{args:?}: {}", output.err);
    }
}

#[test]
fn the_only_plan_may_be_left_out_and_several_are_listed() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("one.toml"), POND.replace("plan.seldom.recast = \"7 min\"", ""))
        .expect("a scenario");
    for args in [&["card", "FILE", "--days", "4", "--quiet"][..], &["replay", "FILE", "--day", "1"]]
    {
        let on = |file: &'static str| -> Vec<&str> {
            args.iter().map(|&arg| if arg == "FILE" { file } else { arg }).collect()
        };
        folder.run_ok(&on("one.toml"));
        let several = folder.run(&on("pond.toml"));
        assert_eq!(several.code, Some(2), "{args:?}: {}", several.out);
        assert!(
            several.err.contains("--plan") && several.err.contains("often, seldom"),
            "{}",
            several.err
        );
    }
}

#[test]
fn results_are_printed_without_files_and_stores_are_refused() {
    let folder = ProgramFolder::new();
    let log = folder.run_ok(&["replay", "pond.toml", "--plan", "often", "--day", "1", "--log"]).out;
    fs::write(folder.path("log.csv"), &log).expect("a log");
    let before = names(&folder.path(""));
    for (args, format) in [
        (&["best", "pond.toml", "--sessions", "400", "--days", "20"][..], "shoalwise/best/1"),
        (&["card", "pond.toml", "--plan", "often", "--days", "4"], "shoalwise/compare/1"),
        (&["learn", "log.csv"], "shoalwise/learn/1"),
    ] {
        let output = folder.run_ok(&[args, &["-q", "--json", "-o", "-"]].concat());
        assert_eq!(json(&output.out)["format"], format, "{args:?}");
        assert_eq!(output.err, "", "{args:?}");
        let silent = folder.run(&[args, &["-q", "-o", "-"]].concat());
        assert_eq!(silent.code, Some(2), "{args:?}: {}", silent.out);
        assert!(silent.err.contains("--json"), "{args:?}: {}", silent.err);
    }
    let vary = ["--vary", "plan.often.recast=1 min,2 min", "--days", "4", "-o", "-", "--json"];
    for command in ["sweep", "compare"] {
        let refused = folder.run(&[&[command, "pond.toml"], &vary[..]].concat());
        assert_eq!(refused.code, Some(2), "{}", refused.out);
        assert!(refused.err.contains("name a folder"), "{}", refused.err);
    }
    assert_eq!(names(&folder.path("")), before);
}

#[test]
fn a_log_comes_from_standard_input() {
    let folder = ProgramFolder::new();
    let replay = ["replay", "pond.toml", "--plan", "often", "--day", "1", "--log"];
    let log = folder.run_ok(&replay).out;
    fs::write(folder.path("log.csv"), &log).expect("a log");
    let learn = |name: &str| {
        let mut command = folder.command(&["learn", name, "--json", "--out", "-", "--quiet"]);
        let input = fs::File::open(folder.path("log.csv")).expect("the log");
        ProgramOutput::from(command.stdin(input).output().expect("the program starts"))
    };
    let (named, piped) = (learn("log.csv"), learn("-"));
    assert_eq!(piped.code, Some(0), "{}", piped.err);
    assert_eq!(json(&named.out)["totals"], json(&piped.out)["totals"]);
    let twice = folder.run(&["now", "-", "--plan", "often", "--log", "-"]);
    assert_eq!(twice.code, Some(2), "{}", twice.out);
}

#[test]
fn faults_have_colour_where_it_is_asked_for() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("bad.toml"), POND.replace("90 s", "90")).expect("a scenario");
    let err = |colour: &str| folder.run(&["check", "bad.toml", "--color", colour]).err;
    assert!(
        err("always").contains("\u{1b}[") && err("always").contains("^^^^"),
        "{}",
        err("always")
    );
    assert!(err("never").starts_with("bad.toml:8: "), "{}", err("never"));
    assert_eq!(err("auto"), err("never"));
    assert_eq!(folder.run(&["--color=always", "check", "bad.toml"]).err, err("always"));
    assert!(folder.run_ok(&["--help", "--color", "always"]).out.contains("\u{1b}["));
}

#[test]
fn a_long_run_says_first_how_long_it_takes_and_an_absurd_one_is_refused() {
    let folder = ProgramFolder::new();
    let short = ["compare", "pond.toml", "--set", "session.length=10 min", "--out", "-", "--json"];
    let long = folder.run_ok(&[&short[..], &["--days", "2500"]].concat());
    let first = long.err.lines().next().unwrap_or_default();
    assert!(first.starts_with("shoalwise: 5,000 sessions: about "), "{first}");
    let brief = folder.run_ok(&[&short[..], &["--days", "20"]].concat());
    assert!(!brief.err.contains("about"), "{}", brief.err);
    for days in ["1000001", "4000000000", "99999999999999999999999"] {
        let absurd = folder.run(&[&short[..], &["--days", days]].concat());
        assert_eq!(absurd.code, Some(2), "{days}: {}", absurd.out);
        assert!(absurd.err.contains("give at most 1000000"), "{}", absurd.err);
    }
    let best = folder.run(&["best", "pond.toml", "--sessions", "4000000000"]);
    assert_eq!(best.code, Some(2), "{}", best.out);
}

#[test]
fn a_misspelt_file_has_a_suggestion_and_so_have_curly_quotation_marks() {
    let folder = ProgramFolder::new();
    fs::create_dir(folder.path("scenarios")).expect("a folder");
    fs::write(folder.path("scenarios/mere.toml"), POND).expect("a scenario");
    let err = |file: &str| folder.run(&["check", file]).err;
    assert!(err("pnod.toml").contains("did you mean `pond.toml`?"), "{}", err("pnod.toml"));
    let elsewhere = "did you mean `scenarios/mere.toml`?";
    assert!(err("mere.toml").contains(elsewhere), "{}", err("mere.toml"));
    assert!(!err("zzz.toml").contains("did you mean"), "{}", err("zzz.toml"));
    fs::write(folder.path("curly.toml"), POND.replace("\"90 s\"", "“90 s”")).expect("a scenario");
    assert!(err("curly.toml").contains("plan.often.recast = \"90 s\""), "{}", err("curly.toml"));
}

#[test]
fn parameters_are_found_by_a_text() {
    let folder = ProgramFolder::new();
    let all = folder.run_ok(&["params"]).out;
    assert_eq!(all, folder.run_ok(&["params", "--wide"]).out);
    let some = folder.run_ok(&["params", "TAKE_share"]).out;
    let rows: Vec<&str> = some.lines().skip(1).collect();
    assert!(!rows.is_empty() && rows.len() < all.lines().count() / 4, "{some}");
    assert!(rows.iter().all(|row| row.contains("take_share")), "{some}");
    let none = folder.run(&["params", "no-such-thing"]);
    assert_eq!((none.code, none.out.as_str()), (Some(2), ""));
}

#[test]
fn a_first_scenario_names_the_option_of_a_fault_and_the_next_command_can_be_copied() {
    let folder = ProgramFolder::new();
    for (args, message) in [
        (&["--distance", "30"][..], "shoalwise: --distance: \"30\" has no unit"),
        (&["--fish", "many"], "shoalwise: --fish: \"many\" is not a number"),
        (&["--weight", "heavy"], "shoalwise: --weight: "),
        (&["--length", "5"], "shoalwise: --length: "),
    ] {
        let refused = folder.run(&[&["new", "mere"], args].concat());
        assert_eq!(refused.code, Some(2), "{args:?}");
        assert!(refused.err.starts_with(message), "{args:?}: {}", refused.err);
    }
    for name in ["pools/", "-x", ".hidden"] {
        let refused = folder.run(&["new", "--", name]);
        assert!(refused.err.contains("cannot be the name"), "{name}: {}", refused.err);
    }
    assert_eq!(names(&folder.path("")), ["pond.toml"]);
    let spaced = folder.run_ok(&["new", "my mere"]).err;
    assert!(spaced.contains("next: shoalwise compare 'my mere.toml'"), "{spaced}");
}

#[test]
fn what_a_folder_holds_is_said_in_words() {
    let folder = ProgramFolder::new();
    folder.run_ok(&[
        "card",
        "pond.toml",
        "--plan",
        "often",
        "--days",
        "4",
        "--quiet",
        "--out",
        "here",
    ]);
    let other =
        folder.run(&["card", "pond.toml", "--plan", "seldom", "--days", "4", "--out", "here"]);
    assert_eq!(other.code, Some(2), "{}", other.out);
    assert!(other.err.contains("(plans often, not seldom)"), "{}", other.err);
}

#[test]
fn a_count_and_its_unit_need_no_space() {
    let folder = ProgramFolder::new();
    let sweep = |range: &str| {
        let vary = format!("plan.often.recast={range}");
        let args = ["compare", "pond.toml", "--vary", &vary, "--days", "2", "--json", "--quiet"];
        json(&folder.run_ok(&[&args[..], &["--plan", "often"]].concat()).out)["settings"].clone()
    };
    assert_eq!(sweep("1..5/3min"), sweep("1..5/3 min"));
    let wrong = folder.run(&["compare", "pond.toml", "--vary", "plan.often.recast=1..5 min"]);
    assert!(wrong.err.starts_with("--vary: "), "{}", wrong.err);
}

#[test]
fn a_file_that_is_no_log_has_one_fault() {
    let folder = ProgramFolder::new();
    let refused = folder.run(&["learn", "pond.toml"]);
    assert_eq!(refused.code, Some(2), "{}", refused.out);
    assert!(refused.err.contains("has no column of a catch log"), "{}", refused.err);
    assert!(refused.err.ends_with("1 fault\n"), "{}", refused.err);
}

#[test]
fn a_port_in_use_is_explained() {
    let folder = ProgramFolder::new();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a free port");
    let port = taken.local_addr().expect("an address").port().to_string();
    let refused = folder.run(&["page", "pond.toml", "--no-open", "-p", &port]);
    assert_eq!(refused.code, Some(1), "{}", refused.out);
    assert!(refused.err.contains(&format!("another program uses port {port}")), "{}", refused.err);
}
