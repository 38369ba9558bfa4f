//! Rules that hold for the source code and the documents themselves.

mod circles;
mod functions;
mod names;
mod source_text;
mod structure;
mod tree;
mod validation_rows;
mod wording;
