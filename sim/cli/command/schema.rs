//! `schema`: prints the JSON Schema of scenarios and outputs, or what their fields mean.

use std::io::{Write, stdout};

use crate::cli::args::{SchemaArg, SchemaArgs};
use crate::cli::exit_status::ExitError;
use crate::cli::formats::{dictionary_markdown, output_schema};
use crate::cli::output::json_document;
use crate::scenario::{key_reference_markdown, scenario_json_schema};

/// Prints a schema, or what the fields mean.
pub fn schema(args: &SchemaArgs) -> Result<(), ExitError> {
    let name = args.name.unwrap_or_default();
    let text = match (args.describe, args.name) {
        (true, Some(SchemaArg::Scenario)) => key_reference_markdown(),
        (true, name) => dictionary_markdown(name),
        (false, _) => match output_schema(name) {
            Some(schema) => json_document(&schema)?,
            None => schema_text()?,
        },
    };
    Ok(stdout().write_all(text.as_bytes())?)
}

/// The schema of scenarios.
pub(super) fn schema_text() -> Result<String, ExitError> {
    json_document(&scenario_json_schema())
}
