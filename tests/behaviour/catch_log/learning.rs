//! What `learn` says, and what it refuses to say.

use std::fs;

use sim::report::{expected_bites_svg, learn_text, recast_rate_svg, waits_svg};
use sim::scenario::Units;
use sim::stats::WeibullModel;
use sim::study::{
    GroupBy, LearnResult, LearnSpec, MIN_BITES, MIN_BITES_FOR_RECAST, RecastOutcome, learn,
};

use super::samples::{sound, synthetic, without_unbitten};
use crate::command_line::{ProgramFolder, json};
use crate::report::check_layout;

const FALLING: WeibullModel = WeibullModel { never_share: 0.0, shape: 0.7, scale: 8.0 };
const CONSTANT: WeibullModel = WeibullModel { never_share: 0.0, shape: 1.0, scale: 8.0 };

pub(super) fn spec() -> LearnSpec {
    LearnSpec { seed: 1, by: vec![GroupBy::Line, GroupBy::Bait], recast_time_s: None }
}

fn learnt(text: &str) -> LearnResult {
    learn(&sound(text), &spec())
}

/// The text on one line, with plain spaces.
pub(super) fn words(result: &LearnResult) -> String {
    let text = learn_text(result, Units::Metric, 100).replace('\u{a0}', " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_log_with_early_bites_says_when_to_recast() {
    // Optimum in closed form: 1.945 min at 45 s a recast, within 2 % of it from 1.0 to 3.4 min.
    let result = learnt(&synthetic(&FALLING, 10.0, 20, 60, 3));
    let advice = &result.recast[0];
    assert_eq!(advice.outcome, RecastOutcome::RecastAfter);
    assert_eq!(result.recast_time.recast_s, Some(45.0));
    assert!((result.recast_time.bite_s - 180.0).abs() <= 1.0, "{:?}", result.recast_time);
    let (low_s, high_s) =
        (advice.best_low95_s.expect("sessions"), advice.best_high95_s.expect("sessions"));
    assert!(low_s <= 1.945 * 60.0 && 1.945 * 60.0 <= high_s, "{low_s} to {high_s}");
    assert!(high_s < 600.0 && advice.has_enough_sessions, "{advice:?}");
    let text = words(&result);
    assert!(text.contains("all casts: recast after") && text.contains("95 % sure"), "{text}");
    assert!(text.contains("it takes 45 s (the median of"), "{text}");
}

#[test]
fn a_log_without_a_reason_to_recast_early_says_so() {
    for shape in [1.0, 1.5] {
        let model = WeibullModel { shape, ..CONSTANT };
        let result = learnt(&synthetic(&model, 12.0, 20, 60, 4));
        let advice = &result.recast[0];
        assert_eq!(advice.outcome, RecastOutcome::WaitOut, "{advice:?}");
        assert!((advice.known_until_s - 720.0).abs() < 1e-9);
        let text = words(&result);
        assert!(text.contains("no gain in recasting early. A wait of 12 min"), "{text}");
        assert!(text.contains("What a longer wait would give, the log cannot say."), "{text}");
    }
}

#[test]
fn leaving_out_the_unbitten_casts_reverses_the_answer() {
    let text = synthetic(&FALLING, 5.0, 10, 60, 5);
    let all = learnt(&text);
    assert_eq!(all.recast[0].outcome, RecastOutcome::RecastAfter, "{:?}", all.recast[0]);
    assert!(all.recast[0].best_s.expect("an interval") < 240.0);
    let spec = LearnSpec { recast_time_s: Some(45.0), ..spec() };
    let bitten = learn(&sound(&without_unbitten(&text)), &spec);
    assert_eq!(bitten.recast[0].outcome, RecastOutcome::WaitOut, "{:?}", bitten.recast[0]);
    assert!(words(&bitten).contains("Every cast has a bite"), "{}", words(&bitten));
    let shapes = [&all, &bitten].map(|result| result.all.weibull.as_ref().expect("bites").shape);
    assert!(shapes[0] < 0.85 && shapes[1] > 0.9, "{shapes:?}");
}

#[test]
fn too_few_bites_are_counted_and_nothing_is_made_of_them() {
    let text = synthetic(&CONSTANT, 2.0, 1, 20, 6);
    let result = learnt(&text);
    let bites = result.totals.bites;
    assert!(bites > 0 && bites < MIN_BITES, "{bites} bites");
    assert_eq!((result.all.rate, result.all.median_s, &result.all.weibull), (None, None, &None));
    assert_eq!(result.all.more_bites_needed, MIN_BITES - bites);
    let advice = &result.recast[0];
    assert_eq!((advice.outcome, advice.best_s), (RecastOutcome::TooFewBites, None));
    assert_eq!(recast_rate_svg(&result), None);
    let text = words(&result);
    for part in [
        format!("too few bites for either figure; {} more would do", MIN_BITES - bites),
        format!("too few to say when to recast; {} more would do", MIN_BITES_FOR_RECAST - bites),
        "All casts are from one session".to_owned(),
        "too few bites to say whether they fall off".to_owned(),
    ] {
        assert!(text.contains(&part), "{part:?} is missing:\n{text}");
    }
    // Without any bite there is still an answer.
    let blank = learnt("session,cast_at,line,recast_at,bite_at\na,0:00:00,bar,0:05:00,\n");
    assert!(words(&blank).contains("1 session, 1 cast, 0 bites"), "{}", words(&blank));
    check_layout("blank waits", &waits_svg(&blank));
    check_layout("blank hazard", &expected_bites_svg(&blank));
}

#[test]
fn nothing_is_said_beyond_the_longest_waits() {
    // One cast of two hours among many of three minutes says next to nothing of long waits.
    let mut text = synthetic(&CONSTANT, 3.0, 6, 40, 7);
    text.push_str("late,0:00:00,bar,2:00:00,\n");
    let result = learnt(&text);
    assert_eq!((result.all.known_until_s, result.all.longest_wait_s), (180.0, 7200.0));
    let advice = &result.recast[0];
    assert!((advice.known_until_s - 180.0).abs() < 1e-9);
    assert!(advice.curve.iter().all(|point| point.recast_s <= 180.0));
    let text = words(&result);
    assert!(text.contains("longer than 3 min, and none longer than 2 h"), "{text}");
    assert_eq!(result.all.median_s, None, "half are not bitten within three minutes");
    assert!(text.contains("over 3 min"), "{text}");
}

#[test]
fn groups_are_compared_and_their_casts_add_up() {
    let fast = synthetic(&WeibullModel { scale: 2.0, ..CONSTANT }, 8.0, 6, 30, 8);
    let slow = synthetic(&CONSTANT, 8.0, 6, 30, 9);
    // The second line is fished on the same days, later.
    let later = slow.lines().skip(1).map(|line| line.replace("bar,", "open,"));
    let shifted = later.map(|line| {
        let mut fields: Vec<String> = line.split(',').map(str::to_owned).collect();
        for field in [1, 3, 4] {
            if let Some((hours, rest)) = fields[field].clone().split_once(':') {
                let hours: u32 = hours.parse().expect("hours");
                fields[field] = format!("{}:{rest}", hours + 10);
            }
        }
        format!("{}\n", fields.join(","))
    });
    let text = fast.clone() + &shifted.collect::<String>();
    let result = learnt(&text);
    let names: Vec<_> = result.groups.iter().map(|group| group.name.as_str()).collect();
    assert_eq!(names, ["bar", "open"]);
    assert_eq!(result.groups.iter().map(|group| group.bites).sum::<u64>(), result.all.bites);
    let difference = result.difference.expect("two groups");
    assert!(
        difference.p_value < 0.01
            && difference.p_value_within_sessions.expect("the same days") < 0.01
    );
    assert_eq!(result.recast.len(), 3);
    for (what, svg) in [
        ("waits", waits_svg(&result)),
        ("expected bites", expected_bites_svg(&result)),
        ("recast rate", recast_rate_svg(&result).expect("enough bites")),
    ] {
        check_layout(what, &svg);
    }
    // On days of their own, the days may be what differs.
    let apart = text.lines().map(|line| {
        if line.contains(",open,") { format!("late-{line}\n") } else { format!("{line}\n") }
    });
    let result = learnt(&apart.collect::<String>());
    assert_eq!(result.difference.expect("two groups").p_value_within_sessions, None);
    assert!(words(&result).contains("this may be a difference between days"));
}

#[test]
fn learn_writes_pictures_and_figures_and_prints_them() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("pond.csv"), synthetic(&FALLING, 6.0, 6, 40, 10)).expect("a log");
    let output = folder.run_ok(&["learn", "pond.csv"]);
    assert!(output.out.contains("When to recast:"), "{}", output.out);
    let files = "Files in output/pond-learn: waits.svg, waits.png, expected-bites.svg, expected-bites.png, \
                 recast-rate.svg, recast-rate.png, learn.json, again.sh, stamp.json";
    assert!(output.out.contains(files), "{}", output.out);
    let document = folder.run_ok(&["learn", "pond.csv", "--json", "--quiet"]).out;
    assert_eq!(
        document,
        fs::read_to_string(folder.path("output/pond-learn/learn.json")).expect("there")
    );
    let result = json(&document);
    assert_eq!(result["format"], "shoalwise/learn/1");
    assert_eq!(result["stamp"]["scenario"], "pond");
    assert_eq!(result["recast"][0]["outcome"], "recast-after");
    assert_eq!(result["totals"]["casts"], 240);
    // Another grouping is another run, and goes to a folder of its own.
    folder.run_ok(&["learn", "pond.csv", "--by", "bait", "--recast-time", "30 s"]);
    assert!(folder.path("output/pond-learn-2/learn.json").exists());
}

#[test]
fn faults_and_wrong_usage_write_nothing() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("bad.csv"), "session,cast_at,line,recast_at,bite_at\na,9.00,,,\n")
        .expect("a log");
    for (args, part) in [
        (&["learn", "bad.csv"][..], "bad.csv:2: cast_at"),
        (&["learn", "none.csv"], "none.csv: there is no such file"),
        (&["learn"], "LOG"),
        (&["learn", "bad.csv", "--recast-time", "45"], "has no unit"),
        (&["learn", "bad.csv", "--by", "moon"], "line, bait, feeder"),
        (&["learn", "bad.csv", "--template"], "exists already"),
        (&["log", "bad.csv"], "bad.csv:2: cast_at"),
    ] {
        let output = folder.run(args);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{args:?}: {}", output.err);
        assert!(output.err.contains(part), "{args:?} should say {part}: {}", output.err);
    }
    assert!(!folder.path("output").exists());
}

#[test]
fn a_template_is_written_and_its_columns_are_explained() {
    let folder = ProgramFolder::new();
    let output = folder.run_ok(&["learn", "--template"]);
    assert!(output.out.starts_with("session,date,cast_at,"), "{}", output.out);
    assert!(output.err.contains("bite_at       when the bite came"), "{}", output.err);
    folder.run_ok(&["learn", "my.csv", "--template"]);
    assert_eq!(fs::read_to_string(folder.path("my.csv")).expect("a log"), output.out);
}

#[test]
fn a_log_that_does_not_say_which_fish_were_landed_is_not_taken_to_say_none() {
    // `synthetic` has no column `landed`.
    let result = learnt(&synthetic(&CONSTANT, 10.0, 3, 40, 7));
    assert!(result.totals.bites > 0);
    assert_eq!((result.totals.landed, result.session.landed_per_hour), (None, None));
    assert_eq!(result.totals.landed_unknown, result.totals.bites);
    let text = words(&result);
    assert!(text.contains("which were landed is not written"), "{text}");
    assert!(!text.contains("0 landed") && !text.contains("fish were landed"), "{text}");
    let some = "session,cast_at,line,recast_at,bite_at,landed\n\
        a,0:00,bar,,0:02,yes\na,0:03,bar,,0:05,\na,0:06,bar,,0:08,no\na,0:09,bar,0:15,,\n";
    let result = learnt(some);
    assert_eq!((result.totals.landed, result.totals.landed_unknown), (Some(1), 1));
    assert!(words(&result).contains("1 landed (1 not written)"), "{}", words(&result));
    // Without a bite there is nothing to be landed.
    let result =
        learnt("session,cast_at,line,recast_at,bite_at\na,0:00,bar,0:05,\na,0:06,bar,0:15,\n");
    assert_eq!(result.totals.landed, Some(0));
}
