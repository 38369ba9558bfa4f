//! The numbers by which a log is compared with simulated ones.

use sim::catch_log::CatchLog;
use sim::scenario::{Scenario, read};
use sim::study::SummaryFrame;

use super::samples::sound;

fn water() -> Scenario {
    let text =
        "line.bar.distance = \"20 m\"\nline.deep.distance = \"26 m\"\nplan.a.line = \"bar\"\n";
    read(text, "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A session of casts: line, bait, minutes waited, and the weight of the fish if one bit.
fn log_of(casts: &[(&str, &str, u32, Option<f64>)]) -> CatchLog {
    let mut text = String::from("session,cast_at,line,recast_at,bite_at,landed,weight,bait\n");
    let mut at = 0;
    for (line, bait, minutes, kg) in casts {
        let clock = |minute: u32| format!("{}:{:02}", minute / 60, minute % 60);
        let (cast, end) = (clock(at), clock(at + minutes));
        text.push_str(&match kg {
            Some(kg) => format!("a,{cast},{line},,{end},yes,{kg} kg,{bait}\n"),
            None => format!("a,{cast},{line},{end},,,,{bait}\n"),
        });
        at += minutes + 1;
    }
    sound(&text)
}

fn summarised(log: &CatchLog) -> Vec<(String, f64)> {
    let frame = SummaryFrame::new(&water(), &log.sessions, &[0.0]);
    let values = frame.summaries(&log.sessions);
    let names = frame.names();
    assert_eq!(names.len(), values.len(), "{names:?}");
    let readable = values.iter().enumerate().map(|(place, value)| frame.readable(place, *value));
    names.into_iter().zip(readable).collect()
}

fn value(summaries: &[(String, f64)], name: &str) -> f64 {
    let found = summaries.iter().find(|(known, _)| known == name);
    found.unwrap_or_else(|| panic!("no {name} in {summaries:?}")).1
}

#[test]
fn hookbaits_of_the_same_line_are_compared_each_by_itself() {
    // Corn: 4 bites in 40 min, fish of 2 kg; worm: 8 in 40 min, of half a kilogram.
    let mut casts = Vec::new();
    for number in 0..8 {
        casts.push(("bar", "corn", 5, (number % 2 == 0).then_some(2.0)));
        casts.push(("bar", "worm", 5, Some(0.5)));
    }
    let summaries = summarised(&log_of(&casts));
    let corn = value(&summaries, "bites an hour of waiting at bar with corn");
    let worm = value(&summaries, "bites an hour of waiting at bar with worm");
    // Half a bite at the usual rate of the log is added to each.
    let usual = 12.5 / (80.0 / 60.0);
    let expected = |bites: f64| (bites + 0.5) / (40.0 / 60.0 + 0.5 / usual);
    assert!((corn - expected(4.0)).abs() < 1e-9 && (worm - expected(8.0)).abs() < 1e-9);
    let corn_kg = value(&summaries, "typical weight of a fish at bar with corn in kg");
    let worm_kg = value(&summaries, "typical weight of a fish at bar with worm in kg");
    // One fish of the usual weight, the geometric mean, is added to each.
    let usual_ln_kg = (4.0 * 2.0_f64.ln() + 8.0 * 0.5_f64.ln()) / 12.0;
    let expected_kg = |fish: f64, kg: f64| ((fish * kg.ln() + usual_ln_kg) / (fish + 1.0)).exp();
    assert!((corn_kg - expected_kg(4.0, 2.0)).abs() < 1e-9, "{corn_kg}");
    assert!((worm_kg - expected_kg(8.0, 0.5)).abs() < 1e-9, "{worm_kg}");
}

#[test]
fn a_bait_that_goes_with_its_line_or_is_a_mix_says_nothing_more() {
    let each_its_line: Vec<_> = (0..12)
        .map(|at| if at % 2 == 0 { ("bar", "corn", 5, None) } else { ("deep", "worm", 5, None) })
        .collect();
    // What is on the feeder is not what simulated logs write down.
    let mixes: Vec<_> =
        (0..12).map(|at| ("bar", ["groundbait", "micro-pellets"][at % 2], 5, None)).collect();
    for casts in [each_its_line, mixes] {
        let summaries = summarised(&log_of(&casts));
        assert!(summaries.iter().all(|(name, _)| !name.contains(" with ")), "{summaries:?}");
    }
}
