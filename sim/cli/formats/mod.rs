//! What the program writes for other programs: documents that only the command line has, and the catalogue of all
//! formats with their schemas and their dictionary.
//!
//! It must not depend on the commands.

mod best;
mod catalogue;
mod check;
mod dictionary;
mod fields;
mod fit;
mod json_schema;
mod params;
mod replay;
mod sweep_status;

pub(super) use best::BestDocument;
pub(super) use check::{BaitMeasure, CheckDocument};
pub(super) use dictionary::dictionary_markdown;
pub(super) use fit::FitDocument;
pub(super) use json_schema::output_schema;
pub(super) use params::ParamsDocument;
pub(super) use replay::{BankEnd, BankLine, EventLine, ReplayEnd};
pub(super) use sweep_status::{BestPoint, MeanAndError, SweepStatusDocument};
