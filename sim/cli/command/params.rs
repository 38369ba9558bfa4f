//! `params`: prints every parameter with unit, value, range, prior and source.

use std::io::{IsTerminal, Write, stdout};

use anyhow::anyhow;
use comfy_table::{Table, presets};

use crate::cli::args::ParamsArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::ParamsDocument;
use crate::cli::output::json_document;
use crate::cli::terminal::text_width;
use crate::params::{Grade, Parameter, Prior, parameters_markdown};
use crate::scenario::Books;

/// Prints the parameter books as text, as Markdown or as JSON: on a terminal in its width, elsewhere a line a row.
pub fn params(args: &ParamsArgs) -> Result<(), ExitError> {
    if args.markdown && args.text.is_some() {
        return Err(ExitError::WrongInput(anyhow!(
            "--markdown prints all parameters, as in PARAMETERS.md: omit the text or --markdown"
        )));
    }
    let books = Books::default();
    let rows = matching_rows(&books, args.text.as_deref())?;
    let text = if args.json {
        json_document(&ParamsDocument::new(rows.into_iter()))?
    } else if args.markdown {
        parameters_markdown(&books.all())
    } else if args.wide || !stdout().is_terminal() {
        format!("{}\n", table(rows))
    } else {
        paragraphs(rows, text_width())
    };
    stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// All rows, or those that have `text` somewhere, each with its dotted key.
fn matching_rows<'a>(
    books: &'a Books,
    text: Option<&str>,
) -> Result<Vec<(String, &'a Parameter)>, ExitError> {
    let wanted = text.unwrap_or_default().to_lowercase();
    let has_text = |(key, row): &(String, &Parameter)| {
        let words = [key, &row.meaning, &row.source, &row.unit];
        words.iter().any(|words| words.to_lowercase().contains(&wanted))
            || grade(row).contains(&wanted)
    };
    let rows: Vec<_> = books
        .all()
        .into_iter()
        .flat_map(|book| {
            book.rows().iter().map(|row| (format!("book.{}.{}", book.name, row.key), row))
        })
        .filter(has_text)
        .collect();
    if rows.is_empty() {
        return Err(ExitError::WrongInput(anyhow!(
            "no parameter has \"{wanted}\" in its name, meaning, grade or source; `shoalwise params` shows all"
        )));
    }
    Ok(rows)
}

/// How the values of days are drawn, in a word.
fn drawn(row: &Parameter) -> &'static str {
    match row.prior {
        Prior::Fixed => "held",
        Prior::Normal => "normal",
        Prior::LogNormal => "lognormal",
    }
}

/// What a value is based on, in a word.
fn grade(row: &Parameter) -> &'static str {
    match row.grade {
        Grade::Carp => "carp",
        Grade::General => "general",
        Grade::Memory => "memory",
        Grade::Practice => "practice",
        Grade::Assumed => "assumed",
    }
}

/// Value and unit.
fn value(row: &Parameter) -> String {
    format!("{} {}", row.value, row.unit).trim_end().to_owned()
}

/// Some rows as short paragraphs of at most `width` columns.
fn paragraphs(rows: Vec<(String, &Parameter)>, width: usize) -> String {
    let mut text = String::new();
    for (key, row) in rows {
        let [low, high] = row.range;
        let source =
            if row.source.is_empty() { String::new() } else { format!(": {}", row.source) };
        let (value, drawn, grade) = (value(row), drawn(row), grade(row));
        let figures = format!("{value}, between {low} and {high} ({drawn}); {grade}{source}");
        let options = textwrap::Options::new(width).initial_indent("  ").subsequent_indent("  ");
        text.push_str(&format!("{key}\n"));
        for sentence in [&figures, &row.meaning] {
            text.push_str(&textwrap::fill(sentence, &options));
            text.push('\n');
        }
    }
    text
}

/// Some rows as a table, a line each.
fn table(rows: Vec<(String, &Parameter)>) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["parameter", "value", "range", "drawn", "grade", "source", "what it is"]);
    for (key, row) in rows {
        let [low, high] = row.range;
        table.add_row([
            key,
            value(row),
            format!("{low} to {high}"),
            drawn(row).to_owned(),
            grade(row).to_owned(),
            row.source.clone(),
            row.meaning.clone(),
        ]);
    }
    let lines = table.lines().map(|line| line.trim_end().to_owned());
    lines.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_keep_to_the_width() {
        let books = Books::default();
        for width in [40, 80] {
            let text = paragraphs(matching_rows(&books, None).expect("rows"), width);
            let has_spaces = |line: &&str| line.trim().contains(' ');
            let wide = text.lines().filter(has_spaces).find(|line| line.chars().count() > width);
            assert_eq!(wide, None);
        }
    }
}
