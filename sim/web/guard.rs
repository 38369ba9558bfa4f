//! Who may ask: this page and nobody else's, in requests of a reasonable size.

use std::net::IpAddr;

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::told::Wrong;

/// Longest address asked for [bytes].
const LONGEST_ADDRESS: usize = 10_000;
/// Largest body [bytes]; nothing that the page asks has one.
const LARGEST_BODY: u64 = 1_024;

/// Where the server stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Doorway {
    pub(super) port: u16,
    /// Whether only this machine may ask.
    pub(super) only_here: bool,
}

/// Headers on every answer: nothing is loaded from elsewhere, nothing is kept, no frame holds the page.
const HEADERS: [(HeaderName, &str); 5] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::CACHE_CONTROL, "no-store"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
];

/// Lets a request through if it may pass, and puts the headers on the answer.
pub(super) async fn guard(State(door): State<Doorway>, request: Request, next: Next) -> Response {
    let mut response = match door.refuses(&request) {
        Some(wrong) => wrong.into_response(),
        None => next.run(request).await,
    };
    for (name, value) in HEADERS {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}

impl Doorway {
    /// Why a request may not pass.
    fn refuses(&self, request: &Request) -> Option<Wrong> {
        let forbidden = |says: &str| Some(Wrong::of(StatusCode::FORBIDDEN, says));
        let headers = request.headers();
        let Some(host) = self.host(headers) else {
            return forbidden("this server answers only under its own address");
        };
        if let Some(origin) = headers.get(header::ORIGIN)
            && origin.to_str().ok() != Some(&format!("http://{host}"))
        {
            return forbidden("another site may not ask this server");
        }
        // A link on another site may open the page, but no more than that.
        let from_elsewhere = headers
            .get("sec-fetch-site")
            .is_some_and(|site| !matches!(site.as_bytes(), b"same-origin" | b"none"));
        if from_elsewhere && request.uri().path() != "/" {
            return forbidden("another site may not ask this server");
        }
        if ![Method::GET, Method::HEAD, Method::POST].contains(request.method()) {
            let says = "ask with GET, or cancel with POST";
            return Some(Wrong::of(StatusCode::METHOD_NOT_ALLOWED, says));
        }
        let address = request.uri().path_and_query().map_or(0, |asked| asked.as_str().len());
        if address > LONGEST_ADDRESS {
            return Some(Wrong::of(StatusCode::URI_TOO_LONG, "the address is too long"));
        }
        let has_body = headers.contains_key(header::TRANSFER_ENCODING)
            || headers.get(header::CONTENT_LENGTH).is_some_and(|length| {
                let bytes = length.to_str().ok().and_then(|text| text.parse::<u64>().ok());
                bytes.is_none_or(|bytes| bytes > LARGEST_BODY)
            });
        has_body
            .then(|| Wrong::of(StatusCode::PAYLOAD_TOO_LARGE, "nothing asked here needs a body"))
    }

    /// The address asked under, if it is one of this server's: a name could be made to point here by anybody.
    fn host<'a>(&self, headers: &'a HeaderMap) -> Option<&'a str> {
        let mut hosts = headers.get_all(header::HOST).iter();
        let (Some(host), None) = (hosts.next(), hosts.next()) else { return None };
        let host = host.to_str().ok()?;
        let (name, port) = host.rsplit_once(':').unwrap_or((host, "80"));
        if port.parse() != Ok(self.port) {
            return None;
        }
        if name.eq_ignore_ascii_case("localhost") {
            return Some(host);
        }
        let address: IpAddr = name.trim_start_matches('[').trim_end_matches(']').parse().ok()?;
        (!self.only_here || address.is_loopback()).then_some(host)
    }
}
