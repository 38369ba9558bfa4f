//! The key reference in the README of the scenarios.

use std::fmt::Write;

use super::keys::{KeyDefault, KeySpec, Kind, groups};
use super::limits::ENTRY_LIMITS;

/// Every key of the format as Markdown: how it is written, its range, its default and what it is.
#[must_use]
pub fn key_reference_markdown() -> String {
    let mut page = String::new();
    for group in groups() {
        let _ = write!(page, "### {}\n\n", group.heading);
        if !group.note.is_empty() {
            let _ = write!(page, "{}\n\n", group.note);
        }
        if group.are_book_rows {
            let _ = write!(page, "{}\n\n", books(&group.keys));
            continue;
        }
        page.push_str(
            "| key | write | range | if left out | what it is |\n|---|---|---|---|---|\n",
        );
        for key in &group.keys {
            let _ = writeln!(page, "{}", row(key));
        }
        page.push('\n');
    }
    page.push_str(&limits());
    page.truncate(page.trim_end().len());
    page.push('\n');
    page
}

/// The largest numbers of tables.
fn limits() -> String {
    let mut text = "### Limits\n\nA scenario has at most 200,000 bytes, and\n\n".to_owned();
    for limit in ENTRY_LIMITS {
        let _ = writeln!(text, "- {} {}", limit.max, limit.words);
    }
    text
}

fn row(key: &KeySpec) -> String {
    let mut write = match key.kind {
        Kind::Quantity(dimension) => dimension.noun().to_owned(),
        Kind::TimeOr(word) => format!("time, or `\"{word}\"`"),
        Kind::Number => "number".to_owned(),
        Kind::Whole => "whole number".to_owned(),
        Kind::Text => "text".to_owned(),
        Kind::Choice(words) => {
            let words: Vec<_> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
            words.join(" or ")
        }
        Kind::NameOf(referent) => format!("name of a {}", referent.noun()),
        Kind::Flag => "`true` or `false`".to_owned(),
    };
    if key.varies {
        write.push_str(", spread");
    }
    let default = match key.default {
        KeyDefault::Required | KeyDefault::RequiredOrInherited => "**needed**".to_owned(),
        KeyDefault::Value(text) => format!("`{text}`"),
        KeyDefault::Described(rule) => rule.to_owned(),
    };
    let (shown, range) = (key.shown(), key.shown_range());
    format!("| `{shown}` | {write} | {range} | {default} | {} |", key.description)
}

/// The names of the books with their numbers of rows.
fn books(rows: &[KeySpec]) -> String {
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
