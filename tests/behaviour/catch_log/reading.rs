//! What a log means, and how its faults are reported.

use std::time::Instant;

use sim::angler::HookSize;
use sim::catch_log::{
    EndKind, LOG_COLUMNS, catch_log_template, catch_log_text, clock_text, load_catch_log,
    read_clock_s,
};
use sim::scenario::Units;
use sim::stats::WeibullModel;

use super::samples::{faults, sound, synthetic};

const HEAD: &str = "session,date,cast_at,line,recast_at,bite_at,landed,weight,species,bait,feeder,loose_feed,note\n";

fn rows(rows: &[&str]) -> String {
    rows.iter().fold(HEAD.to_owned(), |text, row| format!("{text}{row}\n"))
}

#[test]
fn every_column_is_read_into_si_units() {
    let text = rows(&[
        "sunday,2026-06-07,9:00:00,bar,9:06:10,,,,,corn,25 g,1 pint,\"robbed, twice\"",
        "sunday,,9:07,bar,,9:08:30,yes,3 lb 4 oz,mirror carp,corn,25 g,,",
        "sunday,,9:12:00,open,,9:13:00,no,,,pellet,40 g,,snag took it",
        "sunday,,9:15:00,open,9:18:00,,,,,pellet,,,windy",
        "monday,2026-06-08,0:00:10,open,,,,,,,,,",
    ]);
    let log = sound(&text);
    assert_eq!((log.sessions.len(), log.units, log.time_unit_s), (2, Units::Imperial, 1.0));
    let casts = &log.sessions[0].casts;
    assert_eq!(log.sessions[0].date.as_deref(), Some("2026-06-07"));
    let ends: Vec<_> = casts.iter().map(|cast| cast.end.as_ref().expect("ended").kind).collect();
    assert_eq!(ends, [EndKind::Robbed, EndKind::Bite, EndKind::Bite, EndKind::WoundIn]);
    assert_eq!(
        casts.iter().map(|cast| cast.wait_s()).collect::<Vec<_>>(),
        [370.0, 90.0, 60.0, 180.0].map(Some)
    );
    assert_eq!((casts[0].row, casts[0].cast_s, casts[0].feeder_kg), (2, 32_400.0, Some(0.025)));
    assert_eq!((casts[0].loose_feed_kg, casts[3].feeder_kg), (Some(0.35), None));
    let catch = casts[1].end.as_ref().and_then(|end| end.catch.as_ref()).expect("a catch");
    assert_eq!((catch.landed, catch.species.as_str()), (Some(true), "mirror carp"));
    assert!((catch.weight_kg.expect("a weight") - 1.474).abs() < 0.001);
    assert_eq!(log.sessions[1].casts[0].end, None, "the bait is still out");
}

#[test]
fn times_go_on_past_midnight_and_since_the_start() {
    let head = "session,cast_at,line,recast_at,bite_at\n";
    let night = sound(&format!(
        "{head}n,23:50:00,bar,,0:10:30\nn,0:15:00,bar,0:45:00,\nn,2:00:00,bar,2:30:00,\n"
    ));
    let casts = &night.sessions[0].casts;
    assert_eq!(
        casts.iter().map(|cast| cast.wait_s()).collect::<Vec<_>>(),
        [1230.0, 1800.0, 1800.0].map(Some)
    );
    assert!(casts.is_sorted_by(|a, b| a.cast_s < b.cast_s));
    let long = sound(&format!("{head}e,25:10,bar,25:20,\n"));
    assert_eq!(long.sessions[0].casts[0].wait_s(), Some(600.0));
    assert_eq!((long.time_unit_s, night.time_unit_s), (60.0, 1.0));
    for (text, time_s) in [("9:05", 32_700.0), ("09:05:30", 32_730.0), ("0:00:01", 1.0)] {
        assert_eq!(read_clock_s(text), Some(time_s));
    }
    for text in ["", "9", "9.05", "9:5", "9:60", "9:00:60", "-1:00", "100:00", "9:00:00:00", "9h05"]
    {
        assert_eq!(read_clock_s(text), None, "{text}");
    }
    assert_eq!(clock_text(32_730.0), "9:05:30");
}

#[test]
fn sessions_may_alternate_and_columns_be_in_any_order_or_missing() {
    let text = "bite_at;line;recast_at;session;cast_at\n;bar;9:02:00;a;9:00:00\n;bar;9:03;b;9:00\n\n9:04:00;bar;;a;9:03:00\n";
    let log = sound(text);
    let names: Vec<_> = log.sessions.iter().map(|session| session.name.as_str()).collect();
    assert_eq!(names, ["a", "b"]);
    assert_eq!(log.sessions[0].casts.len(), 2);
    // Two rods on two lines may be out at once.
    sound("session,cast_at,line,recast_at,bite_at\na,9:00,left,9:20,\na,9:05,right,9:30,\n");
    // The mark that some programs put before a text is no part of it.
    sound(&format!("\u{feff}{text}"));
}

#[test]
fn every_fault_is_reported_at_once_with_row_column_and_fix() {
    let text = rows(&[
        ",2026-13-07,9:00:00,bar,9:06:10,,,,,,,,",
        "sunday,,9.07,bar,,9:08:30,,,,,,,",
        "sunday,,9:10:00,,9:09:00,,maybe,,,,25,,",
        "sunday,,9:12:00,open,,,,2 stone,,,,,",
        "sunday,,9:13:00,open,,9:14:00,no,3 lb,,,,99 kg,",
        "sunday,,9:15:00,open,9:14:00,9:16:00,,,,,,,",
        "sunday,,9:15:30,open,9:20:00,,yes,,,,,,",
        "sunday,,9:01:00,bar,9:02:00,,,,,,,",
        "sunday,,9:02:00,bar,9:03:00,,,500 kg,,,,,",
    ]);
    let faults = faults(&text);
    let all = faults.join("\n");
    for part in [
        "pond.csv:2: session: is empty; write a name",
        "pond.csv:2: date: \"2026-13-07\" is not a date; write YYYY-MM-DD",
        "pond.csv:3: cast_at: \"9.07\" is not a time; write h:mm:ss",
        "pond.csv:4: line: is empty",
        "pond.csv:4: recast_at: is before cast_at, 9:10:00",
        "pond.csv:4: landed: \"maybe\" is neither yes nor no",
        "pond.csv:4: feeder: \"25\" has no unit",
        "pond.csv:5: weight: \"stone\" is not a unit of mass",
        "pond.csv:5: bite_at: is empty like recast_at, but \"open\" was cast to again in row 6",
        "pond.csv:6: landed: says no, but the fish has a weight",
        "pond.csv:6: loose_feed: \"99 kg\" is not an amount of bait for a cast",
        "pond.csv:7: recast_at: is before cast_at",
        "pond.csv:8: landed: is given, but bite_at is empty",
        "pond.csv:9: the row has 12 fields, and the header has 13",
        "pond.csv:10: cast_at: is before the cast at 9:15:30 in row 8",
        "pond.csv:10: weight: \"500 kg\" is not the weight of a fish",
    ] {
        assert!(all.contains(part), "{part:?} is missing:\n{all}");
    }
    let rows: Vec<usize> =
        faults.iter().filter_map(|fault| fault.split(':').nth(1)?.parse().ok()).collect();
    assert!(rows.is_sorted() && rows.len() == faults.len(), "{all}");
}

#[test]
fn names_with_hidden_characters_are_refused_and_shown() {
    let text = rows(&[
        "sun\u{202e}day,,9:00:00,b\u{1b}[2Jar,9:06:10,,,,,\u{2066}corn,,,a note\u{200f}",
        "sunday,,9:07:00,bar,,9:08:30,yes,3 lb,\u{61c}carp,corn,,,",
    ]);
    let faults = faults(&text);
    for (fault, part) in faults.iter().zip([
        "pond.csv:2: session: \"sun\\u{202e}day\" has hidden characters",
        "pond.csv:2: line: \"b\\u{1b}[2Jar\" has hidden characters",
        "pond.csv:2: bait: \"\\u{2066}corn\" has hidden characters",
        "pond.csv:3: species: \"\\u{61c}carp\" has hidden characters",
    ]) {
        assert!(fault.contains(part), "{part} in {fault}");
    }
    assert_eq!(faults.len(), 4, "{faults:?}");
}

#[test]
fn a_file_that_cannot_be_a_log_is_refused_before_all_of_it_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("large.csv");
    let made = std::fs::File::create(&file).expect("a file");
    // It takes no room on the disk, and would take 8 GB of memory if it were read.
    made.set_len(1 << 33).expect("a hole");
    let faults = load_catch_log(&file).expect_err("no log").to_string();
    assert!(faults.contains("is too large; a catch log has at most 5,000,000 bytes"), "{faults}");
    let long = folder.path().join("x".repeat(300));
    let faults = load_catch_log(&long).expect_err("no log").to_string();
    assert!(faults.contains("the system does not allow this name"), "{faults}");
    assert!(!faults.contains("os error"), "{faults}");
}

#[test]
fn a_header_or_an_empty_log_is_reported_too() {
    let all = faults("session,cast_att,line,line\n").join("\n");
    for part in [
        "pond.csv:1: \"cast_att\" is not a column of a catch log; did you mean `cast_at`?",
        "pond.csv:1: line: there are two columns of this name",
        "pond.csv:1: recast_at: this column is missing; add it: when you wound in",
    ] {
        assert!(all.contains(part), "{part:?} is missing:\n{all}");
    }
    assert!(faults(&catch_log_template())[0].contains("there is no cast in it"));
    assert!(!faults("").is_empty());
    let overlap = "session,cast_at,line,recast_at,bite_at\na,9:00,bar,9:20,\na,9:05,bar,9:30,\n";
    assert!(
        faults(overlap)[0].contains("pond.csv:3: cast_at: is before the cast of row 2"),
        "{:?}",
        faults(overlap)
    );
    let names: Vec<_> = LOG_COLUMNS.iter().map(|column| column.name).collect();
    assert_eq!(catch_log_template(), HEAD, "{names:?}");
}

/// Line and hook stand in columns of their own in logs that have them; the template does not.
#[test]
fn a_log_may_state_line_and_hook() {
    let text = "session,cast_at,line,recast_at,bite_at,line_strength,hook\n\
                a,9:00,bar,9:05,,5 lb,Small\na,9:06,bar,9:10,,,\n";
    let log = sound(text);
    let ends: Vec<_> = log.casts().map(|cast| cast.end_tackle).collect();
    let strength_kg = ends[0].line_strength_kg.expect("it is written down");
    assert!((strength_kg - 2.268).abs() < 1e-3, "{strength_kg}");
    assert_eq!(ends[0].hook, Some(HookSize::Small));
    assert!(!ends[1].is_stated());
    let again = sound(&catch_log_text(&log.sessions));
    assert_eq!(
        again.casts().map(|cast| cast.end_tackle.hook).collect::<Vec<_>>(),
        [ends[0].hook, None]
    );
    let wrong = "session,cast_at,line,recast_at,bite_at,line_strength,hook\n\
                 a,9:00,bar,9:05,,500 lb,tiny\n";
    let faults = faults(wrong).join("\n");
    for part in [
        "pond.csv:2: line_strength: \"500 lb\" is not the strength of a fishing line",
        "pond.csv:2: hook: \"tiny\" is not a size of hook; write small, middling, strong",
    ] {
        assert!(faults.contains(part), "{part:?} is missing:\n{faults}");
    }
}

#[test]
fn five_thousand_casts_are_read_in_well_under_a_second() {
    let model = WeibullModel { never_share: 0.3, shape: 0.9, scale: 4.0 };
    let text = synthetic(&model, 8.0, 50, 100, 1);
    let start = Instant::now();
    let log = sound(&text);
    let took = start.elapsed();
    assert_eq!(log.casts().count(), 5000);
    println!("5,000 casts read in {took:?}");
    // This build is not optimised, and the machine may be busy.
    assert!(took.as_secs_f64() < 1.0, "{took:?}");
}
