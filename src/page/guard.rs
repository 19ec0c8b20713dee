//! Who is let in, and what a browser may do with what it gets.

use super::{Shared, view};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::Arc;

/// The names under which the page may be asked for: another one comes from a page elsewhere that made a name of its own
/// lead to this machine.
pub(super) struct Guard {
    hosts: [String; 2],
}

impl Guard {
    pub(super) fn of(address: SocketAddr) -> Guard {
        let port = address.port();
        Guard { hosts: [format!("127.0.0.1:{port}"), format!("localhost:{port}")] }
    }

    /// Whether a request was meant for this page, and a change was asked for by a page of ours.
    fn lets_in(&self, method: &Method, headers: &HeaderMap) -> bool {
        let text = |name: HeaderName| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
        let Some(host) = text(header::HOST) else { return false };
        if !self.hosts.iter().any(|own| own == host)
            || headers.get_all(header::HOST).iter().count() > 1
        {
            return false;
        }
        let ours = |origin: &str| origin.strip_prefix("http://") == Some(host);
        match text(header::ORIGIN) {
            Some(origin) => ours(origin),
            // A browser names where a change comes from.
            None => method == Method::GET || method == Method::HEAD,
        }
    }
}

/// What every answer says of itself.
const HEADERS: [(HeaderName, &str); 5] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; \
         base-uri 'none'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::CACHE_CONTROL, "no-store"),
    (header::REFERRER_POLICY, "same-origin"),
    (header::X_FRAME_OPTIONS, "DENY"),
];

pub(super) async fn check(
    State(shared): State<Arc<Shared>>,
    request: Request,
    next: Next,
) -> Response {
    let mut answer = if shared.guard.lets_in(request.method(), request.headers()) {
        next.run(request).await
    } else {
        let words = "This page answers only a browser on this machine, under the address that the terminal shows.";
        (StatusCode::FORBIDDEN, Html(view::message("Not for you", words))).into_response()
    };
    for (name, value) in HEADERS {
        answer.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    answer
}
