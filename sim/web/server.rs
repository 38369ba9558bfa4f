//! The server: listens on this machine, serves a bounded number of connections, and stops when told.

use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use axum::{Router, middleware};
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::{sleep, timeout};

use super::api::{Room, routes};
use super::guard::{Doorway, guard};
use super::shelf::Shelf;

/// Connections served at once; more wait at the door.
const MOST_CONNECTIONS: usize = 64;
/// How long a client may take to say what it wants.
const HEADERS_WITHIN: Duration = Duration::from_secs(10);
/// How long one connection may last.
const CONNECTION_LASTS: Duration = Duration::from_secs(600);
/// Largest head of a request [bytes].
const LARGEST_HEAD: usize = 32 * 1024;
/// How often it is looked whether the server should stop.
const LOOKS_EVERY: Duration = Duration::from_millis(50);

/// What the page is to show, and where.
#[derive(Clone, Debug)]
pub struct Page {
    /// Folder whose scenarios may be shown, beside those that come with the program.
    pub folder: Option<PathBuf>,
    /// Name of the scenario shown first.
    pub first: Option<String>,
    /// Address to listen on; port 0 takes a free one.
    pub at: SocketAddr,
}

/// Serves the page until `stop` is set; `ready` is told the address once it can be asked.
///
/// # Errors
///
/// Where the address cannot be listened on, and what `ready` fails with.
pub fn serve(
    page: &Page,
    stop: &AtomicBool,
    ready: impl FnOnce(SocketAddr) -> io::Result<()>,
) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(8)
        .enable_all()
        .build()?;
    let room = Arc::new(Room::new(Shelf::new(page.folder.clone(), page.first.clone()))?);
    let served = runtime.block_on(async {
        let listener = TcpListener::bind(page.at).await?;
        let at = listener.local_addr()?;
        let door = Doorway { port: at.port(), only_here: at.ip().is_loopback() };
        let service = routes(Arc::clone(&room)).layer(middleware::from_fn_with_state(door, guard));
        ready(at)?;
        tokio::select! {
            () = accept(&listener, &service) => {}
            () = stopped(stop) => {}
        }
        Ok(())
    });
    room.cancel_all();
    runtime.shutdown_timeout(Duration::from_secs(1));
    served
}

async fn stopped(stop: &AtomicBool) {
    while !stop.load(Ordering::Relaxed) {
        sleep(LOOKS_EVERY).await;
    }
}

async fn accept(listener: &TcpListener, service: &Router) {
    let places = Arc::new(Semaphore::new(MOST_CONNECTIONS));
    loop {
        let Ok(place) = Arc::clone(&places).acquire_owned().await else { return };
        match listener.accept().await {
            Ok((stream, _)) => {
                tokio::spawn(converse(stream, service.clone(), place));
            }
            // Too many open files, most likely: others will close theirs.
            Err(_) => sleep(LOOKS_EVERY).await,
        }
    }
}

/// Serves one connection; whatever is wrong with it ends it and nothing else.
async fn converse(stream: TcpStream, service: Router, _place: OwnedSemaphorePermit) {
    let _ = stream.set_nodelay(true);
    let answers = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEADERS_WITHIN)
        .max_buf_size(LARGEST_HEAD)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(service));
    let _ = timeout(CONNECTION_LASTS, answers).await;
}
