//! What to try next, in a table and sentences.

use crate::report::format::{
    align_columns, counted, duration, empty_table, fine_percent, one_line, percent, trimmed_lines,
    weight,
};
use crate::scenario::Units;
use crate::study::{NextResult, PracticeKind, PracticeWorth};

/// Largest number of practices that are listed.
const MAX_LISTED: usize = 8;

/// What to try next, on lines of `width` characters at most.
pub fn next_text(result: &NextResult, units: Units, width: usize) -> String {
    let fill = |text: &str| textwrap::fill(text, width);
    [
        format!("What to try next, in {}:", duration(result.practice_s)),
        fill(&doubt(result, units)),
        table(result, width),
        fill(&advice(result)),
    ]
    .join("\n\n")
        + "\n"
}

fn doubt(result: &NextResult, units: Units) -> String {
    format!(
        "On {} that are still possible {} is ahead of {} by {} on average, and its lead differs between them by {} \
         (standard deviation). The chance that it is the worse plan on yours is {}.",
        counted(result.waters, "water"),
        one_line(&result.favourite),
        one_line(&result.rival),
        weight(result.lead_kg, units),
        weight(result.lead_sd_kg, units),
        fine_percent(result.worse_chance),
    )
}

fn table(result: &NextResult, width: usize) -> String {
    let mut table = empty_table(&[
        "practice",
        "recast",
        "settles of the doubt",
        "chance of the worse plan after",
    ]);
    table.set_width(width as u16);
    let listed = result.practices.iter().enumerate();
    for (_, worth) in listed.filter(|(place, worth)| *place < MAX_LISTED || worth.is_favourite) {
        table.add_row([
            name(result, worth),
            interval(worth),
            format!("{} ± {}", percent(worth.settled_share), percent(worth.settled_se)),
            fine_percent(worth.worse_chance),
        ]);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

fn name(result: &NextResult, worth: &PracticeWorth) -> String {
    let (favourite, rival) = (one_line(&result.favourite), one_line(&result.rival));
    match worth.practice.kind {
        PracticeKind::Favourite => return format!("plan {favourite}"),
        PracticeKind::BothPlans => return format!("plan {favourite}, then {rival}"),
        PracticeKind::Lines => {}
    }
    let lines: Vec<String> = worth.practice.lines.iter().map(|line| one_line(line)).collect();
    lines.join(", then ")
}

/// Its recast interval; plans have their own.
fn interval(worth: &PracticeWorth) -> String {
    match worth.practice.kind {
        PracticeKind::Lines => duration(worth.practice.recast_s),
        PracticeKind::Favourite | PracticeKind::BothPlans => "as planned".to_owned(),
    }
}

fn advice(result: &NextResult) -> String {
    let Some(best) = result.practices.first() else { return String::new() };
    if best.settled_share <= 2.0 * best.settled_se || result.lead_sd_kg <= 0.0 {
        return "No practice of this length would settle anything that can be seen: fish the favourite.".to_owned();
    }
    let others = result.practices.iter().filter(|worth| worth.is_among_best).count() - 1;
    let also = if others > 0 {
        format!(" {} may teach as much.", counted(others as u64, "other practice"))
    } else {
        String::new()
    };
    let how = match best.practice.kind {
        PracticeKind::Lines => {
            format!("at {} with a recast after {}", name(result, best), interval(best))
        }
        PracticeKind::BothPlans => format!("by {}, half of the time each", name(result, best)),
        PracticeKind::Favourite => format!("by {}", name(result, best)),
    };
    format!("Most is learnt {how}; log every cast.{also}")
}
