//! What people expect of any program on a command line.

use std::fs;
use std::io::Write;
use std::process::Stdio;

use serde_json::json;

use super::program::{POND, ProgramFolder, ProgramOutput, json, names};

const COMMANDS: [&str; 16] = [
    "now",
    "compare",
    "best",
    "sweep",
    "merge",
    "check",
    "replay",
    "card",
    "learn",
    "log",
    "page",
    "params",
    "new",
    "schema",
    "completions",
    "man",
];

/// Runs the program with a text on standard input.
fn run_with_input(folder: &ProgramFolder, args: &[&str], input: &str) -> ProgramOutput {
    let mut command = folder.command(args);
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("a pipe").write_all(input.as_bytes()).expect("written");
    child.wait_with_output().expect("it ends").into()
}

/// The words of an example, as a shell splits them.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut is_quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => is_quoted = !is_quoted,
            ' ' if !is_quoted => words.push(String::new()),
            letter => words.last_mut().expect("a word").push(letter),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

#[test]
fn each_help_fits_the_terminal_and_has_examples_that_are_understood() {
    let folder = ProgramFolder::new();
    for command in COMMANDS {
        let help = folder.command(&[command, "--help"]).env("COLUMNS", "80").output();
        let help = ProgramOutput::from(help.expect("the program starts")).out;
        let (options, examples) = help.split_once("Example").expect(command);
        for line in options.lines() {
            assert!(line.chars().count() <= 80, "{command}: {line}");
        }
        let examples: Vec<&str> =
            examples.lines().map(str::trim).filter(|line| line.starts_with("shoalwise ")).collect();
        assert!(!examples.is_empty(), "{command} has no example");
        for example in examples {
            let line = example.split(['<', '>']).next().unwrap_or_default();
            let line = words(line.trim_start_matches("shoalwise "));
            // A last option that does not exist ends the program before it works, and after it understood the others.
            let mut args: Vec<&str> = line.iter().map(String::as_str).collect();
            args.push("--no-such-option");
            let output = folder.run(&args);
            assert_eq!(output.code, Some(2), "{example}");
            assert!(
                output.err.contains("unexpected argument '--no-such-option'"),
                "{example}: {}",
                output.err
            );
        }
    }
}

#[test]
fn a_hyphen_reads_standard_input() {
    let folder = ProgramFolder::new();
    let output = run_with_input(&folder, &["check", "-"], POND);
    assert_eq!(output.code, Some(0), "{}", output.err);
    assert!(output.out.contains("2 plans"), "{}", output.out);
    let broken = run_with_input(&folder, &["check", "-"], &POND.replace("90 s", "90"));
    assert_eq!(broken.code, Some(2));
    assert!(broken.err.starts_with("standard input:"), "{}", broken.err);
    let args = ["best", "-", "--vary", "plan.often.recast=1 min,3 min", "--days", "20"];
    let more = ["--sessions", "300", "--quiet", "--out", "here"];
    let best = run_with_input(&folder, &[&args[..], &more].concat(), POND);
    assert_eq!(best.code, Some(0), "{}", best.err);
    assert!(folder.path("here/again.sh").exists());
}

#[test]
fn json_and_markdown_are_printed_without_files() {
    let folder = ProgramFolder::new();
    let common = ["compare", "pond.toml", "--days", "6", "--quiet"];
    let with_files = folder.run_ok(&[&common[..], &["--json", "--out", "there"]].concat());
    let without = folder.run_ok(&[&common[..], &["--json", "--out", "-"]].concat());
    assert_eq!(with_files.out, without.out);
    let markdown = folder.run_ok(&[&common[..], &["--markdown", "--out", "-"]].concat()).out;
    assert_eq!(names(&folder.path("")), ["pond.toml", "there"]);
    let rows: Vec<&str> = markdown.lines().filter(|line| line.starts_with('|')).collect();
    assert_eq!(rows.len(), 4, "{markdown}");
    let cells = |row: &str| row.matches('|').count();
    assert!(rows.iter().all(|row| cells(row) == cells(rows[0])), "{markdown}");
    assert!(markdown.contains("\n- "), "{markdown}");
    let refused = folder.run(&[&common[..], &["--out", "-"]].concat());
    assert_eq!(refused.code, Some(2), "{}", refused.out);
    assert!(refused.err.contains("--json or --markdown"), "{}", refused.err);
}

#[test]
fn check_reports_faults_as_json_and_each_line_of_text_begins_with_its_place() {
    let folder = ProgramFolder::new();
    let sound = json(&folder.run_ok(&["check", "pond.toml", "--json"]).out);
    assert_eq!((&sound["is_sound"], &sound["plans"]), (&json!(true), &json!(["often", "seldom"])));
    let text = POND.replace("90 s", "90").replace("count", "cuont");
    fs::write(folder.path("bad.toml"), text).expect("a file");
    let output = folder.run(&["check", "bad.toml", "--json", "--set", "plan.often.load=1 mile"]);
    assert_eq!(output.code, Some(2));
    let document = json(&output.out);
    let faults = document["faults"].as_array().expect("a list");
    assert_eq!(document["is_sound"], json!(false));
    let unknown = faults.iter().find(|fault| fault["key"] == "shoal.small.cuont").expect("a fault");
    assert_eq!((&unknown["in"], &unknown["line"]), (&json!("bad.toml"), &json!(5)));
    assert_eq!(unknown["nearest"], "shoal.small.count");
    assert!(faults.iter().any(|fault| fault["in"] == "--set"), "{document:#}");
    let lines: Vec<&str> = output.err.lines().collect();
    let (last, places) = lines.split_last().expect("lines");
    assert!(last.ends_with("faults"), "{}", output.err);
    for line in places {
        assert!(line.starts_with("bad.toml:") || line.starts_with("--set: "), "{line}");
    }
}

#[test]
fn check_says_what_was_taken_for_a_handful_and_a_pellet() {
    let folder = ProgramFolder::new();
    let load = "plan.often.load = \"2 handfuls\" # not \"3 handfuls\"";
    fs::write(folder.path("handy.toml"), format!("{POND}{load}\n")).expect("a scenario");
    let set = ["--set", "plan.seldom.load=20 pellets of 6 mm"];
    let output = folder.run_ok(&[&["check", "handy.toml"], &set[..]].concat()).out;
    assert!(output.contains("2 handfuls: taken as 100 g"), "{output}");
    assert!(output.contains("20 pellets of 6 mm: taken as 2.60 g"), "{output}");
    assert!(!output.contains("3 handfuls"), "{output}");
    let document = json(&folder.run_ok(&["check", "handy.toml", "--json"]).out);
    assert_eq!(document["measures"][0]["written"], "2 handfuls");
    assert!((document["measures"][0]["kg"].as_f64().expect("a number") - 0.1).abs() < 1e-12);
    assert!(!folder.run_ok(&["check", "pond.toml"]).out.contains("weigh"));
}

#[test]
fn a_new_scenario_is_sound_and_replaces_nothing() {
    let folder = ProgramFolder::new();
    folder.run_ok(&["new", "my-water", "--fish", "90", "--distance", "30 yd", "--length", "2 hrs"]);
    assert_eq!(names(&folder.path("")), ["my-water.toml", "pond.toml", "scenario.schema.json"]);
    let text = fs::read_to_string(folder.path("my-water.toml")).expect("a scenario");
    assert!(text.starts_with("#:schema scenario.schema.json\n"), "{text}");
    assert!(text.contains("units = \"imperial\""), "yards were given: {text}");
    let checked = folder.run_ok(&["check", "my-water.toml"]).out;
    assert!(checked.contains("2 plans, 2 h"), "{checked}");
    folder.run_ok(&["compare", "my-water.toml", "--days", "2", "--quiet"]);
    let schema = fs::read_to_string(folder.path("scenario.schema.json")).expect("a schema");
    assert_eq!(folder.run_ok(&["schema"]).out, schema);
    let shelf = fs::read_to_string("scenarios/scenario.schema.json").expect("a schema");
    assert_eq!(json(&schema), json(&shelf), "the schema that editors know");
    for (args, word) in [
        (&["new", "my-water", "--fish", "5"][..], "exists already"),
        (&["new", "pond.toml"], "exists already"),
        (&["new", "other", "--distance", "25"], "--distance"),
        (&["new", "other", "--fish", "many"], "--fish"),
        (&["new", "a\twater"], "cannot be the name"),
        (&["new", "nowhere/other"], "there is no folder"),
    ] {
        let refused = folder.run(args);
        assert_eq!(refused.code, Some(2), "{args:?}");
        assert!(refused.err.contains(word), "{args:?}: {}", refused.err);
    }
    let now = fs::read_to_string(folder.path("my-water.toml")).expect("a scenario");
    assert_eq!(now, text);
    assert!(!folder.path("other.toml").exists());
}

#[test]
fn the_environment_gives_units_and_threads_and_the_line_comes_first() {
    let folder = ProgramFolder::new();
    let run = |units: &str, args: &[&str]| {
        let common = ["compare", "pond.toml", "--days", "2", "--quiet", "--out", "here"];
        let mut command = folder.command(&[&common[..], args].concat());
        command.env("SHOALWISE_UNITS", units).env("SHOALWISE_THREADS", "1");
        ProgramOutput::from(command.output().expect("the program starts"))
    };
    assert!(run("imperial", &[]).out.contains("\u{a0}lb"));
    let script = fs::read_to_string(folder.path("here/again.sh")).expect("a script");
    assert!(script.contains(" --units imperial --out \"$out\""), "{script}");
    assert!(!run("imperial", &["--units", "metric"]).out.contains("\u{a0}lb"));
    let wrong = run("leagues", &[]);
    assert_eq!(wrong.code, Some(2), "{}", wrong.out);
    assert!(wrong.err.contains("metric, imperial"), "{}", wrong.err);
}

#[test]
fn shells_get_scripts_and_the_program_completes_plans_and_keys() {
    let folder = ProgramFolder::new();
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let script = folder.run_ok(&["completions", shell]).out;
        assert!(script.contains("SHOALWISE_COMPLETE") && script.contains("shoalwise"), "{script}");
    }
    let complete = |words: &[&str]| {
        let mut command = folder.command(&[&["--", "shoalwise"], words].concat());
        let index = words.len().to_string();
        command.env("SHOALWISE_COMPLETE", "bash").env("_CLAP_COMPLETE_INDEX", index);
        command.env("_CLAP_IFS", "\n").env("_CLAP_COMPLETE_SPACE", "true");
        let output = ProgramOutput::from(command.output().expect("the program starts"));
        output.out.lines().map(str::to_owned).collect::<Vec<_>>()
    };
    assert!(complete(&["comp"]).contains(&"compare".to_owned()));
    assert_eq!(complete(&["replay", "pond.toml", "--plan", ""]), ["often", "seldom"]);
    let keys = complete(&["compare", "pond.toml", "--set", "plan.often.re"]);
    assert!(keys.iter().any(|key| key == "plan.often.recast="), "{keys:?}");
}

#[test]
fn there_is_a_manual_page_for_each_command() {
    let folder = ProgramFolder::new();
    folder.run_ok(&["man", "pages"]);
    let mut expected: Vec<String> =
        COMMANDS.iter().map(|command| format!("shoalwise-{command}.1")).collect();
    expected.push("shoalwise.1".to_owned());
    expected.sort();
    assert_eq!(names(&folder.path("pages")), expected);
    let page = fs::read_to_string(folder.path("pages/shoalwise-compare.1")).expect("a page");
    for word in [".TH", ".SH NAME", ".SH OPTIONS", "\\-\\-vary", "Examples:"] {
        assert!(page.contains(word), "{word} is missing:\n{page}");
    }
}

#[test]
fn each_fish_has_a_row_and_the_rows_add_up() {
    let folder = ProgramFolder::new();
    folder.run_ok(&[
        "compare",
        "pond.toml",
        "--days",
        "6",
        "--quiet",
        "--catches",
        "--out",
        "here",
    ]);
    let read = |name: &str| {
        let mut rows = csv::Reader::from_path(folder.path(name)).expect("a table");
        let heads = rows.headers().expect("heads").clone();
        let number = |row: &csv::StringRecord, head: &str| {
            let index = heads.iter().position(|known| known == head).expect(head);
            row[index].parse::<f64>().unwrap_or(f64::NAN)
        };
        let rows = rows.records().map(|row| row.expect("a row"));
        rows.map(|row| {
            let named =
                ["weight_g", "fish", "mass_g", "largest_g", "first_fish_s", "at_s", "in_water_s"];
            let known = named.iter().filter(|name| heads.iter().any(|head| head == **name));
            let numbers = known.map(|name| (*name, number(&row, name))).collect();
            (format!("{} {}", &row[0], &row[1]), numbers)
        })
        .collect::<Vec<(String, std::collections::BTreeMap<&str, f64>)>>()
    };
    let (sessions, catches) = (read("here/sessions.csv"), read("here/catches.csv"));
    assert_eq!(sessions.len(), 12);
    assert!(!catches.is_empty(), "somebody catches something");
    for (session, figures) in &sessions {
        let own: Vec<_> = catches.iter().filter(|(name, _)| name == session).collect();
        let sum: f64 = own.iter().map(|(_, fish)| fish["mass_g"]).sum();
        assert_eq!((own.len() as f64, sum), (figures["fish"], figures["weight_g"]), "{session}");
        let most = own.iter().map(|(_, fish)| fish["mass_g"]).fold(f64::NAN, f64::max);
        assert_eq!(most.to_bits(), figures["largest_g"].to_bits(), "{session}");
        let first = own.first().map_or(f64::NAN, |(_, fish)| fish["at_s"]);
        assert_eq!(first.to_bits(), figures["first_fish_s"].to_bits(), "{session}");
        assert!((0.0..=1800.0).contains(&figures["in_water_s"]), "{session}: {figures:?}");
    }
    let stamp = json(&fs::read_to_string(folder.path("here/stamp.json")).expect("a stamp"));
    assert_eq!(stamp["files"]["catches.csv"], "shoalwise/catches/1");
}

#[test]
fn from_the_bank_nothing_is_seen_of_what_happens_under_water() {
    let folder = ProgramFolder::new();
    let replay = |day: u32| {
        let day = day.to_string();
        ["replay", "pond.toml", "--plan", "often", "--day", &day].map(str::to_owned)
    };
    let run = |day: u32, option: &[&str]| {
        let args = replay(day);
        let args: Vec<&str> =
            args.iter().map(String::as_str).chain(option.iter().copied()).collect();
        folder.run_ok(&args).out
    };
    let outcome_of = |day: u32| {
        let document = run(day, &["--json"]);
        json(document.lines().last().expect("a line"))["outcome"].clone()
    };
    let fished = |day: &u32| outcome_of(*day)["fish"].as_u64().is_some_and(|fish| fish > 0);
    let day = (1..40).find(fished).expect("a day with a fish");
    let whole = run(day, &[]);
    let seen = run(day, &["--from-the-bank"]);
    let count = |text: &str, word: &str| text.lines().filter(|line| line.contains(word)).count();
    assert!(count(&whole, "arrives") > 0 && count(&whole, " eats ") > 0, "{whole}");
    for word in ["arrives", " eats ", "notices", "refuses", "of small", "gives up"] {
        assert_eq!(count(&seen, word), 0, "{word}:\n{seen}");
    }
    let outcome = outcome_of(day);
    let bites = outcome["bites"].as_u64().expect("a number") as usize;
    let landed = outcome["fish"].as_u64().expect("a number") as usize;
    assert!(bites > 0 && landed > 0, "{outcome}");
    assert_eq!(count(&seen, "a bite on cast"), bites, "{seen}");
    assert_eq!(count(&seen, "netted: "), landed, "{seen}");
    assert_eq!(count(&seen, "the fish is lost"), outcome["lost"].as_u64().unwrap_or(0) as usize);
    let fish_on = count(&seen, "a fish is on");
    assert_eq!(
        count(&seen, ", missed") + fish_on,
        bites + count(&seen, "without a bite"),
        "{seen}"
    );
    // The same as JSON.
    let lines = run(day, &["--from-the-bank", "--json"]);
    let lines: Vec<_> = lines.lines().map(json).collect();
    let (last, events) = lines.split_last().expect("lines");
    assert_eq!(events.len() + 1, seen.lines().count());
    assert_eq!(
        (&last["format"], &last["outcome"]["bites"]),
        (&json!("shoalwise/bank/1"), &outcome["bites"])
    );
    assert!(events.iter().all(|event| event["t_s"].is_number() && event["says"].is_string()));
}

#[test]
fn few_days_are_said_to_be_few() {
    let folder = ProgramFolder::new();
    let run = |days: &str, out: &str| {
        folder.run_ok(&["compare", "pond.toml", "--days", days, "--quiet", "--out", out]).out
    };
    let report =
        |out: &str| fs::read_to_string(folder.path(out).join("report.html")).expect("a report");
    assert!(run("4", "few").contains("4 days so far: too early to say."));
    assert!(report("few").contains("too early to say"));
    // A lead that is clear by its interval is not yet called one that beats the other.
    let clear = run("40", "clear");
    assert!(clear.contains("So far seldom is") && !clear.contains("seldom beats often"), "{clear}");
    assert!(!run("50", "enough").contains("too early to say"));
    assert!(!report("enough").contains("too early to say"));
}
