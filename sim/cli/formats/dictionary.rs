//! The dictionary: every field of every output, as Markdown.

use clap::ValueEnum;

use super::catalogue::OutputFormat;
use super::fields::{FieldRow, fields_of};
use crate::cli::args::SchemaArg;

const HEAD: &str = "# Every column and field\n\n\
    Written by `shoalwise schema --describe`. For each output: every column or field with its type, unit and meaning. A path \
    such as `plans[].weight_kg.mean` is the field `mean` of `weight_kg` of each entry of the list `plans`. The unit `share` is \
    a number from 0 to 1; whole counts have no unit, and means of counts `count`. `shoalwise schema NAME` prints the JSON Schema of an output, that of one row if \
    it is a table. What raises the number of a format is in [README.md](README.md).\n";

/// The dictionary of one output, or of all with a title.
pub(in crate::cli) fn dictionary_markdown(name: Option<SchemaArg>) -> String {
    let mut page = if name.is_none() { HEAD.to_owned() } else { String::new() };
    let all = SchemaArg::value_variants();
    for &output in all.iter().filter(|&&output| name.is_none_or(|name| name == output)) {
        let (Some(format), Some(value)) = (OutputFormat::new(output), output.to_possible_value())
        else {
            continue;
        };
        if !page.is_empty() {
            page.push('\n');
        }
        page.push_str(&format!("## `{}`\n\n", value.get_name()));
        let number = format.format.map_or(String::new(), |format| format!(" Format `{format}`."));
        page.push_str(&format!("{}.{number}\n\n", capitalised(format.title)));
        page.push_str("| field | type | unit | meaning |\n|---|---|---|---|\n");
        fields_of(&format).iter().for_each(|row| page.push_str(&row.markdown()));
    }
    page
}

impl FieldRow {
    fn markdown(&self) -> String {
        let cell = |text: &str| text.replace('|', "\\|");
        let (path, kind) = (&self.path, cell(&self.kind));
        format!(
            "| `{path}` | {kind} | {} | {} |\n",
            cell(&self.unit),
            cell(&capitalised(&self.meaning))
        )
    }
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
