//! Results of a command: files in a folder, text or JSON on standard output.
//!
//! It must not depend on the commands.

mod again;
mod catches_csv;
mod claim;
mod comparison_files;
mod comparison_text;
mod folder;
mod folder_content;
mod picture;
mod publish;
mod run_files;
mod run_origin;
mod run_spec;
mod run_stamp;
mod sweep_files;
mod waters_files;

pub(super) use again::shell_quoted;
pub use catches_csv::CatchesCsv;
pub(super) use comparison_files::ComparisonFiles;
pub use folder::{Folder, FolderError};
pub(super) use picture::write_picture;
pub(super) use publish::{
    comparison_document, earlier_results, json_document, publish, refuse_no_folder, refuse_silence,
    waters_document,
};
pub use run_files::{RUN_FILES, RunFile};
pub use run_origin::RunOrigin;
pub use run_spec::RunSpec;
pub(super) use run_stamp::RunStamp;
pub(super) use sweep_files::{choose_sweep_folder, publish_sweep};
pub(super) use waters_files::{WatersFiles, waters_request};
