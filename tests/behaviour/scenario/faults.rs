//! Error messages for faulty scenarios: place, problem and correction.

use proptest::prelude::{ProptestConfig, any, prop, prop_oneof, proptest};
use sim::scenario::{load, read, vary_values};

use super::reading::{SMALL, contains_all, error_of};

/// The small scenario with one more line, its fourth.
fn with(line: &str) -> String {
    error_of(&format!("{SMALL}{line}\n"), &[])
}

#[test]
fn a_bare_number_gets_the_missing_unit_suggested() {
    contains_all(
        &with("plan.b.recast = 2"),
        &["pond.toml:4: plan.b.recast: 2 has no unit", "\"2 min\""],
    );
    contains_all(
        &with("plan.b.recast = \"2\""),
        &["pond.toml:4:", "\"2\" has no unit", "\"90 s\""],
    );
    contains_all(&with("water.width = 60"), &["pond.toml:4: water.width", "\"28 m\""]);
    contains_all(
        &with("water.temperature = { low = 15, high = \"20 C\" }"),
        &["pond.toml:4: water.temperature.low: 15 has no unit", "\"18 C\""],
    );
}

#[test]
fn a_wrong_or_misspelt_unit_gets_the_right_kind_suggested() {
    contains_all(
        &with("plan.b.recast = \"25 g\""),
        &["pond.toml:4: plan.b.recast: \"25 g\" is a mass; a time is needed here", "\"2 min\""],
    );
    contains_all(
        &with("plan.b.recast = \"2 mim\""),
        &["plan.b.recast", "\"mim\" is not a unit", "`min`"],
    );
    contains_all(
        &with("plan.b.recast = \"2 fortnights\""),
        &["\"fortnights\" is not a unit", "h, min, s"],
    );
    contains_all(&with("plan.b.recast = \"30 s 2 min\""), &["from large to small"]);
    contains_all(&with("water.temperature = \"18 C 2 C\""), &["more than one quantity"]);
    contains_all(&with("plan.b.recast = \"soon\""), &["\"soon\" is not a quantity"]);
    contains_all(&with("plan.b.recast = \"\""), &["plan.b.recast", "is not a quantity"]);
    contains_all(
        &with("plan.b.load = \"1,5 g\""),
        &["plan.b.load", "\"1,5 g\" has a comma", "write a decimal point: \"1.5 g\""],
    );
}

#[test]
fn missing_quotation_marks_are_reported() {
    let message = error_of("[plan.a]\nrecast = 2 min # quick\n", &[]);
    contains_all(
        &message,
        &["pond.toml:2:", "recast", "quotation marks", "write recast = \"2 min\""],
    );
}

#[test]
fn an_unknown_key_gets_the_nearest_key_suggested() {
    contains_all(
        &with("plan.b.recats = \"2 min\""),
        &["pond.toml:4: plan.b.recats: no such key", "`plan.b.recast`", "load_style"],
    );
    contains_all(&with("shaol.b.count = 3"), &["pond.toml:4: shaol", "`shoal`"]);
    contains_all(&with("book.fish.hearing = 3"), &["book.fish.hearing", "`book.fish.hearing_m`"]);
    contains_all(&with("book.fsh.hearing_m = 3"), &["book.fsh", "`book.fish`"]);
    contains_all(&with("recast = \"2 min\""), &["pond.toml:4: recast", "`plan.NAME.recast`"]);
    contains_all(
        &with("plan.b.phase.1.feed.bar.evry = \"3 min\""),
        &["`plan.b.phase.1.feed.bar.every`"],
    );
    contains_all(
        &with("water.temperature = { lo = \"15 C\", high = \"20 C\" }"),
        &["water.temperature.lo", "`water.temperature.low`"],
    );
    contains_all(
        &with("xyzzy = 1"),
        &["pond.toml:4: xyzzy: no such key", "tables and keys of a scenario"],
    );
}

#[test]
fn one_unknown_table_is_one_error() {
    let message = with("[plans.b]\nrecast = \"2 min\"\nload = \"25 g\"");
    contains_all(&message, &["pond.toml:4: plans", "`plan`", "\n1 fault"]);
}

#[test]
fn a_value_out_of_range_gets_the_range_reported() {
    contains_all(
        &with("shoal.b.weight = \"-1 kg\""),
        &["shoal.b.weight", "\"-1 kg\"", "20 g to 40 kg"],
    );
    contains_all(
        &with("session.length = \"0 s\""),
        &["pond.toml:4: session.length", "1 min to 24 h"],
    );
    contains_all(&with("session.length = \"25 h\""), &["session.length", "1 min to 24 h"]);
    contains_all(&with("shoal.b.count = 10_000_000"), &["shoal.b.count", "10000000", "0 to 2000"]);
    contains_all(
        &with("shoal.b.count = { low = 10, high = 5000 }"),
        &["shoal.b.count.high", "0 to 2000"],
    );
    contains_all(&with("shoal.b.count = 2.5"), &["shoal.b.count", "2.5 is not a whole number"]);
    contains_all(&with("shoal.b.count = nan"), &["shoal.b.count", "not a finite number"]);
    contains_all(&with("shoal.b.rises = inf"), &["shoal.b.rises", "not a finite number"]);
    contains_all(&with("session.length = \"1e999 s\""), &["session.length", "too large"]);
    contains_all(&with("session.length = \"NaN s\""), &["session.length", "not a quantity"]);
    contains_all(&with("water.depth = \"0 m\""), &["water.depth", "0.1 m to 30 m"]);
    contains_all(&with("water.width = \"9 mm\""), &["water.width", "5 m to 1000 m"]);
    contains_all(
        &with("book.fish.hearing_m = 1e6"),
        &["pond.toml:4: book.fish.hearing_m", "1000000"],
    );
    contains_all(&with("plan.b.recast = \"1 s\""), &["plan.b.recast", "10 s to 24 h"]);
}

#[test]
fn the_total_number_of_fish_is_limited() {
    let shoals: String = (0..4).map(|n| format!("shoal.s{n}.count = 1500\n")).collect();
    contains_all(&with(&shoals), &["shoal.s3.count", "6060 fish", "5000 fish at most"]);
}

#[test]
fn errors_in_spreads_are_explained() {
    contains_all(
        &with("water.wind = { low = \"20 km/h\", high = \"5 km/h\" }"),
        &["pond.toml:4: water.wind: low (20 km/h) is above high (5 km/h)"],
    );
    contains_all(
        &with("water.wind = { low = \"5 km/h\" }"),
        &["water.wind", "{ low = …, high = … }"],
    );
    contains_all(
        &with("shoal.b.count = { low = 3, high = 4, cv = 0.1 }"),
        &["shoal.b.count", "whole spread"],
    );
    contains_all(
        &with("shoal.b.count = { mean = 50, cv = -0.1 }"),
        &["shoal.b.count.cv", "0 to 3"],
    );
    contains_all(
        &with("shoal.b.count = { mean = 1500, cv = 0.5 }"),
        &["shoal.b.count", "one day in a hundred"],
    );
    contains_all(&with("shoal.b.count = { mean = 0, cv = 0.5 }"), &["shoal.b.count", "above zero"]);
    contains_all(
        &with("session.length = { low = \"4 h\", high = \"5 h\" }"),
        &["pond.toml:4: session.length", "the same every day"],
    );
}

#[test]
fn a_value_of_the_wrong_kind_gets_the_right_kind_reported() {
    contains_all(&with("shoal.b.rises = \"0.4\""), &["\"0.4\" is in quotation marks", "write 0.4"]);
    contains_all(&with("shoal.b.rises = \"40 %\""), &["\"40 %\" is a percentage", "0.4"]);
    contains_all(&with("shoal.b.rises = true"), &["true is true or false", "bare number"]);
    contains_all(
        &with("plan.b.load_style = \"bottom\""),
        &["\"bottom\" is not known here", "\"buried\""],
    );
    contains_all(&with("session.kind = \"mach\""), &["session.kind", "`match`"]);
    contains_all(
        &with("plan.b.line = 3"),
        &["plan.b.line", "3 is a bare number", "name of a line"],
    );
    contains_all(&with("plan.b.line = [\"bar\"]"), &["plan.b.line: is a list"]);
    contains_all(&with("session.length = 05:00:00"), &["session.length", "time of day"]);
    contains_all(
        &with("[water.feature.reeds]\ncover = \"yes\""),
        &["water.feature.reeds.cover", "true or false"],
    );
    contains_all(
        &with("line.far = \"30 m\""),
        &["pond.toml:4: line.far", "write [line.far]", "distance"],
    );
    contains_all(&with("[plan.b.recast]\nvalue = 3"), &["plan.b.recast", "not a table"]);
    contains_all(&with("title = \"\"\"two\nlines\"\"\""), &["pond.toml:4: title", "on one line"]);
}

#[test]
fn lists_of_tables_must_have_names() {
    let message = error_of("[[plan]]\nrecast = \"2 min\"\n", &[]);
    contains_all(&message, &["pond.toml:1: plan: is a list", "[plan.NAME]"]);
    contains_all(
        &with("[[plan.b.phase]]\nuntil = \"2 h\""),
        &["plan.b.phase: is a list", "[plan.b.phase.1]"],
    );
}

#[test]
fn names_are_letters_digits_and_dashes() {
    contains_all(
        &with("[plan.\"two.minutes\"]"),
        &["pond.toml:4: plan", "\"two.minutes\" cannot be a name"],
    );
    contains_all(&with("[plan.\"\"]"), &["pond.toml:4:", "cannot be a name"]);
    contains_all(&with("\"\\u0007\" = 3"), &["pond.toml:4:", "cannot be a name"]);
}

#[test]
fn a_scenario_needs_a_line_and_a_plan() {
    let message = error_of("", &[]);
    contains_all(
        &message,
        &["pond.toml:1: line: there is no line", "pond.toml:1: plan: there is no plan", "2 faults"],
    );
}

#[test]
fn a_missing_key_is_reported_at_its_table() {
    contains_all(
        &with("[line.far]\nbearing = \"9 deg\""),
        &["pond.toml:4: line.far.distance: is missing", "\"28 m\""],
    );
    contains_all(
        &with("[water.sounding.a]\ndepth = \"2 m\""),
        &["pond.toml:4: water.sounding.a: does not say where", "distance = \"6 m\""],
    );
    contains_all(
        &with("[water.feature.reeds]"),
        &["water.feature.reeds.out: is missing", "half_width"],
    );
    contains_all(&with("[bait.mine]"), &["pond.toml:4: bait.mine: has no particles"]);
    contains_all(
        &with("[bait.mine.class.a]\nshare = 1.0"),
        &["bait.mine.class.a.diameter: is missing"],
    );
}

#[test]
fn an_undefined_name_gets_the_nearest_name_suggested() {
    contains_all(
        &with("plan.b.line = \"bra\""),
        &["pond.toml:4: plan.b.line: there is no line named \"bra\"", "`bar`"],
    );
    contains_all(&with("plan.b.bait = \"groundbiat\""), &["plan.b.bait", "`groundbait`"]);
    contains_all(
        &with("plan.b.phase.1.hookbait = \"wrom\""),
        &["plan.b.phase.1.hookbait", "`worm`"],
    );
    contains_all(&with("shoal.b.home = \"isle\""), &["shoal.b.home", "known here: bar"]);
    contains_all(&with("plan.b.feed.baar.amount = \"5 g\""), &["plan.b.feed.baar", "`bar`"]);
    contains_all(
        &with("[bait.mine]\nlike = \"crumbs\""),
        &["bait.mine.like", "no bait named \"crumbs\""],
    );
}

#[test]
fn errors_in_baits_are_explained() {
    contains_all(
        &with("bait.groundbait.class.fines.share = 0.5"),
        &["pond.toml:4: bait.groundbait.class", "add up to 1.35", "fines 0.5"],
    );
    contains_all(&with("bait.a.like = \"b\"\nbait.b.like = \"a\""), &["bait.a.like", "a cycle"]);
    contains_all(
        &with("bait.groundbait.like = \"pellets-4mm\""),
        &["bait.groundbait.like", "built in"],
    );
}

#[test]
fn errors_in_baits_that_others_are_like_have_the_line_that_caused_them() {
    for (line, key) in [
        ("bait.pellets-4mm.class.fines = { diameter = \"1 mm\", share = 0.5 }", "class"),
        ("bait.pellets-4mm.class.fines.diameter = \"1 mm\"", "class.fines.share"),
    ] {
        let message = with(line);
        // The built-in pellets of 6 mm are like those of 4 mm.
        for bait in ["pellets-4mm", "pellets-6mm"] {
            contains_all(&message, &[&format!("pond.toml:4: bait.{bait}.{key}: ")]);
        }
        assert!(!message.contains("built-in baits: "), "{message}");
    }
    let message = with("bait.pellets-4mm.like = \"pellets-6mm\"");
    contains_all(&message, &["pond.toml:4: bait.pellets-4mm.like", "\n1 fault"]);
}

#[test]
fn errors_in_phases_are_explained() {
    let phases = |lines: &str| with(&format!("[plan.b.phase]\n{lines}"));
    contains_all(
        &phases("1.until = \"3 h\"\n2.from = \"2 h\""),
        &["pond.toml:6: plan.b.phase.2.from: begins at 2 h, before phase 1 ends at 3 h"],
    );
    contains_all(
        &phases("1.until = \"6 h\""),
        &["plan.b.phase.1.until", "after the session of 5 h"],
    );
    contains_all(
        &phases("1.until = \"1 h\"\n3.until = \"2 h\""),
        &["plan.b.phase.3", "no phase 2"],
    );
    contains_all(
        &phases("1.from = \"2 h\"\n1.until = \"1 h\""),
        &["plan.b.phase.1.until", "not after"],
    );
    contains_all(
        &phases("1.recast = \"2 min\"\n2.recast = \"3 min\""),
        &["plan.b.phase.2", "no beginning"],
    );
    contains_all(&phases("first.recast = \"2 min\""), &["plan.b.phase.first", "[plan.b.phase.1]"]);
    contains_all(&phases("0.recast = \"2 min\""), &["plan.b.phase.0", "counted from 1"]);
    contains_all(
        &with("plan.b.feed.bar.until = \"9 h\""),
        &["plan.b.feed.bar.until", "after the session"],
    );
}

#[test]
fn places_outside_the_water_are_reported_with_its_size() {
    contains_all(
        &with("line.far.distance = \"80 m\""),
        &["line.far.distance", "60 m wide and 45 m long"],
    );
    contains_all(
        &with("line.far = { distance = \"40 m\", bearing = \"80 deg\" }"),
        &["line.far.distance"],
    );
    contains_all(&with("shoal.b.home_out = \"80 m\""), &["shoal.b.home_out", "outside the water"]);
    contains_all(
        &with("shoal.b = { home = \"bar\", home_out = \"9 m\" }"),
        &["shoal.b.home_out", "either home"],
    );
    let island =
        "[water.feature.isle]\nout = \"90 m\"\nhalf_length = \"9 m\"\nhalf_width = \"3 m\"";
    contains_all(&with(island), &["pond.toml:4: water.feature.isle", "outside the water"]);
}

#[test]
fn contradicting_soundings_are_reported() {
    let two = "[water]\ndepth = \"2 m\"\nsounding.a = { distance = \"9 m\", depth = \"1 m\" }\n\
               sounding.b = { distance = \"9 m\", depth = \"2 m\" }";
    contains_all(
        &with(two),
        &[
            "pond.toml:5: water.depth: is not used",
            "pond.toml:7: water.sounding.b.distance: the sounding \"a\" is at the same distance",
            "2 faults",
        ],
    );
}

#[test]
fn a_repeated_plan_name_is_reported_with_both_lines() {
    let message = error_of("[plan.a]\nrecast = \"2 min\"\n[plan.a]\nrecast = \"3 min\"\n", &[]);
    contains_all(
        &message,
        &["pond.toml:3:", "a second plan with the name \"a\"", "first on line 1"],
    );
    let message = error_of("[plan.a]\nrecast = \"2 min\"\nrecast = \"3 min\"\n", &[]);
    contains_all(&message, &["pond.toml:3:", "recast", "a second time"]);
}

#[test]
fn invalid_toml_is_reported_with_line_column_and_reason() {
    contains_all(
        &error_of("[plan.a]\nrecast == \"2 min\"\n", &[]),
        &["pond.toml:2:9:", "not TOML", "parser reports"],
    );
    contains_all(&error_of("[plan.a\n", &[]), &["pond.toml:1:", "not TOML", "1 fault"]);
    contains_all(&error_of("\u{0}", &[]), &["pond.toml:1:", "not TOML"]);
}

#[test]
fn all_errors_are_reported_at_once_in_the_order_of_the_file() {
    let text = "plan.a.recast = 3\nline.b.distance = \"9 kg\"\nshoal.c.cuont = 5\n";
    let message = error_of(text, &["plan.a.load=5", "session.length=9 days"]);
    let lines: Vec<_> = message.lines().collect();
    let starts = [
        "pond.toml:1: plan.a.recast",
        "pond.toml:2: line.b.distance",
        "pond.toml:3: shoal.c.cuont",
    ];
    for (line, start) in lines.iter().zip(starts) {
        assert!(line.starts_with(start), "{line} does not start with {start}");
    }
    contains_all(lines[3], &["--set: "]);
    contains_all(lines[4], &["--set: "]);
    assert_eq!(lines[5], "5 faults");
}

#[test]
fn errors_can_be_read_by_programs() {
    let faults = read("plan.a.recats = 3\nline.b.distance = \"9 m\"\n", "pond", &[])
        .expect_err("a misspelt key");
    let [fault] = faults.list() else { panic!("{faults}") };
    assert_eq!(fault.file, "pond.toml");
    assert_eq!(fault.location.line(), Some(1));
    assert_eq!(fault.key, "plan.a.recats");
    assert_eq!(fault.nearest.as_deref(), Some("plan.a.recast"));
}

#[test]
fn overrides_are_checked_like_the_file() {
    let set = |set: &str| error_of(SMALL, &[set]);
    contains_all(
        &set("plan.patient.recats=2min"),
        &["--set: plan.patient.recats", "`plan.patient.recast`"],
    );
    contains_all(&set("plan.patience.recast=2min"), &["--set: plan.patience", "`plan.patient`"]);
    contains_all(&set("shoal.pike.count=3"), &["--set: shoal.pike", "it has: residents"]);
    contains_all(
        &set("plan.patient.recast"),
        &["--set", "\"plan.patient.recast\" is not KEY=VALUE"],
    );
    contains_all(&set("plan.patient.recast="), &["--set", "is not KEY=VALUE"]);
    contains_all(&set("=5"), &["--set", "is not KEY=VALUE"]);
    contains_all(&set("plan..recast=5s"), &["--set", "cannot be a name"]);
    contains_all(&set("plan.patient.recast=2"), &["--set: plan.patient.recast: 2 has no unit"]);
    contains_all(&set("plan.patient=3"), &["--set: plan.patient", "takes no value"]);
    contains_all(
        &set("plan.patient.recast.low=3s"),
        &["--set: plan.patient.recast.low: no such key"],
    );
    contains_all(&set("water.wind={ low = 3"), &["--set: water.wind", "a spread is written"]);
    contains_all(&set("water.wind.low=100 km/h"), &["--set: water.wind.low", "0 km/h to 90 km/h"]);
    contains_all(&set("book.fish.hearing_m=5000"), &["--set: book.fish.hearing_m", "out of range"]);
    contains_all(
        &set("book.fish.haering_m=5"),
        &["--set: book.fish.haering_m", "`book.fish.hearing_m`"],
    );
}

#[test]
fn files_that_cannot_be_read_are_explained() {
    let folder = tempfile::tempdir().expect("a folder");
    let message = |path: &std::path::Path| load(path, &[]).expect_err("no scenario").to_string();
    contains_all(&message(&folder.path().join("none.toml")), &["none.toml: there is no such file"]);
    contains_all(&message(folder.path()), &["is a folder", "ends in .toml"]);
    let path = folder.path().join("latin.toml");
    std::fs::write(&path, b"title = \"a\"\n# 18 \xb0C\n").expect("written");
    contains_all(&message(&path), &["latin.toml:2: has bytes that are not UTF-8"]);
    std::fs::write(&path, vec![b'#'; 200_001]).expect("written");
    contains_all(&message(&path), &["is too large"]);
}

#[test]
fn an_error_quotes_little_of_the_file_and_no_control_characters() {
    let long = "x".repeat(5000);
    let message = with(&format!("plan.b.recast = \"{long}\\u001b[2J\""));
    assert!(message.len() < 400, "{} letters", message.len());
    let message = with("plan.b.recast = \"\\u001b[2J\"");
    assert!(!message.contains('\u{1b}'), "{message:?}");
}

/// Fragments of text that resemble a scenario.
fn fragment() -> impl proptest::strategy::Strategy<Value = String> {
    const WORDS: &[&str] = &[
        "[",
        "]",
        "{",
        "}",
        "=",
        ".",
        "\n",
        " ",
        "\"",
        ",",
        "#",
        "plan",
        "shoal",
        "line",
        "water",
        "bait",
        "class",
        "phase",
        "feed",
        "1",
        "2",
        "a",
        "b",
        "count",
        "recast",
        "low",
        "high",
        "mean",
        "cv",
        "like",
        "share",
        "from",
        "until",
        "\"2 min\"",
        "\"5 h\"",
        "\"28 m\"",
        "-1",
        "1e308",
        "nan",
        "°",
        "[plan.a.phase.1]\n",
        "distance = \"9 m\"\n",
        "temperature",
        "true",
        "[[",
        "]]",
        "'",
        "\\",
        "\u{feff}",
        "\r\n",
        "book.fish.hearing_m",
        "0x7f",
        "1979-05-27",
    ];
    let near = prop::collection::vec(prop::sample::select(WORDS), 0..40);
    prop_oneof![
        proptest::strategy::Strategy::prop_map(near, |words| words.concat()),
        any::<String>(),
    ]
}

proptest! {
    // A fixed seed would find nothing new; a failure prints the text that caused it.
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_and_no_override_makes_the_reader_panic(text in fragment(), set in fragment()) {
        let _ = read(&text, "pond", &[]);
        let _ = read(SMALL, "pond", std::slice::from_ref(&set));
        let _ = read(SMALL, "pond", &[format!("plan.patient.recast={set}")]);
        let _ = read(SMALL, "pond", &[format!("water.wind={set}")]);
        let _ = read(&format!("{SMALL}{text}"), "pond", std::slice::from_ref(&set));
        let _ = vary_values(&set);
        let _ = vary_values(&format!("plan.patient.recast={set}"));
        let _ = vary_values(&format!("plan.patient.recast={set}..{text}/3"));
    }
}
