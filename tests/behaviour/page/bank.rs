//! The bank log of the page: entries that were tapped make a catch log, and nothing is stored.

use super::server::{PageServer, query};

fn answer(served: &PageServer, entries: &[&str]) -> super::server::Answer {
    let pairs = [("session", "sunday"), ("date", "2026-06-07")];
    served.post(&format!("/api/bank?{}", query(&pairs)), &entries.join("\n"))
}

#[test]
fn entries_make_the_log_that_the_command_would_write() {
    let served = PageServer::pond();
    let before = served.files();
    let empty = answer(&served, &[]).json();
    assert_eq!(empty["is_bait_out"], false);
    let entries = ["32400 l far-bank", "32400 h corn", "32400 c", "32520 b", "32560 y 3 lb 4 oz"];
    let out = answer(&served, &entries[..3]).json();
    assert_eq!((&out["is_bait_out"], &out["awaits_end"]), (&true.into(), &false.into()));
    let bitten = answer(&served, &entries[..4]).json();
    assert_eq!((&bitten["is_bait_out"], &bitten["awaits_end"]), (&false.into(), &true.into()));
    let landed = answer(&served, &entries).json();
    assert_eq!(landed["awaits_end"], false);
    let row = "sunday,2026-06-07,9:00:00,far-bank,,9:02:00,yes,3 lb 4 oz,,corn,,,\n";
    assert!(landed["text"].as_str().is_some_and(|text| text.ends_with(row)), "{landed}");
    assert_eq!(landed["next"]["line"], "far-bank");
    assert_eq!(landed["said"].as_array().map(Vec::len), Some(entries.len()));
    assert_eq!(before, served.files(), "nothing is written");
}

#[test]
fn an_entry_that_cannot_be_recorded_is_refused_in_words() {
    let served = PageServer::pond();
    for (entries, words) in [
        (&["32400 c"][..], "write first where you cast to"),
        (&["32400 l bank", "32400 b"], "no bait is out"),
        (&["32400 u"], "no entry with its time"),
        (&["9:00 c"], "no entry with its time"),
        (&["999999 c"], "no entry with its time"),
        (&["NaN c"], "no entry with its time"),
        (&["32400 l bank", "32400 f a lot"], "a lot"),
        (&["32400 l bank", "32400 c", "32000 c"], "fault"),
    ] {
        let refused = answer(&served, entries);
        assert_eq!(refused.status / 100, 4, "{entries:?}: {}", refused.body);
        assert!(refused.body.contains(words), "{words} in {}", refused.body);
    }
}

#[test]
fn the_log_of_a_long_day_is_taken_and_an_endless_one_refused() {
    let served = PageServer::pond();
    // A cast every two minutes for twelve hours, each with a fish.
    let day: Vec<String> = std::iter::once("21600 l far-bank".to_owned())
        .chain((0..360).flat_map(|cast| {
            let at = 21_600 + 120 * cast;
            [format!("{at} c"), format!("{} b", at + 60), format!("{} y 3 lb 4 oz", at + 90)]
        }))
        .collect();
    let day: Vec<&str> = day.iter().map(String::as_str).collect();
    let taken = answer(&served, &day);
    assert_eq!(taken.status, 200, "{}", taken.body);
    assert_eq!(taken.json()["text"].as_str().map(|text| text.lines().count()), Some(361));
    let refused = answer(&served, &vec!["21600 l far-bank"; 2001]);
    assert_eq!(refused.status / 100, 4, "{}", refused.body);
    assert!(refused.body.contains("begin a new one"), "{}", refused.body);
    let refused = answer(&served, &vec!["21600 l far-bank"; 40_000]);
    assert!(refused.status == 413 && refused.body.contains("too long"), "{}", refused.body);
}
