//! `params`: every parameter with unit, value, range, prior and source.

use std::io::{Write, stdout};

use comfy_table::{Table, presets};
use serde_json::{Value, json};

use super::args::ParamsArgs;
use super::ended::Ended;
use crate::params::{Grade, Prior, Row, bibliography, markdown};
use crate::scenario::Books;

/// Prints the books: a table, the page of the documentation, or JSON.
///
/// # Errors
///
/// [`Ended::Failed`] where nothing can be printed.
pub fn params(asked: &ParamsArgs) -> Result<(), Ended> {
    let books = Books::default();
    let text = if asked.json {
        format!("{:#}\n", document(&books)?)
    } else if asked.markdown {
        markdown(&books.all())
    } else {
        format!("{}\n", table(&books))
    };
    stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// Every row with its dotted key.
fn rows(books: &Books) -> impl Iterator<Item = (String, &Row)> {
    let each_book = books.all().into_iter();
    each_book.flat_map(|book| {
        book.rows().iter().map(|row| (format!("book.{}.{}", book.name, row.key), row))
    })
}

fn document(books: &Books) -> Result<Value, Ended> {
    let mut parameters = Vec::new();
    for (key, row) in rows(books) {
        let mut parameter = serde_json::Map::new();
        parameter.insert("key".to_owned(), key.into());
        if let Value::Object(fields) = serde_json::to_value(row)? {
            parameter.extend(fields);
        }
        parameters.push(Value::Object(parameter));
    }
    let sources: serde_json::Map<String, Value> = bibliography()
        .into_iter()
        .map(|(key, source)| (key, json!({ "cite": source.cite, "read": source.read })))
        .collect();
    Ok(json!({ "format": "shoalwise/params/1", "parameters": parameters, "sources": sources }))
}

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
            row.says.clone(),
        ]);
    }
    let lines = table.lines().map(|line| line.trim_end().to_owned());
    lines.collect::<Vec<_>>().join("\n")
}
