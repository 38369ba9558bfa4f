//! Errors of the API: each becomes a status and a sentence for the page.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::json;

use crate::scenario::Diagnostics;

/// Why a request failed.
#[derive(Clone, Debug)]
pub(super) struct ApiError {
    status: StatusCode,
    message: String,
    /// Faults of the scenario, one per line.
    faults: Vec<String>,
}

impl ApiError {
    /// An error with this status and message.
    pub(super) fn new(status: StatusCode, message: impl Into<String>) -> Self {
        Self { status, message: message.into(), faults: Vec::new() }
    }

    /// A request that is wrong in itself.
    pub(super) fn bad_request(message: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, message)
    }

    /// A thing that does not exist.
    pub(super) fn not_found(message: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, message)
    }

    /// Too many requests at once.
    pub(super) fn busy() -> Self {
        let message = "the program is busy with other requests; wait a moment and try again";
        Self::new(StatusCode::SERVICE_UNAVAILABLE, message)
    }

    /// The error as a JSON document.
    pub(super) fn document(&self) -> serde_json::Value {
        json!({ "wrong": self.message, "faults": self.faults })
    }
}

impl From<Diagnostics> for ApiError {
    fn from(faults: Diagnostics) -> Self {
        let count = faults.count();
        let faults: Vec<String> = faults.reported().iter().map(ToString::to_string).collect();
        let message = match count {
            1 => "the scenario has a fault".to_owned(),
            n => format!("the scenario has {n} faults"),
        };
        Self { status: StatusCode::UNPROCESSABLE_ENTITY, message, faults }
    }
}

impl IntoResponse for ApiError {
    fn into_response(self) -> Response {
        let kind = [(header::CONTENT_TYPE, "application/json")];
        (self.status, kind, self.document().to_string()).into_response()
    }
}
