//! Which address does what. Each waits for a thread of its own where files are read or the job
//! is done, so that no request holds up another.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::JsonRejection;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use serde::Serialize;
use serde::de::DeserializeOwned;
use tokio::sync::watch;

use crate::files::load::vocabulary;
use crate::layout::layout_schema;

use super::guard::refuse;
use super::wire::{Answer, Asked, Named, NewLayout, Signing, Stored};
use super::work::{Desk, Not, Open, Way};
use super::{assets, bench, choices, earlier, events, folder, photos};

/// Most bytes of a request: a layout is at most 1 MiB, and twice as long as text in JSON.
const MOST_ASKED: usize = 4 * 1024 * 1024;

/// What is said of an address that leads to nothing.
pub(super) const NOT_THERE: &str =
    "there is no such place at this desk: open the address that `ansata desk` printed";

/// What every request knows.
#[derive(Clone)]
pub(super) struct Held {
    /// The desk.
    pub(super) desk: Arc<Desk>,
    /// Whether it closes.
    pub(super) closing: watch::Receiver<bool>,
}

/// All addresses below the token.
pub(super) fn routes(held: Held) -> axum::Router {
    let layout = axum::Router::new()
        .route("/bench", get(bench_now))
        .route("/change", post(change))
        .route("/undo", post(undo))
        .route("/redo", post(redo))
        .route("/events", get(heard))
        .route("/cures", get(cures))
        .route("/files", get(files))
        .route("/file/{file}", get(file))
        .route("/sign", post(sign))
        .route("/withdraw", post(withdraw))
        .route("/versions", get(versions))
        .route("/bring-back", post(bring_back))
        .route("/letterings", get(letterings))
        .route("/placings", get(placings))
        .route("/fixings", get(fixings))
        .route("/sizes", get(sizes))
        .route("/photo/{file}", get(photo))
        .layer(DefaultBodyLimit::max(MOST_ASKED))
        .route("/photo", post(store).layer(DefaultBodyLimit::max(photos::MOST_BYTES + 1)));
    axum::Router::new()
        .route("/", get(|| async { assets::page("index.html") }))
        .route("/page/{file}", get(|Path(file): Path<String>| async move { assets::page(&file) }))
        .route("/folder", get(folder_now))
        .route("/schema", get(schema))
        .route("/new", post(new).layer(DefaultBodyLimit::max(MOST_ASKED)))
        .nest("/layout/{name}", layout)
        .with_state(held)
}

/// The address without its last stroke, which relative addresses need.
pub(super) fn to_page(token: &str) -> Redirect {
    Redirect::permanent(&format!("/{token}/"))
}

/// Work on a thread that may wait.
async fn work<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Not> + Send + 'static,
) -> Result<T, Response> {
    match tokio::task::spawn_blocking(work).await {
        Ok(Ok(done)) => Ok(done),
        Ok(Err(Not::There)) => Err(refuse(StatusCode::NOT_FOUND, NOT_THERE)),
        Ok(Err(Not::So(why))) => Err(refuse(StatusCode::CONFLICT, &why)),
        Err(_) => {
            let why = "the desk failed at this; the file is as it was";
            Err(refuse(StatusCode::INTERNAL_SERVER_ERROR, why))
        }
    }
}

/// As [`work`], on a layout, answered as JSON.
async fn on_layout<T: Serialize + Send + 'static>(
    held: Held,
    name: String,
    then: impl FnOnce(&Desk, &Open) -> Result<T, Not> + Send + 'static,
) -> Response {
    let done = work(move || {
        let open = held.desk.open(&name)?;
        then(&held.desk, &open)
    });
    done.await.map_or_else(|refused| refused, |done| Json(done).into_response())
}

/// What a page sent, or why it cannot be read.
fn read<T: DeserializeOwned>(sent: Result<Json<T>, JsonRejection>) -> Result<T, Response> {
    sent.map(|Json(sent)| sent).map_err(|why| refuse(why.status(), &why.body_text()))
}

type Name = Path<String>;
type Asking = Query<BTreeMap<String, String>>;

async fn folder_now(State(held): State<Held>) -> Response {
    let told = work(move || Ok(folder::told(&held.desk.folder, held.desk.opened.clone())));
    told.await.map_or_else(|refused| refused, |told| Json(told).into_response())
}

async fn schema() -> Response {
    let text = layout_schema(&vocabulary());
    ([(CONTENT_TYPE, "application/json")], text).into_response()
}

async fn new(State(held): State<Held>, sent: Result<Json<NewLayout>, JsonRejection>) -> Response {
    let new = match read(sent) {
        Ok(new) => new,
        Err(refused) => return refused,
    };
    let begun = work(move || {
        let name = folder::begun(&held.desk.folder, &new);
        name.map_err(Not::from)
    });
    begun.await.map_or_else(|refused| refused, |name| Json(Stored { name }).into_response())
}

async fn bench_now(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| desk.bench(open)).await
}

async fn change(
    State(held): State<Held>,
    Path(name): Name,
    sent: Result<Json<Asked>, JsonRejection>,
) -> Response {
    match read(sent) {
        Ok(asked) => on_layout(held, name, move |desk, open| desk.change(open, &asked)).await,
        Err(refused) => refused,
    }
}

async fn undo(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| desk.step(open, Way::Back)).await
}

async fn redo(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| desk.step(open, Way::Again)).await
}

async fn heard(State(held): State<Held>, Path(name): Name) -> Response {
    let desk = Arc::clone(&held.desk);
    match work(move || desk.open(&name)).await {
        Ok(open) => events::events(open.bell.subscribe(), held.closing).into_response(),
        Err(refused) => refused,
    }
}

async fn cures(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| {
        let made = desk.made(open)?;
        Ok(bench::told_cures(made.version, made.cures()))
    })
    .await
}

async fn files(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| {
        let made = desk.made(open)?;
        Ok(bench::told_files(made.version, made.pack()?))
    })
    .await
}

/// A file of the pack; with `download` for the browser to keep it.
async fn file(
    State(held): State<Held>,
    Path((name, file)): Path<(String, String)>,
    Query(asked): Asking,
) -> Response {
    let kept = file.clone();
    let bytes = work(move || {
        let open = held.desk.open(&name)?;
        let made = held.desk.made(&open)?;
        let output = made.pack()?.iter().find(|output| output.name == file);
        output.map(|output| output.bytes.clone()).ok_or(Not::There)
    });
    let bytes = match bytes.await {
        Ok(bytes) => bytes,
        Err(refused) => return refused,
    };
    let mut response = ([(CONTENT_TYPE, assets::kind(&kept))], bytes).into_response();
    let headers = response.headers_mut();
    let saved = format!("attachment; filename*=UTF-8''{}", assets::escaped(&kept));
    if let (true, Ok(saved)) = (asked.contains_key("download"), saved.parse()) {
        headers.insert(CONTENT_DISPOSITION, saved);
    }
    // A browser's own reader of PDF files is a page with scripts; nothing else of ours is.
    if kept.ends_with(".pdf") {
        let policy = axum::http::HeaderValue::from_static("frame-ancestors 'none'");
        headers.insert(CONTENT_SECURITY_POLICY, policy);
    }
    response
}

async fn sign(
    State(held): State<Held>,
    Path(name): Name,
    sent: Result<Json<Signing>, JsonRejection>,
) -> Response {
    match read(sent) {
        Ok(signing) => on_layout(held, name, |desk, open| desk.sign(open, signing)).await,
        Err(refused) => refused,
    }
}

async fn withdraw(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| desk.withdraw(open)).await
}

async fn versions(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |_, open| Ok(earlier::all(&open.path()))).await
}

async fn bring_back(
    State(held): State<Held>,
    Path(name): Name,
    sent: Result<Json<Named>, JsonRejection>,
) -> Response {
    match read(sent) {
        Ok(Named { name: version }) => {
            let back = move |desk: &Desk, open: &Open| -> Result<Answer, Not> {
                desk.bring_back(open, &version)
            };
            on_layout(held, name, back).await
        }
        Err(refused) => refused,
    }
}

/// A number of a query, from 0.
fn index(asked: &BTreeMap<String, String>, key: &str) -> Option<usize> {
    asked.get(key)?.parse().ok()
}

async fn letterings(State(held): State<Held>, Path(name): Name, Query(asked): Asking) -> Response {
    let line = index(&asked, "line");
    on_layout(held, name, move |desk, open| {
        Ok(desk.made(open)?.job().map_or_else(Vec::new, |job| choices::letterings(job, line)))
    })
    .await
}

async fn placings(State(held): State<Held>, Path(name): Name, Query(asked): Asking) -> Response {
    let photo = index(&asked, "photo").unwrap_or(0);
    on_layout(held, name, move |desk, open| {
        Ok(desk.made(open)?.job().map_or_else(Vec::new, |job| choices::placings(job, photo)))
    })
    .await
}

async fn fixings(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| {
        Ok(desk.made(open)?.job().map_or_else(Vec::new, choices::fixings))
    })
    .await
}

async fn sizes(State(held): State<Held>, Path(name): Name) -> Response {
    on_layout(held, name, |desk, open| {
        Ok(desk.made(open)?.job().map_or_else(Vec::new, choices::sizes))
    })
    .await
}

/// A whole photograph, small, to choose its crop by: `0.png`.
async fn photo(State(held): State<Held>, Path((name, file)): Path<(String, String)>) -> Response {
    let png = work(move || {
        let index = file.strip_suffix(".png").and_then(|index| index.parse::<usize>().ok());
        let open = held.desk.open(&name)?;
        let made = held.desk.made(&open)?;
        let job = made.job().ok_or(Not::There)?;
        let photo = index.and_then(|index| job.layout.photos.get(index));
        Ok(photos::whole(photo.ok_or(Not::There)?)?)
    });
    match png.await {
        Ok(png) => ([(CONTENT_TYPE, "image/png")], png).into_response(),
        Err(refused) => refused,
    }
}

/// A photograph laid beside the layout, its bytes as they are.
async fn store(
    State(held): State<Held>,
    Path(name): Name,
    Query(asked): Asking,
    bytes: Result<Bytes, axum::extract::rejection::BytesRejection>,
) -> Response {
    let Ok(bytes) = bytes else {
        return refuse(StatusCode::PAYLOAD_TOO_LARGE, photos::TOO_LARGE);
    };
    let called = asked.get("name").cloned().unwrap_or_default();
    on_layout(held, name, move |desk, _| Ok(photos::stored(&desk.folder, &called, &bytes)?)).await
}
