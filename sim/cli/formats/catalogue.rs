//! The catalogue: what each output is, and where its fields are described.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};

use super::best::BestDocument;
use super::check::CheckDocument;
use super::fit::FitDocument;
use super::params::ParamsDocument;
use super::replay::{BankEnd, BankOutput, ReplayEnd, ReplayOutput};
use super::sweep_status::SweepStatusDocument;
use crate::catch_log::{LOG_COLUMNS, LogColumn};
use crate::cli::args::SchemaArg;
use crate::cli::output::{CatchesCsv, RunFile, RunStamp};
use crate::report::{ComparisonDocument, RecordingDocument, WatersDocument};
use crate::scenario::LearnedBookFile;
use crate::study::{
    CellKind, CsvColumn, EVALUATION_COLUMNS, LearnResult, NowResult, SensitivityReport,
    SessionsCsv, SweepResult,
};

/// Where the fields of an output are described.
pub(super) enum Content {
    /// A JSON document: the schema that its types give.
    Document(Schema),
    /// A table, written as CSV: its columns.
    Table(Vec<CsvColumn>),
}

/// An output of the program.
pub(super) struct OutputFormat {
    /// What it is, in a few words.
    pub(super) title: &'static str,
    /// Name and version of the format. `None` for the catch log, which people write.
    pub(super) format: Option<&'static str>,
    /// Its fields.
    pub(super) content: Content,
}

impl OutputFormat {
    /// The output of a name. `None` for scenarios, which are no output.
    pub(super) fn new(name: SchemaArg) -> Option<Self> {
        let format = match name {
            SchemaArg::Scenario => return None,
            SchemaArg::Summary => file("summary.json", document::<ComparisonDocument<'_>>()),
            SchemaArg::Sessions => file("sessions.csv", sessions_table()),
            SchemaArg::Catches => file("catches.csv", table(&CatchesCsv::<Vec<u8>>::COLUMNS)),
            SchemaArg::Waters => file("waters.json", document::<WatersDocument<'_>>()),
            SchemaArg::WatersTable => file("waters.csv", waters_table()),
            SchemaArg::Vary => file("vary.json", document::<SweepResult>()),
            SchemaArg::VaryTable => file("vary.csv", vary_table()),
            SchemaArg::Best => file("best.json", document::<BestDocument<'_>>()),
            SchemaArg::BestTable => file("best.csv", best_table()),
            SchemaArg::Doubt => file("doubt.json", document::<SensitivityReport>()),
            SchemaArg::Learn => file("learn.json", document::<LearnResult>()),
            SchemaArg::Fit => file("fit.json", document::<FitDocument<'_>>()),
            SchemaArg::LearnedBook => file("learned-book.toml", document::<LearnedBookFile>()),
            SchemaArg::Stamp => file("stamp.json", document::<RunStamp<'_>>()),
            SchemaArg::Now => printed(
                "printed by `now --json`: what each way to go on is worth",
                NowResult::FORMAT,
                document::<NowResult>(),
            ),
            SchemaArg::Check => printed(
                "printed by `check --json`: whether a scenario is sound",
                CheckDocument::FORMAT,
                document::<CheckDocument<'_>>(),
            ),
            SchemaArg::Params => printed(
                "printed by `params --json`: every parameter of the model",
                ParamsDocument::FORMAT,
                document::<ParamsDocument<'_>>(),
            ),
            SchemaArg::Replay => printed(
                "a line of `replay --json`: an event, or at the end the outcome",
                ReplayEnd::FORMAT,
                document::<ReplayOutput>(),
            ),
            SchemaArg::Bank => printed(
                "a line of `replay --from-the-bank --json`: what an angler sees, or at the end the outcome",
                BankEnd::FORMAT,
                document::<BankOutput>(),
            ),
            SchemaArg::Film => printed(
                "printed by `replay --film`, and what the page draws: a day of a plan",
                RecordingDocument::FORMAT,
                document::<RecordingDocument>(),
            ),
            SchemaArg::SweepStatus => printed(
                "printed by `sweep --status --json`: how far a sweep is",
                SweepStatusDocument::FORMAT,
                document::<SweepStatusDocument<'_>>(),
            ),
            SchemaArg::CatchLog => Self {
                title: "the catch log that `log` writes and `learn` and `now` read: a row per cast",
                format: None,
                content: Content::Table(log_table()),
            },
        };
        Some(format)
    }
}

/// An output that is a file of a run.
fn file(name: &'static str, content: Content) -> OutputFormat {
    let file = RunFile::named(name);
    OutputFormat {
        title: file.map_or("", |file| file.content),
        format: file.and_then(|file| file.format),
        content,
    }
}

/// An output that is printed.
fn printed(title: &'static str, format: &'static str, content: Content) -> OutputFormat {
    OutputFormat { title, format: Some(format), content }
}

fn document<T: JsonSchema>() -> Content {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    Content::Document(generator.into_root_schema_for::<T>())
}

fn table(columns: &[CsvColumn]) -> Content {
    Content::Table(columns.to_vec())
}

/// The columns of `sessions.csv`: those of the shoals differ between scenarios.
fn sessions_table() -> Content {
    let by_shoal = SessionsCsv::<Vec<u8>>::SHOAL_COLUMNS;
    Content::Table(SessionsCsv::<Vec<u8>>::COLUMNS.into_iter().chain(by_shoal).collect())
}

/// The columns of `waters.csv`: a water has no catch of a shoal that only another one has.
fn waters_table() -> Content {
    let by_shoal = SessionsCsv::<Vec<u8>>::SHOAL_COLUMNS.map(CsvColumn::or_empty);
    let columns = SessionsCsv::<Vec<u8>>::COLUMNS.into_iter().chain(by_shoal);
    let scenario = SessionsCsv::<Vec<u8>>::SCENARIO_COLUMN;
    Content::Table([scenario].into_iter().chain(columns).collect())
}

/// The columns of `vary.csv`: those of the keys differ between runs.
fn vary_table() -> Content {
    let key = CsvColumn::new(
        "<key>",
        CellKind::Text,
        "",
        "For each varied key, its value as written; the name is the dotted key.",
    );
    let si = CsvColumn::new(
        "<key>_<unit>",
        CellKind::Number,
        "as named",
        "For each key whose values are numbers, the value in the SI unit that the name ends in, `_number` without a unit; \
         empty for a word among numbers.",
    )
    .or_empty();
    let figures = SweepResult::FIGURES;
    Content::Table([key].into_iter().chain(figures).chain([si]).collect())
}

/// The columns of `best.csv`: those of the keys differ between runs.
fn best_table() -> Content {
    let key = CsvColumn::new(
        "<key>",
        CellKind::Text,
        "",
        "For each varied key, its value as written; the name is the dotted key.",
    );
    let [round, figures @ ..] = EVALUATION_COLUMNS;
    Content::Table([round, key].into_iter().chain(figures).collect())
}

/// Columns of the catch log that have a value in every row.
const ALWAYS_FILLED: [&str; 3] = ["session", "cast_at", "line"];

fn log_table() -> Vec<CsvColumn> {
    let column = |column: &LogColumn| {
        let described = CsvColumn::new(column.name, CellKind::Text, "", column.meaning);
        if ALWAYS_FILLED.contains(&column.name) { described } else { described.or_empty() }
    };
    LOG_COLUMNS.iter().map(column).collect()
}
