//! What the page is told when something is wrong: a status and a sentence, never a crash.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::json;

use crate::scenario::Faults;

/// What went wrong with a request.
#[derive(Clone, Debug)]
pub(super) struct Wrong {
    status: StatusCode,
    says: String,
    /// Faults of the scenario, one a line.
    faults: Vec<String>,
}

impl Wrong {
    /// A request that makes no sense.
    pub(super) fn asked(says: impl Into<String>) -> Self {
        Self::of(StatusCode::BAD_REQUEST, says)
    }

    /// Something that is not there.
    pub(super) fn missing(says: impl Into<String>) -> Self {
        Self::of(StatusCode::NOT_FOUND, says)
    }

    /// Too much at once.
    pub(super) fn busy() -> Self {
        let says = "too much is being asked at once; wait a moment and try again";
        Self::of(StatusCode::SERVICE_UNAVAILABLE, says)
    }

    /// A status and a sentence.
    pub(super) fn of(status: StatusCode, says: impl Into<String>) -> Self {
        Self { status, says: says.into(), faults: Vec::new() }
    }

    /// The same as a document.
    pub(super) fn document(&self) -> serde_json::Value {
        json!({ "wrong": self.says, "faults": self.faults })
    }
}

impl From<Faults> for Wrong {
    fn from(faults: Faults) -> Self {
        let list: Vec<String> = faults.list().iter().map(ToString::to_string).collect();
        let says = match list.len() {
            1 => "the scenario has a fault".to_owned(),
            n => format!("the scenario has {n} faults"),
        };
        Self { status: StatusCode::UNPROCESSABLE_ENTITY, says, faults: list }
    }
}

impl IntoResponse for Wrong {
    fn into_response(self) -> Response {
        let kind = [(header::CONTENT_TYPE, "application/json")];
        (self.status, kind, self.document().to_string()).into_response()
    }
}
