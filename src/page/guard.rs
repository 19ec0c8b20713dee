//! Who is let in, and what a browser may do with what it gets.

use super::share::{COOKIE, Share};
use super::{Shared, view};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::Arc;

/// The names under which the page may be asked for: another one comes from a page elsewhere that made a name of its own
/// lead to this machine.
#[derive(Clone)]
pub(super) struct Guard {
    hosts: Vec<String>,
    /// What whoever asks must know; nothing on this machine.
    share: Option<Share>,
}

/// Why somebody is not let in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kept {
    /// It was not meant for this page, or does not come from it.
    Foreign,
    /// Without the key.
    NoKey,
}

impl Guard {
    /// For this machine alone.
    pub(super) fn here(port: u16) -> Guard {
        let hosts = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        Guard { hosts, share: None }
    }

    /// For the network, under that address alone.
    pub(super) fn shared(address: SocketAddr, share: Share) -> Guard {
        Guard { hosts: vec![address.to_string()], share: Some(share) }
    }

    /// Whether a request was meant for this page, with the key where one is wanted, and a change was asked for by a page
    /// of ours.
    fn lets_in(&self, method: &Method, uri: &Uri, headers: &HeaderMap) -> Result<(), Kept> {
        let text = |name: HeaderName| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
        let host = text(header::HOST).ok_or(Kept::Foreign)?;
        if !self.hosts.iter().any(|own| own == host)
            || headers.get_all(header::HOST).iter().count() > 1
        {
            return Err(Kept::Foreign);
        }
        let ours = |origin: &str| origin.strip_prefix("http://") == Some(host);
        let meant = match text(header::ORIGIN) {
            Some(origin) => ours(origin),
            // A browser names where a change comes from.
            None => method == Method::GET || method == Method::HEAD,
        };
        let known = self.share.as_ref().is_none_or(|share| {
            told(uri).into_iter().chain(kept(headers)).any(|key| share.is(key))
        });
        match (meant, known) {
            (false, _) => Err(Kept::Foreign),
            (_, false) => Err(Kept::NoKey),
            (true, true) => Ok(()),
        }
    }

    /// What a browser that tells the key in the address is to keep.
    fn cookie(&self, uri: &Uri) -> Option<HeaderValue> {
        let share = self.share.as_ref()?;
        let told = told(uri).filter(|key| share.is(key));
        told.and_then(|_| HeaderValue::from_str(&share.cookie()).ok())
    }
}

/// The key in an address.
fn told(uri: &Uri) -> Option<&str> {
    uri.query()?.split('&').find_map(|pair| pair.strip_prefix("key="))
}

/// The keys that a browser has kept.
fn kept(headers: &HeaderMap) -> impl Iterator<Item = &str> {
    let all = headers.get_all(header::COOKIE).into_iter().filter_map(|value| value.to_str().ok());
    let all = all.flat_map(|all| all.split(';'));
    all.filter_map(|one| one.trim().strip_prefix(COOKIE)?.strip_prefix('='))
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
    State((guard, shared)): State<(Guard, Arc<Shared>)>,
    request: Request,
    next: Next,
) -> Response {
    let cookie = guard.cookie(request.uri());
    let refused = |key: &str| {
        let voice = view::voice(&shared.draft());
        let page = view::message(&voice.word("page-not-for-you"), &voice.word(key), voice);
        (StatusCode::FORBIDDEN, Html(page)).into_response()
    };
    let mut answer = match guard.lets_in(request.method(), request.uri(), request.headers()) {
        Ok(()) => next.run(request).await,
        Err(Kept::Foreign) => refused("page-foreign"),
        Err(Kept::NoKey) => refused("page-no-key"),
    };
    for (name, value) in HEADERS {
        answer.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    if let Some(cookie) = cookie {
        answer.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    answer
}
