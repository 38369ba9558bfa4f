//! The addresses of the API, and the function that answers each.

use std::convert::Infallible;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderValue, StatusCode, Uri, header};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use rayon::{ThreadPool, ThreadPoolBuilder};
use serde_json::{Value, json};
use tokio::sync::{Semaphore, mpsc};
use tokio::time::timeout;
use tokio_stream::StreamExt;
use tokio_stream::wrappers::ReceiverStream;

use super::answers;
use super::assets::asset;
use super::bank::bank_log;
use super::catalogue::Catalogue;
use super::error::ApiError;
use super::live;
use super::now::AdviceRequest;
use super::qr;
use super::request::RequestQuery;
use super::runs::{Runs, busy};

/// Maximum number of films and of requests for advice that are computed at once.
const MAX_FILMS: usize = 2;
/// Maximum number of short computations at once, as reading a scenario. They do not wait for films.
const MAX_SHORT: usize = 4;
/// Maximum time that a request waits for its computation to start.
const QUEUE_TIMEOUT: Duration = Duration::from_secs(15);
/// Maximum number of events that wait for a slow reader.
const MAX_WAITING_EVENTS: usize = 4;

type ApiResult = Result<Response, ApiError>;

/// State that all requests share.
pub(super) struct AppState {
    catalogue: Catalogue,
    /// The address at which other machines reach the page. `None` if they do not.
    public_address: Option<String>,
    runs: Arc<Runs>,
    pool: Arc<ThreadPool>,
    short: Arc<Semaphore>,
    films: Arc<Semaphore>,
}

/// Sets a flag when it is dropped: when the request that it belongs to is answered, or when its client has gone.
struct StopOnDrop(Arc<AtomicBool>);

impl Drop for StopOnDrop {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

impl AppState {
    /// The state at the start; no comparison is running.
    pub(super) fn new(catalogue: Catalogue, public_address: Option<String>) -> io::Result<Self> {
        let pool = ThreadPoolBuilder::new().build().map_err(io::Error::other)?;
        Ok(Self {
            catalogue,
            public_address,
            runs: Arc::default(),
            pool: Arc::new(pool),
            short: Arc::new(Semaphore::new(MAX_SHORT)),
            films: Arc::new(Semaphore::new(MAX_FILMS)),
        })
    }

    /// Stops every comparison.
    pub(super) fn cancel_all(&self) {
        self.runs.cancel_all();
    }
}

impl IntoResponse for ApiError {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let kind = [(header::CONTENT_TYPE, "application/json")];
        (status, kind, self.document().to_string()).into_response()
    }
}

/// All addresses with their functions.
pub(super) fn routes(state: Arc<AppState>) -> Router {
    Router::new()
        .route("/api/shelf", get(catalogue))
        .route("/api/scenario", get(scenario))
        .route("/api/lessons", get(lessons))
        .route("/api/bank", post(bank))
        .route("/api/now", post(advice))
        .route("/api/qr", get(qr_code))
        .route("/api/live", get(live))
        .route("/api/cancel", post(cancel))
        .route("/api/film", get(recording))
        .route("/api/export", get(export))
        .fallback(page)
        .with_state(state)
}

/// A file of the page.
async fn page(uri: Uri) -> ApiResult {
    let (kind, bytes) = asset(uri.path()).ok_or_else(|| ApiError::not_found("no such page"))?;
    Ok(([(header::CONTENT_TYPE, kind)], bytes).into_response())
}

/// Runs a short computation on a thread of its own, after waiting for its turn.
async fn compute<T: Send + 'static>(
    state: Arc<AppState>,
    query: Option<String>,
    computation: impl FnOnce(&AppState, &RequestQuery) -> Result<T, ApiError> + Send + 'static,
) -> Result<T, ApiError> {
    let turns = Arc::clone(&state.short);
    compute_in_turn(turns, state, query, move |state, query, _| computation(state, query)).await
}

/// Runs a computation on a thread of its own, after waiting for one of the `turns`.
///
/// The turn ends with the computation and not with the request, so that abandoned requests cannot pile up. The
/// computation gets a flag that is set when its request has gone.
async fn compute_in_turn<T: Send + 'static>(
    turns: Arc<Semaphore>,
    state: Arc<AppState>,
    query: Option<String>,
    computation: impl FnOnce(&AppState, &RequestQuery, &AtomicBool) -> Result<T, ApiError>
    + Send
    + 'static,
) -> Result<T, ApiError> {
    let turn = timeout(QUEUE_TIMEOUT, turns.acquire_owned()).await;
    let turn = turn.map_err(|_| busy())?.map_err(|_| busy())?;
    let gone = Arc::new(AtomicBool::new(false));
    let _stop = StopOnDrop(Arc::clone(&gone));
    tokio::task::spawn_blocking(move || {
        let _turn = turn;
        if gone.load(Ordering::Relaxed) {
            return Err(busy());
        }
        computation(&state, &RequestQuery::parse(query.as_deref())?, &gone)
    })
    .await
    .unwrap_or_else(|_| {
        Err(ApiError::new(
            StatusCode::INTERNAL_SERVER_ERROR.as_u16(),
            "this is a bug in the program; please report it with the link of this page",
        ))
    })
}

/// A response with a JSON document.
fn document(value: &Value) -> Response {
    ([(header::CONTENT_TYPE, "application/json")], value.to_string()).into_response()
}

/// Names of the scenarios, and the limits of the page.
async fn catalogue(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let value = compute(state, query, |state, _| {
        let mut shelf = answers::shelf(&state.catalogue);
        shelf["addresses"] = json!(state.public_address.iter().collect::<Vec<_>>());
        Ok(shelf)
    });
    Ok(document(&value.await?))
}

/// Every lesson, with the faults of files that could not be read.
async fn lessons(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let value = compute(state, query, |state, _| Ok(answers::lessons(&state.catalogue)));
    Ok(document(&value.await?))
}

/// The catch log that was tapped in on the bank.
async fn bank(
    State(state): State<Arc<AppState>>,
    RawQuery(query): RawQuery,
    entries: String,
) -> ApiResult {
    Ok(document(&compute(state, query, move |_, query| bank_log(query, &entries)).await?))
}

/// What each way to go on is worth, from the log in the body.
async fn advice(
    State(state): State<Arc<AppState>>,
    RawQuery(query): RawQuery,
    body: String,
) -> ApiResult {
    let turns = Arc::clone(&state.films);
    let pool = Arc::clone(&state.pool);
    let value = compute_in_turn(turns, state, query, move |state, query, gone| {
        let request = AdviceRequest::new(&state.catalogue, query, &body)?;
        pool.install(|| request.advice(gone))
    });
    Ok(document(&value.await?))
}

/// The QR code of the page for other machines.
async fn qr_code(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let query = RequestQuery::parse(query.as_deref())?;
    let unreachable = || ApiError::not_found("only this machine reaches the page");
    let address = state.public_address.as_deref().ok_or_else(unreachable)?;
    let code = qr::code(address, query.optional("link")?)?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], code).into_response())
}

/// The scenario with its plans, lines and controls.
async fn scenario(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let value = compute(state, query, |state, query| answers::scenario(&state.catalogue, query));
    Ok(document(&value.await?))
}

/// A comparison as a stream of events. Errors are sent as events too: a page cannot read any other response to an
/// `EventSource`.
async fn live(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> Response {
    let (sender, events) = mpsc::channel::<Event>(MAX_WAITING_EVENTS);
    let pool = Arc::clone(&state.pool);
    let started = compute(state, query, move |state, query| {
        let (tab, run) = (query.required("tab")?, query.required("run")?);
        let handle = state.runs.start(tab, run)?;
        Ok((answers::comparison_request(&state.catalogue, query)?, handle))
    });
    let stop = match started.await {
        Ok((request, handle)) => {
            let stop = Arc::clone(&handle.stop);
            live::start(request, pool, handle, sender);
            stop
        }
        Err(error) => {
            let event = Event::default().event("wrong").data(error.document().to_string());
            // The channel is empty, so this does not fail.
            let _ = sender.try_send(event);
            Arc::default()
        }
    };
    // The stream is dropped when its reader has gone; the comparison then stops within a session.
    let stop = StopOnDrop(stop);
    let events = ReceiverStream::new(events).map(move |event| {
        let _belongs_to_the_stream = &stop;
        Ok::<Event, Infallible>(event)
    });
    Sse::new(events).keep_alive(KeepAlive::default()).into_response()
}

/// Stops a comparison.
async fn cancel(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let query = RequestQuery::parse(query.as_deref())?;
    let cancelled = state.runs.cancel(query.required("run")?);
    Ok(document(&json!({ "cancelled": cancelled })))
}

/// The recording of one session, for the moving picture.
async fn recording(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let turns = Arc::clone(&state.films);
    let bytes = compute_in_turn(turns, state, query, |state, query, gone| {
        answers::film(&state.catalogue, query, gone)
    });
    Ok(([(header::CONTENT_TYPE, "application/json")], bytes.await?).into_response())
}

/// The scenario with the changes of the page, as a file for the command line.
async fn export(State(state): State<Arc<AppState>>, RawQuery(query): RawQuery) -> ApiResult {
    let edited =
        compute(state, query, |state, query| query.edited_text(&state.catalogue, true)).await?;
    let mut response = edited.text.into_response();
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("text/plain; charset=utf-8"));
    let file = format!(
        "attachment; filename=\"{}-edited.toml\"",
        edited.name.replace(|c: char| !c.is_ascii_alphanumeric(), "-")
    );
    if let Ok(value) = HeaderValue::from_str(&file) {
        headers.insert(header::CONTENT_DISPOSITION, value);
    }
    Ok(response)
}
