//! What to keep in mind when reading a log.

use crate::report::format::counted;
use crate::study::LearnResult;

/// Reasons to be careful with this log.
pub(super) fn cautions(result: &LearnResult) -> Vec<String> {
    let totals = &result.totals;
    let mut cautions = Vec::new();
    if totals.sessions == 1 {
        cautions.push(
            "All casts are from one session. Another day may differ, and no range here includes that.".to_owned(),
        );
    } else if result.recast.iter().any(|advice| !advice.has_enough_sessions) && totals.sessions < 5
    {
        let more = 5 - totals.sessions;
        cautions.push(format!(
            "{} are few: how days differ is known only roughly, and the ranges of the recast interval are rough. {more} \
             more would do.",
            counted(totals.sessions, "session")
        ));
    }
    if result.all.bites == result.all.casts && totals.casts > 1 {
        cautions.push(
            "Every cast has a bite. If casts without one were left out, every wait here is too short: write them down \
             too."
            .to_owned(),
        );
    }
    if totals.time_unit_s > 1.0 {
        cautions.push("Times are whole minutes, so waits are known to a minute only.".to_owned());
    }
    if totals.still_out > 0 {
        cautions.push(format!(
            "{} had not ended when the log did, and is left out.",
            counted(totals.still_out, "cast")
        ));
    }
    cautions.push(
        "Waits are taken as if you recast by the clock. If you recast when you felt that nothing was there, the later \
         waits look better than they are."
            .to_owned(),
    );
    cautions
}
