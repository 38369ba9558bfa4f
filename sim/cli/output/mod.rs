//! Results of a command: files in a folder, text or JSON on standard output.
//!
//! It must not depend on the commands.

mod comparison_files;
mod comparison_text;
mod picture;
mod publish;
mod run_request;
mod sweep_files;

pub(super) use comparison_files::ComparisonFiles;
pub(super) use picture::write_picture;
pub(super) use publish::{comparison_document, earlier_results, json_document, publish};
pub(super) use run_request::run_request;
pub(super) use sweep_files::{choose_sweep_folder, publish_sweep};
