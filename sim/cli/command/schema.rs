//! `schema`: prints the JSON Schema of scenarios.

use std::io::{Write, stdout};

use crate::cli::args::{SchemaArg, SchemaArgs};
use crate::cli::exit_status::ExitError;
use crate::cli::output::json_document;
use crate::scenario::scenario_json_schema;

/// Prints a schema.
///
/// # Errors
///
/// [`ExitError::Failed`] if standard output cannot be written.
pub fn schema(args: &SchemaArgs) -> Result<(), ExitError> {
    let text = match args.name.unwrap_or_default() {
        SchemaArg::Scenario => schema_text()?,
    };
    Ok(stdout().write_all(text.as_bytes())?)
}

/// The schema of scenarios.
pub(super) fn schema_text() -> Result<String, ExitError> {
    json_document(&scenario_json_schema())
}
