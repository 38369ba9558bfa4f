//! The readers of single values and of tables: quantities, `--vary`, catch logs, weigh-ins, damaged bytes.

use proptest::prelude::{any, prop};
use proptest::strategy::Strategy;
use sim::catch_log::{catch_log_text, read_catch_log};
use sim::scenario::{
    FormatKey, FormatValues, ScenarioSource, format_keys, read_bait_kg, read_duration_s,
    read_mass_kg, si_value, vary_range, vary_values,
};

use super::inputs::{attack, is_hidden, tape};

/// Units with their factors to SI, as the reader of masses, baits and times has them.
const UNITS: [(&str, &str, f64); 9] = [
    ("mass", "kg", 1.0),
    ("mass", "g", 1e-3),
    ("mass", "lb", 0.453_592_37),
    ("mass", "oz", 0.453_592_37 / 16.0),
    ("bait", "kg", 1.0),
    ("bait", "pint", 0.35),
    ("time", "h", 3600.0),
    ("time", "min", 60.0),
    ("time", "s", 1.0),
];

/// Pieces of quantities, right and wrong.
const PIECES: [&str; 34] = [
    "1",
    "2",
    "-",
    "+",
    ".",
    "5",
    "e",
    "E9",
    "1e400",
    "999999999999",
    "0",
    " ",
    "  ",
    "\t",
    ",",
    "kg",
    "g",
    "lb",
    "oz",
    "pint",
    "h",
    "min",
    "s",
    "m",
    "°C",
    "%",
    "½",
    "٣",
    "\u{202e}",
    "\u{0}",
    "\"",
    "NaN",
    "inf",
    "_",
];

fn pieces(from: &'static [&'static str], max: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(prop::sample::select(from), 0..max).prop_map(|pieces| pieces.concat())
}

/// Checks that a message fits on a line and holds nothing that a terminal could obey.
fn check_message(message: &str) {
    assert!(!message.is_empty() && message.len() < 4000, "{message}");
    assert!(!message.contains(is_hidden), "{message:?} has hidden characters");
}

#[test]
fn quantities_are_finite_or_refused() {
    attack("quantities", 4000, (pieces(&PIECES, 9), any::<String>()), |(near, any)| {
        for text in [&near, &any] {
            for read in [read_mass_kg, read_bait_kg, read_duration_s] {
                match read(text) {
                    Ok(si) => assert!(si.is_finite(), "{text:?} is {si}"),
                    Err(message) => check_message(&message),
                }
            }
        }
    });
}

#[test]
fn a_number_with_a_unit_is_the_number_times_the_unit() {
    let numbers = (-1e12..1e12_f64, prop::sample::select(&UNITS[..]), any::<bool>());
    attack("numbers with units", 2000, numbers, |(number, (kind, unit, factor), has_space)| {
        let text = format!("{number}{}{unit}", if has_space { " " } else { "" });
        let read = match kind {
            "mass" => read_mass_kg(&text),
            "bait" => read_bait_kg(&text),
            _ => read_duration_s(&text),
        };
        let si = read.unwrap_or_else(|why| panic!("{text}: {why}"));
        assert!((si - number * factor).abs() <= 1e-12 * si.abs(), "{text} is {si}");
    });
}

/// A key that takes numbers, with its range [SI].
fn numeric_keys() -> Vec<(FormatKey, f64, f64)> {
    let range = |key: FormatKey| match key.values() {
        FormatValues::Numbers { low, high, .. } => Some((key, low, high)),
        _ => None,
    };
    format_keys().filter_map(range).collect()
}

/// A full name for a key.
fn dotted(key: FormatKey) -> String {
    key.pattern().replace('*', "a").replace('#', "1")
}

#[test]
fn what_a_key_writes_it_reads_back() {
    let keys = numeric_keys();
    assert!(keys.len() > 100, "{} keys", keys.len());
    attack(
        "values written and read back",
        4000,
        (0..keys.len(), 0.0..=1.0_f64),
        |(index, share)| {
            let (key, low, high) = keys[index];
            let si = low + share * (high - low);
            let text = key.written(si);
            let (read, _) = si_value(&dotted(key), &text).unwrap_or_else(|| panic!("{text}"));
            // Whole numbers are rounded, others have nine digits.
            let most = if text.contains(['"', '.', 'e']) {
                1e-8 * (high - low).abs().max(si.abs())
            } else {
                0.5
            };
            assert!((read - si).abs() <= most, "{}: {si} became {read} by {text}", key.pattern());
        },
    );
}

#[test]
fn ranges_to_vary_go_upwards_from_end_to_end() {
    let keys = numeric_keys();
    let inputs = (0..keys.len(), 0.0..=1.0_f64, 0.0..=1.0_f64, 0..1200_usize, any::<bool>());
    attack("ranges of --vary", 400, inputs, |(index, from, to, count, is_log)| {
        let (key, low, high) = keys[index];
        let end = |share: f64| key.written(low + share * (high - low));
        let log = if is_log { " log" } else { "" };
        let vary = format!("{}={}..{}", dotted(key), end(from), end(to));
        let number = |text: &str| si_value(&dotted(key), text).map_or(f64::NAN, |(si, _)| si);
        let (first, last) = (number(&end(from)), number(&end(to)));
        let slack = 1e-6 * ((high - low).abs() + last.abs());
        let is_inside = |si: f64| first - slack <= si && si <= last + slack;
        match vary_values(&format!("{vary}/{count}{log}")) {
            Ok((named, values)) => {
                assert_eq!(named, dotted(key));
                assert!((1..=count).contains(&values.len()) && count <= 1000, "{values:?}");
                let si: Vec<f64> = values.iter().map(|value| number(value)).collect();
                assert!(si.is_sorted() && si.iter().all(|si| is_inside(*si)), "{vary}: {values:?}");
                let (begin, end) = (si[0], si[si.len() - 1]);
                assert!((begin - first).abs() <= slack && (end - last).abs() <= slack, "{vary}");
            }
            Err(faults) => {
                check_message(&faults.list()[0].to_string());
                let is_sound =
                    (2..=1000).contains(&count) && last - first > slack && (first > 0.0 || !is_log);
                assert!(!is_sound, "{vary}/{count}{log}: {faults}");
            }
        }
        if let Ok(range) = vary_range(&format!("{vary}{log}")) {
            for share in [0.0, 0.3, 1.0] {
                let value = range.value_at(share);
                assert!(is_inside(number(&value)), "{vary}: {value}");
            }
        }
    });
}

/// Pieces of `--vary`, right and wrong.
const VARY_PIECES: [&str; 26] = [
    "plan.a.recast",
    "shoal.a.count",
    "water.wind",
    ".low",
    ".cv",
    "=",
    "..",
    "/",
    ",",
    "1",
    "9",
    " min",
    " log",
    "\"",
    "'",
    "{",
    "}",
    "low",
    "-",
    "1e9",
    "nan",
    "km/h",
    "[",
    "\u{202e}",
    "\u{1b}",
    "line",
];

#[test]
fn texts_to_vary_are_lists_or_refused() {
    attack("texts of --vary", 4000, (pieces(&VARY_PIECES, 12), any::<String>()), |(near, any)| {
        for text in [near.clone(), format!("plan.a.recast={near}"), any] {
            match vary_values(&text) {
                Ok((_, values)) => assert!((1..=1000).contains(&values.len()), "{values:?}"),
                Err(faults) => {
                    faults.list().iter().for_each(|fault| check_message(&fault.to_string()))
                }
            }
            if let Ok(range) = vary_range(&text) {
                let _ = range.value_at(0.5);
            }
        }
    });
}

/// Cells of a catch log, right and wrong.
const CELLS: [&str; 43] = [
    "sunday",
    "monday",
    "",
    "9:00",
    "9:00:30",
    "9:07:00",
    "9:10",
    "23:59:59",
    "0:05",
    "25:10",
    "9.30",
    "24:00:61",
    "bar",
    "open",
    "2026-06-07",
    "2026-13-40",
    "yes",
    "no",
    "maybe",
    "3 lb 4 oz",
    "1.5 kg",
    "-1 kg",
    "1e999 kg",
    "mirror carp",
    "corn",
    "25 g",
    "1 pint",
    "snag",
    "robbed, twice",
    "\"moved",
    "\"a\"\"b\"",
    "=1+1",
    "\u{202e}",
    "\u{0}",
    "\u{1b}[2J",
    "x\r",
    "'",
    ";",
    ",",
    "1 kg\n",
    "0.2 kg",
    "5 lb",
    "Strong",
];

#[test]
fn catch_logs_are_read_back_or_refused_with_a_line() {
    attack("catch logs", 2000, tape(300), |mut tape| {
        let (mut text, mut from) = (String::new(), 0);
        let heads = "session,date,cast_at,line,recast_at,bite_at,landed,weight,species,bait,feeder,loose_feed,note";
        let is_plausible = !tape.is_hit(4);
        let states_end_tackle = tape.is_hit(3);
        let columns = if states_end_tackle { 15 } else { 13 };
        if is_plausible || tape.is_hit(2) {
            text.push_str(heads);
            text.push_str(if states_end_tackle { ",line_strength,hook\n" } else { "\n" });
        }
        for _ in 0..tape.below(12) {
            from += 1 + tape.below(20);
            let (at, until) = (format!("9:{:02}", from % 60), format!("9:{:02}", (from + 1) % 60));
            let mut row = [""; 15];
            row[..5].copy_from_slice(&["sunday", "", &at, "bar", &until]);
            for _ in 0..if is_plausible { tape.below(3) } else { 9 } {
                row[tape.below(columns)] = *tape.pick(&CELLS);
            }
            text.push_str(&row[..columns].join(if tape.is_hit(40) { ";" } else { "," }));
            text.push('\n');
        }
        match read_catch_log(&text, "pond", "pond.csv") {
            Ok(log) => {
                let written = catch_log_text(&log.sessions);
                let again = read_catch_log(&written, "pond", "pond.csv");
                let again = again.unwrap_or_else(|faults| panic!("{faults}\n{text}\n{written}"));
                assert_eq!(catch_log_text(&again.sessions), written, "{text}");
            }
            Err(faults) => {
                for fault in faults.list() {
                    check_message(&fault.to_string());
                    let is_empty =
                        ["there is no cast in it", "is empty"].contains(&fault.problem.as_str());
                    assert!(fault.location.line().is_some() || is_empty, "without a line: {fault}");
                }
            }
        }
    });
}

/// Pieces of a table of weigh-ins, right and wrong.
const WEIGH_IN_PIECES: [&str; 22] = [
    "weight",
    "Weight ",
    "name",
    ",",
    ";",
    "\n",
    "\n",
    "\n",
    "\r\n",
    "12 kg\n",
    "9 lb 4 oz\n",
    "8 kg\n",
    "7 kg\n",
    "0 kg\n",
    "-1 kg",
    "1e400 kg",
    "\"",
    "\"7 kg\"\n",
    "\u{feff}",
    "\u{202e}",
    "\u{0}",
    "12",
];

#[test]
fn weigh_ins_are_weights_or_refused() {
    const WATER: &str = "line.bar.distance = \"28 m\"\nplan.a.recast = \"2 min\"\nsection.weigh_ins = \"rivals.csv\"\n";
    attack(
        "weigh-ins",
        2000,
        (any::<bool>(), pieces(&WEIGH_IN_PIECES, 30)),
        |(has_head, table)| {
            let table = if has_head { format!("weight\n{table}") } else { table };
            let source = ScenarioSource::from_stored(
                WATER.to_owned(),
                "pond".to_owned(),
                Some(table.clone()),
            );
            match source.read(&[]) {
                Ok(scenario) => {
                    assert_eq!(scenario.written.weigh_ins, Some(("rivals.csv".to_owned(), table)))
                }
                Err(faults) => {
                    for fault in faults.list() {
                        check_message(&fault.to_string());
                        assert_eq!(fault.location.line(), Some(3), "{fault}");
                    }
                }
            }
        },
    );
}

#[test]
fn bytes_that_are_no_text_are_refused_with_a_line() {
    let inputs = prop::collection::vec(any::<u8>(), 0..400);
    attack("bytes of a scenario", 2000, inputs, |bytes| {
        match ScenarioSource::from_input(&bytes[..]) {
            Ok(source) => assert!(source.text.as_bytes() == bytes && source.read(&[]).is_err()),
            Err(faults) => {
                check_message(&faults.list()[0].to_string());
                assert!(faults.list()[0].location.line().is_some(), "{faults}");
            }
        }
    });
}
