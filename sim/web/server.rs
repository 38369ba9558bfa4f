//! The server: listens on one address, serves a limited number of connections, and stops on request.

use std::io;
use std::net::SocketAddr;
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

use super::api::{AppState, routes};
use super::catalogue::Catalogue;
use super::origin_policy::{OriginPolicy, enforce};
use super::qr;

/// Maximum number of connections served at once; more have to wait. A connection that sends nothing costs a few
/// kilobytes, so there is room for hundreds of them.
const MAX_CONNECTIONS: usize = 512;
/// Number of connections from which on a new one is closed after its answer, so that idle ones do not keep others waiting.
const MANY_CONNECTIONS: usize = 256;
/// Maximum time until a client has sent the headers of a request.
const HEADER_TIMEOUT: Duration = Duration::from_secs(5);
/// Maximum duration of one connection.
const CONNECTION_TIMEOUT: Duration = Duration::from_secs(600);
/// Maximum size of the headers of a request [bytes].
const MAX_HEADER_BYTES: usize = 32 * 1024;
/// Interval between checks whether the server should stop.
const STOP_CHECK_INTERVAL: Duration = Duration::from_millis(50);

/// Serves the page at `address` until `stop` is set; port 0 takes a free one.
///
/// Calls `ready` with the address to type as soon as requests are accepted.
///
/// # Errors
///
/// If the server cannot listen on the address, or if `ready` fails.
pub fn serve(
    catalogue: Catalogue,
    address: SocketAddr,
    stop: &AtomicBool,
    ready: impl FnOnce(SocketAddr) -> io::Result<()>,
) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(8)
        .enable_all()
        .build()?;
    let listener = runtime.block_on(TcpListener::bind(address))?;
    let bound = listener.local_addr()?;
    let state = Arc::new(AppState::new(catalogue, qr::public_address(bound))?);
    let result = runtime.block_on(async {
        let policy = OriginPolicy { port: bound.port(), is_local_only: bound.ip().is_loopback() };
        let policy = middleware::from_fn_with_state(policy, enforce);
        let service = routes(Arc::clone(&state)).layer(policy);
        ready(qr::typed_address(bound))?;
        tokio::select! {
            () = accept(&listener, &service) => {}
            () = stopped(stop) => {}
        }
        Ok(())
    });
    state.cancel_all();
    runtime.shutdown_timeout(Duration::from_secs(1));
    result
}

/// Waits until `stop` is set.
async fn stopped(stop: &AtomicBool) {
    while !stop.load(Ordering::Relaxed) {
        sleep(STOP_CHECK_INTERVAL).await;
    }
}

/// Accepts connections, each served by a task of its own.
async fn accept(listener: &TcpListener, service: &Router) {
    let permits = Arc::new(Semaphore::new(MAX_CONNECTIONS));
    loop {
        let Ok(permit) = Arc::clone(&permits).acquire_owned().await else { return };
        match listener.accept().await {
            Ok((stream, _)) => {
                let has_room = permits.available_permits() > MAX_CONNECTIONS - MANY_CONNECTIONS;
                tokio::spawn(serve_connection(stream, service.clone(), has_room, permit));
            }
            // Most likely too many open files: wait until other connections have closed.
            Err(_) => sleep(STOP_CHECK_INTERVAL).await,
        }
    }
}

/// Serves one connection; an error ends this connection only.
async fn serve_connection(
    stream: TcpStream,
    service: Router,
    keep_alive: bool,
    _permit: OwnedSemaphorePermit,
) {
    let _ = stream.set_nodelay(true);
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .keep_alive(keep_alive)
        .header_read_timeout(HEADER_TIMEOUT)
        .max_buf_size(MAX_HEADER_BYTES)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(service));
    let _ = timeout(CONNECTION_TIMEOUT, connection).await;
}
