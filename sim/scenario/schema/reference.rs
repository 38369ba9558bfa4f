//! The reference of every key, as it stands in the scenarios' README.

use std::fmt::Write;

use super::key::{Key, Kind, LeftOut};
use super::keys::keys;

/// Headings of the reference: the beginnings of the keys below each, and its sentence.
const GROUPS: [(&str, &[&str], &str); 9] = [
    ("The session", &["title", "units", "session.", "keepnet."], ""),
    (
        "What the day is for",
        &["aim.", "section."],
        "Attachments mean weight and the chance of a blank, which are always told.",
    ),
    ("The water", &["water.", "line."], "At least one line is needed."),
    (
        "Baits and hookbaits",
        &["bait.", "hookbait."],
        "Those built in need not be written; a table of the same name changes single values of them.",
    ),
    ("Shoals", &["shoal."], "Without a shoal there are no fish, which is allowed."),
    (
        "Plans",
        &["plan.*.", "plan.*.feed."],
        "At least one plan is needed. What a plan says holds in all its phases; without phases it is \
         one phase over the whole session.",
    ),
    (
        "Phases of a plan",
        &["plan.*.phase."],
        "Everything that a plan chooses can be chosen anew, and `feed.LINE.amount = \"0 g\"` stops a \
         feed.",
    ),
    (
        "Rules of a plan",
        &["plan.*.rule.", "plan.*.target"],
        "A rule fires when all that it asks for holds at once, and then chooses anew what it writes below. Of two \
         rules that hold at once and say otherwise, the first in the file has its way.",
    ),
    (
        "Parameters",
        &["book."],
        "`book.BOOK.ROW = NUMBER` holds one row of a parameter book at a value of your own, in the \
         row's own unit.",
    ),
];

/// Every key of the format as Markdown: how it is written, what it may be, what holds if left out.
#[must_use]
pub fn key_table_markdown() -> String {
    let mut page = String::new();
    for (at, (heading, _, says)) in GROUPS.iter().enumerate() {
        let _ = write!(page, "### {heading}\n\n");
        if !says.is_empty() {
            let _ = write!(page, "{says}\n\n");
        }
        let below: Vec<_> = keys().iter().filter(|key| group_of(key) == at).collect();
        if below.iter().all(|key| key.pattern.starts_with("book.")) {
            let _ = write!(page, "{}\n\n", books(&below));
            continue;
        }
        page.push_str("| key | write | range | left out | what it is |\n|---|---|---|---|---|\n");
        for key in below {
            let _ = writeln!(page, "{}", row(key));
        }
        page.push('\n');
    }
    page.truncate(page.trim_end().len());
    page.push('\n');
    page
}

/// The group with the longest beginning that fits.
fn group_of(key: &Key) -> usize {
    let fit = |beginnings: &[&str]| {
        let fitting = beginnings.iter().filter(|start| key.pattern.starts_with(**start));
        fitting.map(|start| start.len()).max().unwrap_or(0)
    };
    let groups = GROUPS.iter().enumerate();
    groups.max_by_key(|(_, (_, beginnings, _))| fit(beginnings)).map_or(0, |(at, _)| at)
}

fn row(key: &Key) -> String {
    let mut write = match key.kind {
        Kind::Quantity(dimension) => dimension.noun().to_owned(),
        Kind::TimeOr(word) => format!("time, or `\"{word}\"`"),
        Kind::Number | Kind::Whole => "number".to_owned(),
        Kind::Text => "text".to_owned(),
        Kind::Choice(words) => {
            let words: Vec<_> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
            words.join(" or ")
        }
        Kind::NameOf(thing) => format!("name of a {}", thing.table()),
        Kind::Flag => "`true` or `false`".to_owned(),
    };
    if key.kind == Kind::Whole {
        write.insert_str(0, "whole ");
    }
    if key.spreads {
        write.push_str(", spread");
    }
    let left_out = match key.default {
        LeftOut::Required => "**needed**".to_owned(),
        LeftOut::Is(text) => format!("`{text}`"),
        LeftOut::Rule(rule) => rule.to_owned(),
    };
    format!("| `{}` | {write} | {} | {left_out} | {} |", key.shown(), key.shown_range(), key.says)
}

/// Names of the books with their number of rows.
fn books(rows: &[&Key]) -> String {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for key in rows {
        let book = key.segments().nth(1).unwrap_or("");
        match counts.iter_mut().find(|(name, _)| *name == book) {
            Some((_, count)) => *count += 1,
            None => counts.push((book, 1)),
        }
    }
    let books: Vec<_> =
        counts.iter().map(|(name, count)| format!("`book.{name}` ({count} rows)")).collect();
    format!(
        "{}. `shoalwise params` lists every row with its unit, value, range and source.",
        books.join(", ")
    )
}
