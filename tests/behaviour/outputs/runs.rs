//! One small run of every command that writes something for other programs.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use serde_json::{Map, Value};

use crate::command_line::{ProgramFolder, ProgramOutput, json};

/// An invented water with everything that a comparison can say something about: an aim, a section, a rule.
const RICH: &str = "title = \"An invented pond\"\nsession.length = \"1 h\"\n\
    aim.target = \"8 kg\"\nsection.rivals = 5\nsection.weight = { low = \"2 kg\", high = \"20 kg\" }\n\
    line.left.distance = \"20 m\"\nline.left.bearing = \"-40 deg\"\n\
    line.right.distance = \"24 m\"\nline.right.bearing = \"40 deg\"\n\
    shoal.left-fish.count = { low = 20, high = 60 }\nshoal.left-fish.home = \"left\"\n\
    shoal.right-fish.count = { low = 5, high = 60 }\nshoal.right-fish.home = \"right\"\n\
    plan.left.line = \"left\"\nplan.left.recast = \"3 min\"\n\
    plan.left.rule.quiet.no_bite_for = \"4 min\"\nplan.left.rule.quiet.recast = \"6 min\"\n\
    plan.right.line = \"right\"\n";

/// A scenario of one plan, so that a search has a baseline.
const SINGLE: &str = "session.length = \"30 min\"\nline.a.distance = \"20 m\"\n\
    shoal.fish.count = 200\nshoal.fish.home = \"a\"\nsection.rivals = 5\n\
    section.weight = { low = \"2 kg\", high = \"20 kg\" }\nplan.only.recast = \"5 min\"\n";

/// Lines of a scenario with faults of several kinds.
const FAULTY: &str = "line.a.distance = \"20\"\nplan.b.recats = \"2 min\"\nplan.b.recast = 2\n";

/// What the runs wrote, by the name of the output: documents, or rows as objects.
pub(super) type Written = BTreeMap<&'static str, Vec<Value>>;

/// The outputs of one small run of each command.
pub(super) fn written() -> &'static Written {
    static WRITTEN: OnceLock<Written> = OnceLock::new();
    WRITTEN.get_or_init(|| {
        let folder = ProgramFolder::new();
        let write = |name, text: &str| fs::write(folder.path(name), text).expect("a file");
        write("rich.toml", RICH);
        write("single.toml", SINGLE);
        write("faulty.toml", FAULTY);
        write("handy.toml", &format!("{RICH}plan.right.load = \"2 handfuls\"\n"));
        let tackle = "plan.right.hookbait = \"worm\"\nplan.right.bait = \"micro-pellets\"\n\
                      plan.right.load = \"30 g\"\n";
        write("tackle.toml", &format!("{RICH}{tackle}"));
        let run = |line: &str| folder.run_ok(&line.split(' ').collect::<Vec<_>>());
        let mut written = Written::new();
        let mut add = |name, values: Vec<Value>| written.entry(name).or_default().extend(values);

        run("compare rich.toml --days 240 --catches --quiet --out compare");
        run("compare pond.toml --days 2 --set plan.often.recast=2min --quiet --out day");
        for folder_name in ["compare", "day"] {
            for name in ["summary.json", "stamp.json"] {
                add(name, vec![document(&folder.path(folder_name).join(name))]);
            }
        }
        add("sessions.csv", rows(&folder.path("compare/sessions.csv")));
        add("catches.csv", rows(&folder.path("compare/catches.csv")));

        run("compare rich.toml pond.toml --days 240 --quiet --out waters");
        run("compare rich.toml pond.toml --days 2 --quiet --out waters-day");
        for folder_name in ["waters", "waters-day"] {
            for name in ["waters.json", "stamp.json"] {
                add(name, vec![document(&folder.path(folder_name).join(name))]);
            }
        }
        add("waters.csv", rows(&folder.path("waters/waters.csv")));

        let vary = "--vary plan.often.recast=60s,2min --vary plan.often.load_style=top,buried";
        let sweep = format!("sweep pond.toml {vary} --days 8 --quiet --out sweep");
        run(&sweep);
        add("vary.json", vec![document(&folder.path("sweep/vary.json"))]);
        add("vary.csv", rows(&folder.path("sweep/vary.csv")));
        add("sweep-status", vec![json(&run(&format!("{sweep} --status --json")).out)]);

        let values = "--vary plan.only.recast=60s,2min,5min,9min";
        for aim in ["weight", "target=5kg", "win", "frame"] {
            let line = format!("best single.toml {values} --aim {aim} --sessions 200 --days 20 --quiet");
            run(&format!("{line} --out best-{aim}"));
            let written = folder.path(&format!("best-{aim}"));
            add("best.json", vec![document(&written.join("best.json"))]);
            add("best.csv", rows(&written.join("best.csv")));
        }

        run("compare pond.toml --doubt --days 24 --seed 2 --quiet --out doubt");
        add("doubt.json", vec![document(&folder.path("doubt/doubt.json"))]);

        let logs: Vec<String> = ["left --day 1", "right --day 2", "left --day 3", "right --day 4"]
            .map(|session| run(&format!("replay rich.toml --plan {session} --log")).out)
            .into();
        let rest = logs[1..].iter().flat_map(|log| log.split_inclusive('\n').skip(1));
        write("log.csv", &(logs[0].clone() + &rest.collect::<String>()));
        let now: Vec<&str> = logs[0].split_inclusive('\n').take(8).collect();
        write("now.csv", &now.concat());
        write("early.csv", &now[..4].concat());
        fs::copy(repository("scenarios/invented-log.csv"), folder.path("long.csv")).expect("a log");
        add("catch-log", rows(&folder.path("log.csv")));
        let end_tackle = "--set plan.left.hook=small --set plan.left.line_strength=5lb";
        write("hook.csv", &run(&format!("replay rich.toml --plan left --day 5 --log {end_tackle}")).out);
        add("catch-log", rows(&folder.path("hook.csv")));
        run("learn log.csv --quiet --out few");
        run("learn long.csv --quiet --out many");
        for name in ["few/learn.json", "many/learn.json"] {
            add("learn.json", vec![document(&folder.path(name))]);
        }
        run("learn log.csv --scenario rich.toml --logs 300 --days 10 --next --waters 100 --intervals 2min,5min \
             --quiet --out fit");
        add("fit.json", vec![document(&folder.path("fit/fit.json"))]);
        let book = fs::read_to_string(folder.path("fit/learned-book.toml")).expect("a book");
        add("learned-book.toml", vec![toml::from_str(&book).expect("it is TOML")]);
        run("compare rich.toml --book fit/learned-book.toml --days 8 --quiet --out book");
        add("stamp.json", vec![document(&folder.path("book/stamp.json"))]);
        add("summary.json", vec![document(&folder.path("book/summary.json"))]);
        for (name, log) in [("rich.toml", "now"), ("tackle.toml", "now"), ("rich.toml", "early")] {
            let line = format!("now {name} --log {log}.csv --plan left --sessions 200 --json");
            add("now", vec![json(&run(&line).out)]);
        }

        for name in ["rich.toml", "handy.toml"] {
            add("check", vec![json(&run(&format!("check {name} --json")).out)]);
        }
        let faulty = folder.run(&["check", "faulty.toml", "--json"]);
        assert_eq!(faulty.code, Some(2), "{}", faulty.err);
        add("check", vec![json(&faulty.out)]);
        add("params", vec![json(&run("params --json").out)]);
        fs::copy(repository("tests/waters/reacting.toml"), folder.path("rules.toml")).expect("a water");
        let plans = ["feed-harder-when-fish-show", "switch-when-bites-slow"];
        // Enough days that fish show, are lost, and rules end.
        for (plan, day) in plans.into_iter().flat_map(|plan| (1..=6).map(move |day| (plan, day))) {
            let line = format!("replay rules.toml --plan {plan} --day {day} --json");
            add("replay", some_lines(&run(&line)));
        }
        add("replay", some_lines(&run("replay rich.toml --plan left --day 2 --json")));
        let bank = run("replay rich.toml --plan left --day 2 --from-the-bank --json");
        let isle = "water.feature.isle = { out = \"34 m\", half_length = \"3 m\", half_width = \"2 m\", cover = true }\n";
        write("isle.toml", &format!("{RICH}{isle}"));
        add("film", vec![json(&run("replay isle.toml --plan left --day 2 --film").out)]);
        add("bank", bank.out.lines().map(json).collect());
        written
    })
}

fn document(path: &Path) -> Value {
    json(&fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display())))
}

fn repository(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// The lines of a replay, but of each event only the first few.
fn some_lines(output: &ProgramOutput) -> Vec<Value> {
    let mut counts: BTreeMap<String, u32> = BTreeMap::new();
    let is_early = |line: &Value| {
        let count = counts.entry(line["event"].to_string()).or_default();
        *count += 1;
        *count <= 20
    };
    output.out.lines().map(json).filter(is_early).collect()
}

/// The rows of a table, with numbers, `true` and `false` as such and `null` for an empty cell, as packages read them.
fn rows(path: &Path) -> Vec<Value> {
    let mut table = csv::Reader::from_path(path).expect("a table");
    let head = table.headers().expect("a header").clone();
    let row = |row: Result<csv::StringRecord, csv::Error>| {
        let row = row.expect("a row");
        let cells = head.iter().zip(&row).map(|(name, cell)| (name.to_owned(), value(cell)));
        Value::Object(cells.collect::<Map<String, Value>>())
    };
    table.records().map(row).collect()
}

fn value(cell: &str) -> Value {
    match cell {
        "" | "NaN" => Value::Null,
        "true" | "false" => Value::Bool(cell == "true"),
        _ => match (cell.parse::<i64>(), cell.parse::<f64>()) {
            (Ok(whole), _) => whole.into(),
            (_, Ok(number)) => number.into(),
            _ => cell.into(),
        },
    }
}
