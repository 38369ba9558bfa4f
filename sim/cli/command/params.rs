//! `params`: prints every parameter with unit, value, range, prior and source.

use std::io::{Write, stdout};

use comfy_table::{Table, presets};

use crate::cli::args::ParamsArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::ParamsDocument;
use crate::cli::output::json_document;
use crate::params::{Grade, Parameter, Prior, parameters_markdown};
use crate::scenario::Books;

/// Prints the parameter books as a table, as Markdown or as JSON.
pub fn params(args: &ParamsArgs) -> Result<(), ExitError> {
    let books = Books::default();
    let text = if args.json {
        json_document(&ParamsDocument::new(rows(&books)))?
    } else if args.markdown {
        parameters_markdown(&books.all())
    } else {
        format!("{}\n", table(&books))
    };
    stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// All rows, each with its dotted key.
fn rows(books: &Books) -> impl Iterator<Item = (String, &Parameter)> {
    books.all().into_iter().flat_map(|book| {
        book.rows().iter().map(|row| (format!("book.{}.{}", book.name, row.key), row))
    })
}

/// All rows as a table for the terminal.
fn table(books: &Books) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["parameter", "value", "range", "drawn", "grade", "source", "what it is"]);
    for (key, row) in rows(books) {
        let drawn = match row.prior {
            Prior::Fixed => "held",
            Prior::Normal => "normal",
            Prior::LogNormal => "lognormal",
        };
        let grade = match row.grade {
            Grade::Carp => "carp",
            Grade::General => "general",
            Grade::Memory => "memory",
            Grade::Practice => "practice",
            Grade::Assumed => "assumed",
        };
        let [low, high] = row.range;
        table.add_row([
            key,
            format!("{} {}", row.value, row.unit).trim_end().to_owned(),
            format!("{low} to {high}"),
            drawn.to_owned(),
            grade.to_owned(),
            row.source.clone(),
            row.meaning.clone(),
        ]);
    }
    let lines = table.lines().map(|line| line.trim_end().to_owned());
    lines.collect::<Vec<_>>().join("\n")
}
