//! The whole job in a browser: what is typed goes into the survey, and what follows from it is shown at once.
//!
//! Promised: nothing is fetched from elsewhere, nobody but this machine is let in, nothing outside the survey's own
//! folder is read or written, and what is taken away is what `make` writes. Not promised: any calculation; that is the
//! library's.

mod cut;
mod declared;
mod draft;
mod fields;
mod guard;
mod remarks;
mod rules;
mod share;
mod taken;
mod text;
mod view;

use crate::job::{self, folder::Files};
use crate::prove;
use crate::sheets::kit::{Voice, tell};
use crate::survey::{House, Record};
use axum::body::{Body, Bytes};
use axum::extract::{DefaultBodyLimit, Form, Path as Part, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use draft::{Draft, Refused};
use guard::Guard;
use share::Share;
use std::io::{Cursor, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};
pub use text::{Change, changed};
use zip::write::{SimpleFileOptions, ZipWriter};

/// Most that a form may send, bytes.
const MOST_SENT: usize = 1 << 16;

/// Most that a program may be to be proven, bytes, as a form sends it: each of them up to three times as long.
const MOST_PROGRAM: usize = 4 << 20;

/// The page of one survey, ready to be served.
pub struct Page {
    /// On this machine.
    listener: TcpListener,
    address: SocketAddr,
    /// On its network, where it is to be reached from there.
    network: Option<(TcpListener, SocketAddr, Share)>,
    draft: Draft,
}

/// Who is let in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reach {
    /// This machine alone.
    Here,
    /// Whoever knows the key of this sitting, on this machine's network as well; under that address of it, if one is
    /// named.
    Network(Option<Ipv4Addr>),
}

/// What is shared by all who look.
struct Shared {
    draft: Mutex<Arc<Draft>>,
    /// What was made last, and of which version.
    made: Mutex<Option<(u64, Arc<Files>)>>,
    /// Where it is reached from the network.
    share: Option<Share>,
}

impl Shared {
    /// The draft as it stands: who makes a page of it holds up nobody who types.
    fn draft(&self) -> Arc<Draft> {
        Arc::clone(&self.draft.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Changes the draft; it comes back as it then stands.
    fn change(
        &self,
        change: impl FnOnce(&mut Draft) -> Result<(), Refused>,
    ) -> Result<Arc<Draft>, Refused> {
        let mut draft = self.draft.lock().unwrap_or_else(PoisonError::into_inner);
        change(Arc::make_mut(&mut draft))?;
        Ok(Arc::clone(&draft))
    }
}

impl Page {
    /// Opens a survey, or begins one of that name, and takes a port of this machine that nobody else reaches; any
    /// free one where `port` is 0; the same one on its network, if that is let in. `record` finds what is done at the
    /// house already.
    ///
    /// # Errors
    /// Where the survey cannot be read or the port cannot be had: in words.
    pub fn open(
        survey: &Path,
        port: u16,
        reach: Reach,
        record: fn(&Path, &House) -> Result<Record, String>,
    ) -> Result<Page, String> {
        let draft = Draft::open(survey, record)?;
        let bind = |host: Ipv4Addr, port: u16| {
            let taken =
                |error| format!("{host}, port {port}: {error}; another one is free with --port 0");
            let listener = TcpListener::bind((host, port)).map_err(taken)?;
            let address = listener.local_addr().map_err(taken)?;
            Ok::<_, String>((listener, address))
        };
        let (listener, address) = bind(Ipv4Addr::LOCALHOST, port)?;
        let network = match reach {
            Reach::Here => None,
            Reach::Network(host) => {
                let host = host.map_or_else(share::own_address, Ok)?;
                let (listener, address) = bind(host, address.port())?;
                Some((listener, address, Share::at(address)?))
            }
        };
        Ok(Page { listener, address, network, draft })
    }

    /// Where a browser on this machine finds it.
    pub fn address(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// Where a telephone on the network finds it, and the square code of that in letters.
    pub fn from_network(&self) -> Option<(&str, String)> {
        let share = self.network.as_ref().map(|(_, _, share)| share)?;
        Some((&share.address, share.in_letters()))
    }

    /// Opens a browser on this machine.
    ///
    /// # Errors
    /// Where none can be started: in words.
    pub fn show(&self) -> Result<(), String> {
        let address = self.address();
        open::that_detached(&address)
            .map_err(|error| format!("no browser can be started ({error}); open {address} in one"))
    }

    /// Serves until the process is asked to end.
    ///
    /// # Errors
    /// Where the system gives no threads or no connections.
    pub fn serve(self) -> std::io::Result<()> {
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
        let Page { listener, address, network, draft } = self;
        let shared = Arc::new(Shared {
            draft: Mutex::new(Arc::new(draft)),
            made: Mutex::new(None),
            share: network.as_ref().map(|(_, _, share)| share.clone()),
        });
        runtime.block_on(async move {
            let here = served(listener, &shared, Guard::here(address.port()));
            let network = async {
                match network {
                    Some((listener, address, share)) => {
                        served(listener, &shared, Guard::shared(address, share)).await
                    }
                    None => std::future::pending().await,
                }
            };
            tokio::select! {
                ended = here => ended,
                ended = network => ended,
                ended = tokio::signal::ctrl_c() => ended,
            }
        })
    }
}

/// Serves whom the guard lets in.
async fn served(listener: TcpListener, shared: &Arc<Shared>, guard: Guard) -> std::io::Result<()> {
    listener.set_nonblocking(true)?;
    let listener = tokio::net::TcpListener::from_std(listener)?;
    axum::serve(listener, router(Arc::clone(shared), guard)).await
}

fn router(shared: Arc<Shared>, guard: Guard) -> Router {
    let fixed = |kind: &'static str, content: &'static str| {
        get(move || async move { ([(header::CONTENT_TYPE, kind)], content) })
    };
    let script = |content| fixed("text/javascript; charset=utf-8", content);
    Router::new()
        .route("/", get(house))
        .route("/sash/{number}", get(sash))
        .route("/workshop", get(workshop))
        .route("/sash/{number}/warmth.svg", get(warmth))
        .route(
            "/sash/{number}/cut",
            get(cut_of).post(prove_one).layer(DefaultBodyLimit::max(MOST_PROGRAM)),
        )
        .route("/set", post(set))
        .route("/add", post(add))
        .route("/take-out", post(take_out))
        .route("/save", post(save))
        .route("/away", get(away))
        .route("/away/{*name}", get(file))
        .route("/away.zip", get(folder))
        .route("/page.css", fixed("text/css; charset=utf-8", include_str!("page.css")))
        .route("/page.js", script(include_str!("page.js")))
        .route("/picture.js", script(include_str!("picture.js")))
        .route("/cut.js", script(include_str!("cut.js")))
        .route("/favicon.ico", get(|| async { StatusCode::NO_CONTENT }))
        .fallback(nowhere)
        .layer(DefaultBodyLimit::max(MOST_SENT))
        .layer(middleware::from_fn_with_state((guard, Arc::clone(&shared)), guard::check))
        .with_state(shared)
}

async fn nowhere(State(shared): State<Arc<Shared>>) -> Response {
    refused(&Refused::Nowhere, view::voice(&shared.draft()))
}

/// Work for a thread of its own, as it takes longer than a connection may be kept waiting; what it refuses is a page.
async fn aside<T: Send + 'static>(
    shared: Arc<Shared>,
    work: impl FnOnce(&Shared) -> Result<T, Refused> + Send + 'static,
) -> Result<T, Response> {
    let own = Arc::clone(&shared);
    let worked = tokio::task::spawn_blocking(move || work(&own)).await;
    let voice = || view::voice(&shared.draft());
    let failed = |_| Refused::NotMade(voice().word("page-not-made"));
    worked.map_err(failed).and_then(|worked| worked).map_err(|why| refused(&why, voice()))
}

async fn house(State(shared): State<Arc<Shared>>) -> Result<Html<String>, Response> {
    aside(shared, move |shared| Ok(Html(view::house(&shared.draft(), shared.share.as_ref())))).await
}

async fn workshop(State(shared): State<Arc<Shared>>) -> Result<Html<String>, Response> {
    aside(shared, move |shared| Ok(Html(view::workshop(&shared.draft())))).await
}

async fn sash(
    State(shared): State<Arc<Shared>>,
    Part(number): Part<usize>,
) -> Result<Html<String>, Response> {
    aside(shared, move |shared| {
        view::sash(&shared.draft(), number).map(Html).ok_or(Refused::Nowhere)
    })
    .await
}

async fn warmth(
    State(shared): State<Arc<Shared>>,
    Part(number): Part<usize>,
) -> Result<Response, Response> {
    let picture = aside(shared, move |shared| {
        let (id, house, record) = {
            let draft = shared.draft();
            let id = view::id(&draft, number).ok_or(Refused::Nowhere)?;
            let (house, record, _) = draft.house().ok_or(Refused::NotYet)?;
            (id, house.clone(), record.clone())
        };
        let sash = view::measured(&house, &id).ok_or(Refused::NotYet)?;
        let picture = job::look_at_warmth(&house, sash, &record);
        picture.ok().flatten().ok_or(Refused::Nowhere)
    });
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], picture.await?).into_response())
}

/// What was refused, as a page.
fn refused(why: &Refused, voice: Voice) -> Response {
    let (status, words) = match why {
        Refused::Changed(key) => (StatusCode::CONFLICT, tell!(voice, "page-changed", key)),
        Refused::Unknown(key) => {
            (StatusCode::BAD_REQUEST, tell!(voice, "page-unknown", key = format!("{key:?}")))
        }
        Refused::NotYet => (StatusCode::CONFLICT, voice.word("page-not-yet")),
        Refused::Disk(why) | Refused::NotMade(why) => {
            (StatusCode::INTERNAL_SERVER_ERROR, why.clone())
        }
        Refused::Nowhere => (StatusCode::NOT_FOUND, voice.word("page-nowhere")),
    };
    let page = view::message(&voice.word("page-not-taken"), &words, voice);
    (status, Html(page)).into_response()
}

/// Back to the page that asked: one of ours, or the house.
fn back(headers: &HeaderMap) -> Response {
    let from = headers.get(header::REFERER).and_then(|from| from.to_str().ok());
    let path = from.and_then(|from| from.splitn(4, '/').nth(3)?.split('?').next());
    let number = path.and_then(|path| path.strip_prefix("sash/")?.parse::<usize>().ok());
    let to = match (path, number) {
        (Some("workshop"), _) => "/workshop".to_owned(),
        (_, Some(number)) => format!("/sash/{number}"),
        _ => "/".to_owned(),
    };
    Redirect::to(&to).into_response()
}

/// The page that the script is on, as it is now; none where no script asks.
fn live(headers: &HeaderMap, draft: &Draft) -> Option<Result<String, Refused>> {
    let page = headers.get("x-page")?.to_str().ok()?;
    if page == "/workshop" {
        return Some(Ok(view::workshop(draft)));
    }
    let number = page.strip_prefix("/sash/")?.parse().ok()?;
    Some(view::sash(draft, number).ok_or(Refused::Nowhere))
}

async fn set(
    State(shared): State<Arc<Shared>>,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, Response> {
    aside(shared, move |shared| {
        let (version, fields): (Vec<_>, Vec<_>) =
            fields.into_iter().partition(|(name, _)| name == "version");
        let seen = version.first().and_then(|(_, seen)| seen.parse().ok()).unwrap_or(0);
        let draft = shared.change(|draft| draft.set(&fields, seen))?;
        let Some(page) = live(&headers, &draft) else { return Ok(back(&headers)) };
        Ok(Html(page?).into_response())
    })
    .await
}

/// The value of one field of a form.
fn one(fields: &[(String, String)], wanted: &str) -> String {
    let found = fields.iter().find(|(name, _)| name == wanted);
    found.map(|(_, value)| value.clone()).unwrap_or_default()
}

async fn add(
    State(shared): State<Arc<Shared>>,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, Response> {
    let list = one(&fields, "list");
    aside(shared, move |shared| shared.change(|draft| draft.add(&list)).map(|_| back(&headers)))
        .await
}

async fn take_out(
    State(shared): State<Arc<Shared>>,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, Response> {
    aside(shared, move |shared| {
        let part = one(&fields, "part");
        shared.change(|draft| draft.take_out(&part))?;
        // A sash that is gone has no page.
        Ok(if part.contains('.') { back(&headers) } else { Redirect::to("/").into_response() })
    })
    .await
}

async fn save(State(shared): State<Arc<Shared>>, headers: HeaderMap) -> Result<Response, Response> {
    aside(shared, move |shared| shared.change(Draft::save).map(|_| back(&headers))).await
}

/// Everything that `make` writes of the survey as it stands, made once a version.
fn made(shared: &Shared) -> Result<(String, u64, Arc<Files>), Refused> {
    let (house, record, version) = {
        let draft = shared.draft();
        let house = draft.house().filter(|(_, _, whole)| *whole && draft.no_record().is_none());
        let (house, record, _) = house.ok_or(Refused::NotYet)?;
        (house.clone(), record.clone(), draft.version())
    };
    let mut kept = shared.made.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((of, files)) = kept.as_ref().filter(|(of, _)| *of == version) {
        return Ok((house.name, *of, Arc::clone(files)));
    }
    let made = job::make_against(&house, &record);
    let made = made.map_err(|error| Refused::NotMade(error.to_string()))?;
    let files = Arc::new(made.files);
    *kept = Some((version, Arc::clone(&files)));
    Ok((house.name, version, files))
}

/// The sash's own programs, or what was handed in: alone, or in place of one of them.
fn see_cut(
    shared: &Shared,
    number: usize,
    handed_in: Option<(&str, &str)>,
) -> Result<Html<String>, Refused> {
    let (id, house) = {
        let draft = shared.draft();
        let id = view::id(&draft, number).ok_or(Refused::Nowhere)?;
        let (house, ..) = draft.house().ok_or(Refused::NotYet)?;
        (id, house.clone())
    };
    // As it was read last.
    let sash = view::measured(&house, &id).ok_or(Refused::NotYet)?;
    let files = made(shared).map(|(_, _, files)| files);
    let files = files.iter().flat_map(|files| files.iter());
    let own = files.filter_map(|(name, text)| {
        let name = name.strip_prefix(&sash.id)?.strip_prefix("/cuts/")?;
        Some((name.to_owned(), String::from_utf8_lossy(text).into_owned()))
    });
    let own: Vec<(String, String)> = own.collect();
    let all = own.iter().map(|(name, text)| prove::Program::new(name, text));
    let voice = Voice::of(&house.workshop.printer);
    let alone = voice.word("page-this-program");
    let programs: Vec<_> = match handed_in {
        Some((text, instead)) if own.iter().any(|(name, _)| name == instead) => all
            .map(|own| if own.name == instead { prove::Program { text, ..own } } else { own })
            .collect(),
        Some((text, _)) => vec![prove::Program::new(&alone, text)],
        None => all.collect(),
    };
    let followed = (!programs.is_empty()).then(|| job::follow(sash, &house.workshop, &programs));
    let followed = followed.transpose().map_err(|error| Refused::NotMade(error.to_string()))?;
    let names: Vec<String> = own.iter().map(|(name, _)| name.clone()).collect();
    Ok(Html(cut::cut(&cut::Cut {
        number,
        id: &sash.id,
        own: &names,
        programs: &programs,
        followed: followed.as_ref(),
        handed_in,
        voice,
    })))
}

async fn cut_of(
    State(shared): State<Arc<Shared>>,
    Part(number): Part<usize>,
) -> Result<Html<String>, Response> {
    aside(shared, move |shared| see_cut(shared, number, None)).await
}

/// A program of whatever origin, held against the sash as it was read last.
async fn prove_one(
    State(shared): State<Arc<Shared>>,
    Part(number): Part<usize>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Html<String>, Response> {
    aside(shared, move |shared| {
        let (text, instead) = (one(&fields, "program"), one(&fields, "instead"));
        see_cut(shared, number, Some((&text, &instead)))
    })
    .await
}

async fn away(State(shared): State<Arc<Shared>>) -> Result<Html<String>, Response> {
    let voice = view::voice(&shared.draft());
    let (house, version, files) = aside(shared, made).await?;
    Ok(Html(taken::away(&house, &files, version, voice)))
}

async fn file(
    State(shared): State<Arc<Shared>>,
    Part(name): Part<String>,
) -> Result<Response, Response> {
    let voice = view::voice(&shared.draft());
    let (_, _, files) = aside(shared, made).await?;
    let content = files.get(&name).ok_or_else(|| refused(&Refused::Nowhere, voice))?;
    let kind = match name.rsplit('.').next() {
        Some("pdf") => "application/pdf",
        Some("svg") => "image/svg+xml",
        Some("json") => "application/json",
        Some("csv") => "text/csv; charset=utf-8",
        Some("html") => "text/html; charset=utf-8",
        Some("dxf") => "image/vnd.dxf",
        _ => "text/plain; charset=utf-8",
    };
    Ok(([(header::CONTENT_TYPE, kind)], Bytes::from(content.clone())).into_response())
}

async fn folder(State(shared): State<Arc<Shared>>) -> Result<Response, Response> {
    let zip = aside(shared, move |shared| {
        let (house, _, files) = made(shared)?;
        zip(&house, &files).map_err(|error| Refused::NotMade(error.to_string()))
    })
    .await?;
    let kind = (header::CONTENT_TYPE, "application/zip");
    let name = (header::CONTENT_DISPOSITION, "attachment; filename=\"fillister.zip\"");
    Ok(([kind, name], Body::from(zip)).into_response())
}

/// The files of a folder named for the house, in one. No clock goes into it: equal files give equal bytes.
fn zip(house: &str, files: &Files) -> Result<Vec<u8>, zip::result::ZipError> {
    let plain = |letter: char| {
        if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { '-' }
    };
    let root: String = house.chars().map(plain).collect();
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = zip::CompressionMethod::Stored;
    let options = SimpleFileOptions::default().compression_method(stored);
    for (name, content) in files {
        zip.start_file(format!("{root}/{name}"), options)?;
        zip.write_all(content)?;
    }
    Ok(zip.finish()?.into_inner())
}
