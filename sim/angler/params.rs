//! Parameters of this subject: a struct with one field for each row of `params.toml`, written by `sim/build.rs`.

include!(concat!(env!("OUT_DIR"), "/angler_params.rs"));
