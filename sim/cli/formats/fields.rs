//! The fields of an output as rows of a table: path, type, unit and meaning.

use serde_json::Value;

use super::catalogue::{Content, OutputFormat};
use super::json_schema::schema_of;
use crate::study::{CellKind, CsvColumn};

/// A field of an output.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct FieldRow {
    /// Its path: names with dots, `[]` for each entry of a list.
    pub(super) path: String,
    /// Type.
    pub(super) kind: String,
    /// Unit; empty for counts, texts and names.
    pub(super) unit: String,
    /// What it means.
    pub(super) meaning: String,
}

/// Units by the end of a name; the first that fits counts.
const UNIT_SUFFIXES: [(&str, &str); 14] = [
    ("_kg_per_hour", "kg/h"),
    ("per_hour", "1/h"),
    ("per_hour_in_water", "1/h"),
    ("_m_s", "m/s"),
    ("_kg2", "kg²"),
    ("_kg", "kg"),
    ("_g", "g"),
    ("_per_s", "1/s"),
    ("_s", "s"),
    ("minute", "min"),
    ("hours_in_water", "h"),
    ("share", "share"),
    ("chance", "share"),
    ("p_value", "share"),
];

/// The fields of an output, in the order in which they are written.
pub(super) fn fields_of(output: &OutputFormat) -> Vec<FieldRow> {
    match &output.content {
        Content::Table(columns) => columns.iter().map(FieldRow::from_column).collect(),
        Content::Document(_) => {
            let root = schema_of(output);
            let mut reader = SchemaReader { root: &root, rows: Vec::new() };
            reader.read_fields("", &root, ("", ""));
            reader.rows
        }
    }
}

impl FieldRow {
    fn from_column(column: &CsvColumn) -> Self {
        let kind = match column.kind {
            CellKind::Text => "text",
            CellKind::WholeNumber => "whole number",
            CellKind::Number => "number",
            CellKind::TrueOrFalse => "true or false",
        };
        Self {
            path: column.name.to_owned(),
            kind: if column.may_lack { format!("{kind}, may be empty") } else { kind.to_owned() },
            unit: column.unit.to_owned(),
            meaning: column.meaning.to_owned(),
        }
    }
}

/// A schema without its references and its `null`.
struct OpenSchema<'a> {
    schema: &'a Value,
    description: &'a str,
    may_be_null: bool,
}

struct SchemaReader<'a> {
    root: &'a Value,
    rows: Vec<FieldRow>,
}

impl<'a> SchemaReader<'a> {
    /// Follows references, and takes `null` apart.
    fn open(&self, mut schema: &'a Value) -> OpenSchema<'a> {
        let mut description = "";
        let mut may_be_null = false;
        loop {
            if description.is_empty() {
                description = schema["description"].as_str().unwrap_or_default();
            }
            if let Some(name) = schema["$ref"].as_str() {
                let name = name.trim_start_matches("#/$defs/");
                schema = &self.root["$defs"][name];
                continue;
            }
            let is_null = |value: &&Value| value["type"] == "null";
            match alternatives(schema) {
                [first, second] if is_null(&first) || is_null(&second) => {
                    may_be_null = true;
                    schema = if is_null(&first) { second } else { first };
                }
                _ => break,
            }
        }
        let mut kinds = schema["type"].as_array().into_iter().flatten();
        may_be_null |= kinds.any(|kind| kind == "null");
        OpenSchema { schema, description, may_be_null }
    }

    /// Adds the fields of an object, and of the objects that it may be; `unit` is that of the object, and `about` what fields
    /// mean that are not described.
    fn read_fields(&mut self, path: &str, schema: &'a Value, (unit, about): (&str, &str)) {
        for (name, field) in schema["properties"].as_object().into_iter().flatten() {
            let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
            self.read_field(&path, name, field, (unit, about));
        }
        if schema["additionalProperties"].is_object() {
            let field = &schema["additionalProperties"];
            self.read_field(&format!("{path}.<name>"), "", field, (unit, about));
        }
        for alternative in alternatives(schema) {
            let open = self.open(alternative);
            self.read_tag(path, &open);
            self.read_fields(path, open.schema, (unit, open.description));
        }
    }

    /// Adds a row for the tag of an object that is one of several kinds.
    fn read_tag(&mut self, path: &str, open: &OpenSchema<'a>) {
        let properties = || open.schema["properties"].as_object().into_iter().flatten();
        let tag = properties().find_map(|(name, field)| Some((name, field["const"].as_str()?)));
        let Some((tag, value)) = tag.filter(|(tag, _)| *tag != "format") else { return };
        let with: Vec<String> = properties()
            .filter(|(name, _)| *name != tag)
            .map(|(name, _)| format!("`{name}`"))
            .collect();
        let dot = if path.is_empty() { "" } else { "." };
        self.rows.push(FieldRow {
            path: format!("{path}{dot}{tag} = {value}"),
            kind: if with.is_empty() {
                "text".to_owned()
            } else {
                format!("text, with {}", with.join(", "))
            },
            unit: String::new(),
            meaning: open.description.to_owned(),
        });
    }

    fn read_field(
        &mut self,
        path: &str,
        name: &str,
        field: &'a Value,
        (inherited, about): (&str, &str),
    ) {
        if field["const"].is_string() && name != "format"
            || self.rows.iter().any(|row| row.path == path)
        {
            return;
        }
        let open = self.open(field);
        let described = if open.description.is_empty() { about } else { open.description };
        let (meaning, bracket) = split_unit(described);
        let own = bracket.or_else(|| unit_by_name(name));
        let mut kind = self.kind(open.schema);
        if open.may_be_null {
            kind.push_str(" or null");
        }
        let is_number = kind.contains("number");
        let unit = match (own, is_number) {
            (Some(unit), _) => unit,
            (None, true) if !kind.contains("whole") => inherited,
            (None, _) => "",
        };
        let shown = if is_number { unit } else { "" };
        self.rows.push(FieldRow {
            path: path.to_owned(),
            kind,
            unit: shown.to_owned(),
            meaning: format!("{meaning}{}", self.choices(open.schema)),
        });
        let items = self.open(&open.schema["items"]);
        let unit = own.unwrap_or(inherited);
        if items.schema.is_object() {
            self.read_fields(&format!("{path}[]"), items.schema, (unit, ""));
        } else {
            self.read_fields(path, open.schema, (unit, ""));
        }
    }

    /// Type of a value in words.
    fn kind(&self, schema: &'a Value) -> String {
        let kinds =
            schema["type"].as_array().map_or(std::slice::from_ref(&schema["type"]), Vec::as_slice);
        let kind = kinds.iter().find(|kind| *kind != "null").and_then(Value::as_str);
        match kind {
            // Each of its places has a type of its own.
            Some("array") if schema["prefixItems"].is_array() => "list of values".to_owned(),
            Some("array") => {
                let items = self.kind(self.open(&schema["items"]).schema);
                match items.strip_prefix("list") {
                    Some(of_what) => format!("list of lists{of_what}"),
                    None => format!("list of {items}s"),
                }
            }
            Some("string") => "text".to_owned(),
            Some("integer") => "whole number".to_owned(),
            Some("number") => "number".to_owned(),
            Some("boolean") => "true or false".to_owned(),
            Some("object") => "object".to_owned(),
            _ => {
                let mut kinds: Vec<String> = Vec::new();
                for alternative in alternatives(schema) {
                    let kind = self.kind(self.open(alternative).schema);
                    if !kinds.contains(&kind) {
                        kinds.push(kind);
                    }
                }
                kinds.join(" or ")
            }
        }
    }

    /// The words that a text may be, with their meaning.
    fn choices(&self, schema: &'a Value) -> String {
        let mut words: Vec<String> = Vec::new();
        let mut add = |value: &Value, meaning: &str| {
            let Some(word) = value.as_str() else { return };
            let meaning = meaning.trim_end_matches('.');
            words.push(if meaning.is_empty() {
                format!("`{word}`")
            } else {
                format!("`{word}`: {meaning}")
            });
        };
        let items = self.open(&schema["items"]).schema;
        for schema in [schema, items] {
            for value in schema["enum"].as_array().into_iter().flatten() {
                add(value, "");
            }
            for alternative in alternatives(schema) {
                let meaning = alternative["description"].as_str().unwrap_or_default();
                add(&alternative["const"], meaning);
                for value in alternative["enum"].as_array().into_iter().flatten() {
                    add(value, "");
                }
            }
        }
        if words.is_empty() { String::new() } else { format!(" {}.", words.join("; ")) }
    }
}

/// The schemas of which one holds.
fn alternatives(schema: &Value) -> &[Value] {
    let of = |name: &str| schema[name].as_array().map(Vec::as_slice);
    of("oneOf").or_else(|| of("anyOf")).unwrap_or_default()
}

/// A description without the unit in brackets that it has, and that unit.
fn split_unit(description: &str) -> (String, Option<&str>) {
    let bracket = description.match_indices(" [").find_map(|(start, _)| {
        let rest = &description[start + 2..];
        let end = rest.find(']')?;
        (!rest[..end].contains('`')).then(|| (start, &rest[..end], start + 2 + end + 1))
    });
    match bracket {
        Some((start, unit, end)) => {
            (format!("{}{}", &description[..start], &description[end..]), Some(unit))
        }
        None => (description.to_owned(), None),
    }
}

/// The unit in which the name of a field ends.
fn unit_by_name(name: &str) -> Option<&'static str> {
    UNIT_SUFFIXES.iter().find(|(suffix, _)| name.ends_with(suffix)).map(|&(_, unit)| unit)
}
