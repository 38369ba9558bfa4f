//! Which requests are accepted: those of this page, of a limited size.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::error::ApiError;

/// Maximum length of an address [bytes].
const MAX_ADDRESS_BYTES: usize = 10_000;
/// Maximum size of a body [bytes], where the page sends none.
const MAX_BODY_BYTES: u64 = 1_024;
/// Maximum size of a body with a catch log, and perhaps a learned book [bytes].
const MAX_LOG_BYTES: u64 = 500_000;
/// Addresses to which the page sends a catch log.
const LOG_ADDRESSES: [&str; 2] = ["/api/bank", "/api/now"];

/// The address at which requests are accepted.
#[derive(Clone, Copy, Debug)]
pub(super) struct OriginPolicy {
    pub(super) port: u16,
    /// Whether only requests from this machine are accepted.
    pub(super) is_local_only: bool,
}

/// Headers of every response: nothing is loaded from other sites or cached, no other site can frame the page or hold on
/// to its window, and the page needs none of the browser's devices.
const HEADERS: [(HeaderName, &str); 9] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::CACHE_CONTROL, "no-store"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-embedder-policy"), "require-corp"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    ),
];

/// Middleware that refuses requests against the policy and adds the headers to every response.
pub(super) async fn enforce(
    State(policy): State<OriginPolicy>,
    request: Request,
    next: Next,
) -> Response {
    let mut response = match policy.refusal(&request) {
        Some(error) => error.into_response(),
        None => next.run(request).await,
    };
    for (name, value) in HEADERS {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}

impl OriginPolicy {
    /// Why a request is refused; `None` if it is accepted.
    fn refusal(&self, request: &Request) -> Option<ApiError> {
        let forbidden =
            |message: &str| Some(ApiError::new(StatusCode::FORBIDDEN.as_u16(), message));
        let headers = request.headers();
        let Some(host) = self.host(headers) else {
            return forbidden("this server accepts requests only at its own address");
        };
        if let Some(origin) = headers.get(header::ORIGIN)
            && origin.to_str().ok() != Some(&format!("http://{host}"))
        {
            return forbidden("this server refuses requests from other sites");
        }
        // Other sites may link to the page, but not more.
        let is_cross_site = headers
            .get("sec-fetch-site")
            .is_some_and(|site| !matches!(site.as_bytes(), b"same-origin" | b"none"));
        if is_cross_site && request.uri().path() != "/" {
            return forbidden("this server refuses requests from other sites");
        }
        if ![Method::GET, Method::HEAD, Method::POST].contains(request.method()) {
            let message = "use GET, or POST to cancel a run or to send a log";
            return Some(ApiError::new(StatusCode::METHOD_NOT_ALLOWED.as_u16(), message));
        }
        let address = request.uri().path_and_query().map_or(0, |path| path.as_str().len());
        if address > MAX_ADDRESS_BYTES {
            return Some(ApiError::new(
                StatusCode::URI_TOO_LONG.as_u16(),
                "the address is too long",
            ));
        }
        let takes_log = LOG_ADDRESSES.contains(&request.uri().path());
        let max_bytes = if takes_log { MAX_LOG_BYTES } else { MAX_BODY_BYTES };
        let has_body = headers.contains_key(header::TRANSFER_ENCODING)
            || headers.get(header::CONTENT_LENGTH).is_some_and(|length| {
                let bytes = length.to_str().ok().and_then(|text| text.parse::<u64>().ok());
                bytes.is_none_or(|bytes| bytes > max_bytes)
            });
        has_body.then(|| {
            ApiError::new(
                StatusCode::PAYLOAD_TOO_LARGE.as_u16(),
                if takes_log {
                    "the log is too long"
                } else {
                    "requests to this server have no body"
                },
            )
        })
    }

    /// The host of a request if it is an address of this server; anybody can make another host name point here.
    fn host<'a>(&self, headers: &'a HeaderMap) -> Option<&'a str> {
        let mut hosts = headers.get_all(header::HOST).iter();
        let (Some(host), None) = (hosts.next(), hosts.next()) else { return None };
        let host = host.to_str().ok()?;
        let (name, port) = match host.rsplit_once(':') {
            Some((name, port)) if !port.ends_with(']') => (name, port),
            _ => (host, "80"),
        };
        // Only the usual spelling counts: no leading zeros or signs, no brackets that do not belong.
        if port != self.port.to_string() {
            return None;
        }
        if name.eq_ignore_ascii_case("localhost") {
            return Some(host);
        }
        let (address, spelling) = match name.strip_prefix('[').and_then(|n| n.strip_suffix(']')) {
            Some(inner) => {
                let address: Ipv6Addr = inner.parse().ok()?;
                (IpAddr::V6(address), format!("[{address}]"))
            }
            None => {
                let address: Ipv4Addr = name.parse().ok()?;
                (IpAddr::V4(address), address.to_string())
            }
        };
        let is_ours = !self.is_local_only || address.is_loopback();
        (is_ours && spelling == name).then_some(host)
    }
}
