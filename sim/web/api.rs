//! What can be asked of the server.

use std::convert::Infallible;
use std::io;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderValue, Uri, header};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use rayon::{ThreadPool, ThreadPoolBuilder};
use serde_json::{Value, json};
use tokio::sync::{Semaphore, mpsc};
use tokio::time::timeout;
use tokio_stream::StreamExt;
use tokio_stream::wrappers::ReceiverStream;

use super::asked::{Asked, MOST_DAYS, MOST_PLANS};
use super::assets::asset;
use super::live::{self, Order};
use super::runs::Runs;
use super::shelf::Shelf;
use super::told::Wrong;
use crate::report::swim_view;
use crate::scenario::{Dial, Scenario, Units, dials};
use crate::session::{Day, film_session};

/// Answers that take the processor for a while, worked out at once.
const MOST_WORK: usize = 2;
/// How long a request waits for its turn at that.
const WAITS: Duration = Duration::from_secs(15);
/// Events that wait for a slow reader.
const WAITING_EVENTS: usize = 4;
/// Most rows in the film of one day.
const MOST_FILM_ROWS: usize = 300_000;

type Answer = Result<Response, Wrong>;

/// What all requests share.
pub(super) struct Room {
    shelf: Shelf,
    runs: Arc<Runs>,
    pool: Arc<ThreadPool>,
    work: Semaphore,
}

impl Room {
    /// The room at the start.
    pub(super) fn new(shelf: Shelf) -> io::Result<Self> {
        let pool = ThreadPoolBuilder::new().build().map_err(io::Error::other)?;
        Ok(Self {
            shelf,
            runs: Arc::default(),
            pool: Arc::new(pool),
            work: Semaphore::new(MOST_WORK),
        })
    }

    /// Tells every comparison to stop.
    pub(super) fn cancel_all(&self) {
        self.runs.cancel_all();
    }
}

/// Every address and who answers there.
pub(super) fn routes(room: Arc<Room>) -> Router {
    Router::new()
        .route("/api/shelf", get(shelf))
        .route("/api/scenario", get(scenario))
        .route("/api/live", get(live))
        .route("/api/cancel", post(cancel))
        .route("/api/film", get(film))
        .route("/api/export", get(export))
        .fallback(page)
        .with_state(room)
}

/// A file of the page.
async fn page(uri: Uri) -> Answer {
    let (kind, bytes) = asset(uri.path()).ok_or_else(|| Wrong::missing("there is nothing here"))?;
    Ok(([(header::CONTENT_TYPE, kind)], bytes).into_response())
}

/// Does work that takes the processor away from the sockets, when it is its turn.
async fn work<T: Send + 'static>(
    room: Arc<Room>,
    query: Option<String>,
    what: impl FnOnce(&Room, &Asked) -> Result<T, Wrong> + Send + 'static,
) -> Result<T, Wrong> {
    let turn = timeout(WAITS, room.work.acquire()).await.map_err(|_| Wrong::busy())?;
    let _turn = turn.map_err(|_| Wrong::busy())?;
    let shared = Arc::clone(&room);
    tokio::task::spawn_blocking(move || what(&shared, &Asked::of(query.as_deref())?))
        .await
        .unwrap_or_else(|_| {
            Err(Wrong::of(
                axum::http::StatusCode::INTERNAL_SERVER_ERROR,
                "this is a fault of ours; please report what you asked",
            ))
        })
}

fn document(value: &Value) -> Response {
    ([(header::CONTENT_TYPE, "application/json")], value.to_string()).into_response()
}

async fn shelf(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Answer {
    let value = work(room, query, |room, _| {
        Ok(json!({
            "version": env!("CARGO_PKG_VERSION"),
            "scenarios": room.shelf.names(),
            "most_plans": MOST_PLANS,
            "most_days": MOST_DAYS,
        }))
    });
    Ok(document(&value.await?))
}

async fn scenario(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Answer {
    let value = work(room, query, |room, asked| {
        let written = asked.written(&room.shelf, false)?;
        let unset = asked.unset(&room.shelf)?;
        let scenario = written.read(&[])?;
        // What differs from day to day stays on offer after it was set, so those dials are of the text unset.
        let of_plans = dials(&written)?.into_iter().filter(|dial| dial.plan.is_some());
        let of_water = dials(&unset)?.into_iter().filter(|dial| dial.plan.is_none());
        let dials: Vec<Value> = of_plans.chain(of_water).map(|dial| told(&dial)).collect();
        Ok(described(&written.name, &scenario, dials))
    });
    Ok(document(&value.await?))
}

fn described(name: &str, scenario: &Scenario, dials: Vec<Value>) -> Value {
    json!({
        "name": name,
        "title": scenario.title,
        "units": match scenario.units { Units::Metric => "metric", Units::Imperial => "imperial" },
        "session_s": scenario.session_s,
        "plans": scenario.plans.iter().map(|plan| &plan.name).collect::<Vec<_>>(),
        "lines": scenario.lines.iter().map(|line| &line.name).collect::<Vec<_>>(),
        "dials": dials,
    })
}

fn told(dial: &Dial) -> Value {
    let stops =
        dial.stops.iter().map(|stop| json!({ "written": stop.written, "shown": stop.shown }));
    json!({
        "plan": dial.plan,
        "key": dial.key,
        "name": dial.name,
        "says": dial.says,
        "ordered": dial.ordered,
        "stops": stops.collect::<Vec<_>>(),
        "at": dial.at,
    })
}

/// A comparison as it is fished. What is wrong is told as an event, for a browser shows a page no other answer.
async fn live(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Response {
    let (out, events) = mpsc::channel::<Event>(WAITING_EVENTS);
    let shared = Arc::clone(&room);
    let begun = work(room, query, move |room, asked| {
        let (tab, run) = (asked.needed("tab")?, asked.needed("run")?);
        let ticket = room.runs.begin(tab, run)?;
        let scenario = asked.scenario(&room.shelf)?;
        let units = asked.units(scenario.units)?;
        let (seed, days) = (asked.seed()?, asked.days()?);
        Ok((Order { run: run.to_owned(), scenario, seed, days, units }, ticket))
    });
    match begun.await {
        Ok((order, ticket)) => live::start(order, Arc::clone(&shared.pool), ticket, out),
        Err(wrong) => {
            // The channel is empty, so there is room.
            let _ =
                out.try_send(Event::default().event("wrong").data(wrong.document().to_string()));
        }
    }
    let events = ReceiverStream::new(events).map(Ok::<Event, Infallible>);
    Sse::new(events).keep_alive(KeepAlive::default()).into_response()
}

async fn cancel(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Answer {
    let asked = Asked::of(query.as_deref())?;
    let cancelled = room.runs.cancel(asked.needed("run")?);
    Ok(document(&json!({ "cancelled": cancelled })))
}

async fn film(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Answer {
    let bytes = work(room, query, |room, asked| {
        let scenario = asked.scenario(&room.shelf)?;
        let units = asked.units(scenario.units)?;
        let plan = scenario.plans.first().ok_or_else(|| Wrong::missing("there is no plan"))?;
        let day = Day::draw(&scenario, asked.seed()?, asked.day()?);
        let film = film_session(&scenario, plan, &day, MOST_FILM_ROWS).ok_or_else(|| {
            Wrong::asked(
                "so much happens on this day that it cannot be shown; fish a shorter session",
            )
        })?;
        let view = swim_view(&scenario, plan, &day, &film, units);
        serde_json::to_vec(&view).map_err(|_| Wrong::missing("the day cannot be written down"))
    });
    Ok(([(header::CONTENT_TYPE, "application/json")], bytes.await?).into_response())
}

/// The scenario as it stands on the page, as a file that the command line reads.
async fn export(State(room): State<Arc<Room>>, RawQuery(query): RawQuery) -> Answer {
    let written = work(room, query, |room, asked| asked.written(&room.shelf, true)).await?;
    let mut response = written.text.into_response();
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("text/plain; charset=utf-8"));
    let file = format!(
        "attachment; filename=\"{}-edited.toml\"",
        written.name.replace(|c: char| !c.is_ascii_alphanumeric(), "-")
    );
    if let Ok(value) = HeaderValue::from_str(&file) {
        headers.insert(header::CONTENT_DISPOSITION, value);
    }
    Ok(response)
}
