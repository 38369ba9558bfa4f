//! Errors of the page's requests: each becomes a status and a sentence for the page.

use serde_json::json;

use crate::scenario::Diagnostics;

/// Why a request failed.
#[derive(Clone, Debug)]
pub(super) struct ApiError {
    /// The status that HTTP has for it.
    #[cfg_attr(not(feature = "program"), expect(dead_code, reason = "only HTTP has statuses"))]
    pub(super) status: u16,
    message: String,
    /// Faults of the scenario, one per line.
    faults: Vec<String>,
}

impl ApiError {
    /// An error with this status and message.
    pub(super) fn new(status: u16, message: impl Into<String>) -> Self {
        Self { status, message: message.into(), faults: Vec::new() }
    }

    /// A request that is wrong in itself.
    pub(super) fn bad_request(message: impl Into<String>) -> Self {
        Self::new(400, message)
    }

    /// A thing that does not exist.
    pub(super) fn not_found(message: impl Into<String>) -> Self {
        Self::new(404, message)
    }

    /// The error as a JSON document.
    pub(super) fn document(&self) -> serde_json::Value {
        json!({ "wrong": self.message, "faults": self.faults })
    }
}

impl ApiError {
    /// What is wrong with a thing that was read.
    pub(super) fn from_faults(thing: &str, faults: &Diagnostics) -> Self {
        let message = match faults.count() {
            1 => format!("{thing} has a fault"),
            n => format!("{thing} has {n} faults"),
        };
        let faults: Vec<String> = faults.reported().iter().map(ToString::to_string).collect();
        Self { status: 422, message, faults }
    }
}

impl From<Diagnostics> for ApiError {
    fn from(faults: Diagnostics) -> Self {
        Self::from_faults("the scenario", &faults)
    }
}
