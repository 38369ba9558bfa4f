//! The JSON Schema of an output.

use serde_json::{Map, Value, json};

use super::catalogue::{Content, OutputFormat};
use crate::cli::args::SchemaArg;
use crate::study::{CellKind, CsvColumn};

/// The JSON Schema of an output; of a table, that of one row with its cells as numbers and texts. `None` for scenarios.
pub(in crate::cli) fn output_schema(name: SchemaArg) -> Option<Value> {
    OutputFormat::new(name).map(|output| schema_of(&output))
}

/// The JSON Schema of an output.
pub(super) fn schema_of(output: &OutputFormat) -> Value {
    let mut schema = match &output.content {
        Content::Document(schema) => schema.clone().to_value(),
        Content::Table(columns) => row_schema(columns, output.format.is_some()),
    };
    schema["title"] = output.format.unwrap_or("catch log").into();
    schema["description"] = output.title.into();
    for_readers(&mut schema);
    if let Some(format) = output.format {
        name_format(&mut schema, format);
    }
    schema
}

/// The schema of a row of a table; a table that people write may lack columns.
fn row_schema(columns: &[CsvColumn], has_all: bool) -> Value {
    let fixed = columns.iter().filter(|column| !column.name.contains('<'));
    let properties: Map<String, Value> =
        fixed.clone().map(|column| (column.name.to_owned(), cell_schema(column))).collect();
    let patterns: Map<String, Value> = columns
        .iter()
        .filter_map(|column| Some((name_pattern(column.name)?, cell_schema(column))))
        .collect();
    let mut schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": properties,
        "required": fixed
            .filter(|column| has_all || !column.may_lack)
            .map(|column| column.name)
            .collect::<Vec<_>>(),
    });
    if !patterns.is_empty() {
        schema["patternProperties"] = patterns.into();
    }
    schema
}

/// The pattern of the names for which a name such as `fish.<shoal>` stands. `None` for a fixed name, and for one that begins
/// with what differs, which any name would fit.
fn name_pattern(name: &str) -> Option<String> {
    let (before, rest) = name.split_once('<')?;
    let (_, after) = rest.split_once('>')?;
    (!before.is_empty())
        .then(|| format!("^{}.+{}$", before.replace('.', "\\."), after.replace('.', "\\.")))
}

fn cell_schema(column: &CsvColumn) -> Value {
    let kind = match column.kind {
        CellKind::Text => "string",
        CellKind::WholeNumber => "integer",
        CellKind::Number => "number",
        CellKind::TrueOrFalse => "boolean",
    };
    let kind = if column.may_lack { json!([kind, "null"]) } else { kind.into() };
    let mut schema = json!({ "type": kind, "description": column.meaning });
    if !column.unit.is_empty() {
        schema["unit"] = column.unit.into();
    }
    schema
}

/// Descriptions as readers of JSON need them: on one line, with the words of JSON.
fn for_readers(schema: &mut Value) {
    match schema {
        Value::Object(fields) => {
            for (name, value) in fields {
                match value {
                    Value::String(text) if name == "description" => {
                        let words: Vec<&str> = text.split_whitespace().collect();
                        *text = words.join(" ").replace("`None`", "`null`");
                    }
                    _ => for_readers(value),
                }
            }
        }
        Value::Array(values) => values.iter_mut().for_each(for_readers),
        _ => {}
    }
}

/// Fixes the field `format`, of the document or of the type of its last line.
fn name_format(schema: &mut Value, format: &str) {
    if let Some(field) = schema.pointer_mut("/properties/format") {
        field["const"] = format.into();
        return;
    }
    let types = schema.pointer_mut("/$defs").and_then(Value::as_object_mut);
    for kind in types.into_iter().flat_map(Map::values_mut) {
        if let Some(field) = kind.pointer_mut("/properties/format") {
            field["const"] = format.into();
        }
    }
}
