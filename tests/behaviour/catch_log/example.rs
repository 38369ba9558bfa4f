//! The example log: what the guide shows of it, and what becomes of it without its unbitten casts.

use std::fs;
use std::path::Path;

use sim::catch_log::{EndKind, load_catch_log};
use sim::report::learn_text;
use sim::study::{LearnSpec, RecastOutcome, learn};

use super::learning::{spec, words};
use super::samples::{sound, without_unbitten};

const LOG: &str = "scenarios/invented-log.csv";
const GUIDE: &str = "scenarios/GUIDE.md";
const OPENS: &str = "<!-- learn -->\n```text\n";
const CLOSES: &str = "```\n<!-- /learn -->";

fn text_of(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

#[test]
fn the_example_has_every_kind_of_cast_and_is_called_invented() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(LOG);
    let log = load_catch_log(&path).expect("a sound log");
    assert_eq!(log.sessions.len(), 2);
    assert!(log.sessions[0].casts[0].note.contains("invented"));
    for kind in [EndKind::Bite, EndKind::Snag, EndKind::Robbed, EndKind::Moved, EndKind::WoundIn] {
        let has = log.casts().any(|cast| cast.end.as_ref().is_some_and(|end| end.kind == kind));
        assert!(has, "no cast ends with {kind:?}");
    }
}

#[test]
fn the_guide_shows_what_learn_says_of_the_example() {
    let log = load_catch_log(&Path::new(env!("CARGO_MANIFEST_DIR")).join(LOG)).expect("sound");
    let printed = learn_text(&learn(&log, &spec()), log.units, 100).replace('\u{a0}', " ");
    let guide = text_of(GUIDE);
    let (before, rest) = guide.split_once(OPENS).expect("the mark before the output");
    let (shown, after) = rest.split_once(CLOSES).expect("the mark after it");
    if std::env::var_os("SHOALWISE_BLESS").is_some() && shown != printed {
        let blessed = format!("{before}{OPENS}{printed}{CLOSES}{after}");
        fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join(GUIDE), blessed).expect("written");
    } else {
        assert!(shown == printed, "{GUIDE} is stale; learn now prints:\n{printed}");
    }
}

#[test]
fn the_guide_shows_how_leaving_out_unbitten_casts_reverses_the_answer() {
    let text = text_of(LOG);
    let all = learn(&sound(&text), &spec());
    assert_eq!(all.recast[0].outcome, RecastOutcome::RecastAfter, "{:?}", all.recast[0]);
    let given = LearnSpec { recast_time_s: all.recast_time.recast_s, ..spec() };
    let bitten = learn(&sound(&without_unbitten(&text)), &given);
    assert_eq!(bitten.recast[0].outcome, RecastOutcome::WaitOut, "{:?}", bitten.recast[0]);
    let guide: String = text_of(GUIDE).split_whitespace().collect::<Vec<_>>().join(" ");
    for result in [&all, &bitten] {
        let words = words(result);
        let start = words.find("- all casts:").expect("advice on all casts") + 2;
        let sentence: String = words[start..].split_inclusive(". ").take(1).collect();
        let sentence = sentence.trim().trim_start_matches("all casts: ");
        assert!(guide.contains(sentence), "the guide does not say {sentence:?}");
    }
}
