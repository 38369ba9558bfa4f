//! When to recast, in words.

use crate::report::format::{counted, duration, number, one_line, percent};
use crate::study::{LearnResult, MIN_BITES_FOR_RECAST, RecastAdvice, RecastOutcome, RecastTime};

/// A sentence on the time of a recast, and what follows for all casts and for each group.
pub(super) fn recast_sentences(result: &LearnResult) -> Vec<String> {
    let is_silent = |advice: &&RecastAdvice| advice.outcome == RecastOutcome::NoRecastTime;
    let mut sentences = vec![recast_time(&result.recast_time)];
    sentences.extend(result.recast.iter().filter(|advice| !is_silent(advice)).map(advice_sentence));
    sentences
}

fn recast_time(time: &RecastTime) -> String {
    let Some(recast_s) = time.recast_s else {
        return "The log does not show how long a recast takes, because casts begin the moment the one before ended: give \
                it, as in --recast-time \"45\u{a0}s\"."
            .to_owned();
    };
    let source = if time.is_given {
        "as given".to_owned()
    } else {
        format!("the median of {} without a bite", counted(time.recasts, "recast"))
    };
    let bite = if time.bites > 0 && time.bite_s > 0.0 {
        format!(" A bite takes {} more (median of {}).", duration(time.bite_s), time.bites)
    } else {
        String::new()
    };
    format!(
        "From winding in to the next bait in the water it takes {} ({source}).{bite}",
        duration(recast_s)
    )
}

fn advice_sentence(advice: &RecastAdvice) -> String {
    let name = one_line(&advice.name);
    match advice.outcome {
        RecastOutcome::TooFewBites | RecastOutcome::NoRecastTime => format!(
            "{name}: {} are too few to say when to recast; {} more would do.",
            counted(MIN_BITES_FOR_RECAST.saturating_sub(advice.more_bites_needed), "bite"),
            advice.more_bites_needed
        ),
        RecastOutcome::RecastAfter => recast_after(&name, advice),
        RecastOutcome::WaitOut => wait_out(&name, advice),
    }
}

fn recast_after(name: &str, advice: &RecastAdvice) -> String {
    let shown = |s: Option<f64>| s.map_or_else(|| "–".to_owned(), duration);
    let mut text = format!(
        "{name}: recast after {} without a bite; that gives {} bites for each hour of fishing. From {} to {} it is \
         within 2\u{a0}% of that.",
        shown(advice.best_s),
        advice.best_per_hour.map_or_else(|| "–".to_owned(), number),
        shown(advice.near_best_from_s),
        shown(advice.near_best_to_s),
    );
    if let (Some(low_s), Some(high_s)) = (advice.best_low95_s, advice.best_high95_s) {
        let beyond = if high_s >= advice.known_until_s { " or longer" } else { "" };
        text.push_str(&format!(
            " 95\u{a0}% sure: {} to {}{beyond}.",
            duration(low_s),
            duration(high_s)
        ));
    }
    if advice.smooth_best_s.is_some() {
        text.push_str(&format!(
            " A smooth curve through the same casts has its best at {}, and is within 2\u{a0}% of it from {} to {}.",
            shown(advice.smooth_best_s),
            shown(advice.smooth_near_from_s),
            shown(advice.smooth_near_to_s),
        ));
    }
    text
}

fn wait_out(name: &str, advice: &RecastAdvice) -> String {
    let until = duration(advice.known_until_s);
    let share = advice.wait_out_share.map_or_else(String::new, |share| {
        format!(" It comes out so in {} of logs drawn again from these sessions.", percent(share))
    });
    format!(
        "{name}: no gain in recasting early. A wait of {until}, which is as long as the log reaches, gives as many bites \
         for each hour of fishing as any shorter one.{share} What a longer wait would give, the log cannot say."
    )
}
