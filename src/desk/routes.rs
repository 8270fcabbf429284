//! Which address does what. Each waits on a thread of its own where files are read or the job
//! is done, so that no request holds up another.

use std::collections::BTreeMap;

use axum::Json;
use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};

use crate::files::load::vocabulary;
use crate::job::Job;
use crate::layout::layout_schema;

use super::ask::{Held, Refusal, Reply, Sent, on_layout, work};
use super::wire::{
    Answer, Asked, Bench, Choice, Cures, Entry, Files, Folder, Named, NewLayout, Signing, Stored,
};
use super::work::{Desk, Not, Open, Way};
use super::{assets, bench, choices, earlier, events, folder, photos};

/// Most bytes of a request: a layout is at most 1 MiB, and longer as text in JSON.
const MOST_ASKED: usize = 4 * 1024 * 1024;

/// A browser's own reader of PDF files is a page with scripts; nothing else of ours is.
const POLICY_OF_PDF: HeaderValue = HeaderValue::from_static("frame-ancestors 'none'");

/// The name of a layout in an address.
type Name = Path<String>;

/// What stands behind the question mark of an address.
type Asking = Query<BTreeMap<String, String>>;

/// All addresses below the token.
pub(super) fn routes(held: Held) -> Router {
    Router::new()
        .route("/", get(|| async { assets::page("index.html") }))
        .route("/page/{file}", get(|Path(file): Name| async move { assets::page(&file) }))
        .route("/folder", get(folder_now))
        .route("/schema", get(schema))
        .route("/new", post(new))
        .nest("/layout/{name}", of_a_layout())
        .layer(DefaultBodyLimit::max(MOST_ASKED))
        .with_state(held)
}

fn of_a_layout() -> Router<Held> {
    Router::new()
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
        .route("/photo", post(store).layer(DefaultBodyLimit::max(photos::MOST_BYTES)))
}

async fn folder_now(State(held): State<Held>) -> Reply<Folder> {
    work(move || Ok(folder::told(&held.desk.folder, held.desk.opened.clone()))).await.map(Json)
}

async fn schema() -> Response {
    ([(CONTENT_TYPE, "application/json")], layout_schema(&vocabulary())).into_response()
}

async fn new(State(held): State<Held>, Sent(new): Sent<NewLayout>) -> Reply<Stored> {
    let begun = work(move || Ok(Stored { name: folder::begun(&held.desk.folder, &new)? }));
    begun.await.map(Json)
}

async fn bench_now(State(held): State<Held>, Path(name): Name) -> Reply<Bench> {
    on_layout(held, name, Desk::bench).await
}

async fn change(
    State(held): State<Held>,
    Path(name): Name,
    Sent(asked): Sent<Asked>,
) -> Reply<Answer> {
    on_layout(held, name, move |desk, open| desk.change(open, &asked)).await
}

async fn undo(State(held): State<Held>, Path(name): Name) -> Reply<Answer> {
    on_layout(held, name, |desk, open| desk.step(open, Way::Back)).await
}

async fn redo(State(held): State<Held>, Path(name): Name) -> Reply<Answer> {
    on_layout(held, name, |desk, open| desk.step(open, Way::Again)).await
}

async fn heard(State(held): State<Held>, Path(name): Name) -> Result<impl IntoResponse, Refusal> {
    let Held { desk, closing } = held;
    let open = work(move || desk.open(&name)).await?;
    Ok(events::events(open.bell.subscribe(), closing))
}

async fn cures(State(held): State<Held>, Path(name): Name) -> Reply<Cures> {
    on_layout(held, name, |desk, open| {
        let made = desk.made(open)?;
        Ok(bench::told_cures(made.version, made.cures()))
    })
    .await
}

async fn files(State(held): State<Held>, Path(name): Name) -> Reply<Files> {
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
) -> Result<Response, Refusal> {
    let called = file.clone();
    let bytes = work(move || {
        let open = held.desk.open(&name)?;
        let made = held.desk.made(&open)?;
        let output = made.pack()?.iter().find(|output| output.name == file);
        output.map(|output| output.bytes.clone()).ok_or(Not::There)
    });
    let mut response = ([(CONTENT_TYPE, assets::kind(&called))], bytes.await?).into_response();
    let headers = response.headers_mut();
    let saved = format!("attachment; filename*=UTF-8''{}", assets::escaped(&called));
    if let (true, Ok(saved)) = (asked.contains_key("download"), saved.parse()) {
        headers.insert(CONTENT_DISPOSITION, saved);
    }
    if called.ends_with(".pdf") {
        headers.insert(CONTENT_SECURITY_POLICY, POLICY_OF_PDF);
    }
    Ok(response)
}

async fn sign(
    State(held): State<Held>,
    Path(name): Name,
    Sent(signing): Sent<Signing>,
) -> Reply<Answer> {
    on_layout(held, name, |desk, open| desk.sign(open, signing)).await
}

async fn withdraw(State(held): State<Held>, Path(name): Name) -> Reply<Answer> {
    on_layout(held, name, Desk::withdraw).await
}

async fn versions(State(held): State<Held>, Path(name): Name) -> Reply<Vec<Entry>> {
    on_layout(held, name, |_, open| Ok(earlier::all(&open.path()))).await
}

async fn bring_back(
    State(held): State<Held>,
    Path(name): Name,
    Sent(version): Sent<Named>,
) -> Reply<Answer> {
    on_layout(held, name, move |desk, open| desk.bring_back(open, &version.name)).await
}

/// Choices from a job; none where the layout cannot be understood.
fn of_job(
    desk: &Desk,
    open: &Open,
    choices: impl FnOnce(&Job) -> Vec<Choice>,
) -> Result<Vec<Choice>, Not> {
    Ok(desk.made(open)?.job().map_or_else(Vec::new, choices))
}

/// A number of a query, from 0.
fn index(asked: &BTreeMap<String, String>, key: &str) -> Option<usize> {
    asked.get(key)?.parse().ok()
}

async fn letterings(
    State(held): State<Held>,
    Path(name): Name,
    Query(asked): Asking,
) -> Reply<Vec<Choice>> {
    let line = index(&asked, "line");
    on_layout(held, name, move |desk, open| {
        of_job(desk, open, |job| choices::letterings(job, line))
    })
    .await
}

async fn placings(
    State(held): State<Held>,
    Path(name): Name,
    Query(asked): Asking,
) -> Reply<Vec<Choice>> {
    let photo = index(&asked, "photo").unwrap_or(0);
    on_layout(held, name, move |desk, open| of_job(desk, open, |job| choices::placings(job, photo)))
        .await
}

async fn fixings(State(held): State<Held>, Path(name): Name) -> Reply<Vec<Choice>> {
    on_layout(held, name, |desk, open| of_job(desk, open, choices::fixings)).await
}

async fn sizes(State(held): State<Held>, Path(name): Name) -> Reply<Vec<Choice>> {
    on_layout(held, name, |desk, open| of_job(desk, open, choices::sizes)).await
}

/// A whole photograph, small, to choose its crop by: `0.png`.
async fn photo(
    State(held): State<Held>,
    Path((name, file)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let png = work(move || {
        let index = file.strip_suffix(".png").and_then(|index| index.parse::<usize>().ok());
        let open = held.desk.open(&name)?;
        let made = held.desk.made(&open)?;
        let photos = made.job().map_or(&[][..], |job| &job.layout.photos);
        let photo = index.and_then(|index| photos.get(index)).ok_or(Not::There)?;
        Ok(photos::whole(photo)?)
    });
    Ok(([(CONTENT_TYPE, "image/png")], png.await?).into_response())
}

/// A photograph laid beside the layout, its bytes as they are.
async fn store(
    State(held): State<Held>,
    Path(name): Name,
    Query(asked): Asking,
    bytes: Result<Bytes, BytesRejection>,
) -> Reply<Stored> {
    let bytes =
        bytes.map_err(|_| Refusal(StatusCode::PAYLOAD_TOO_LARGE, photos::TOO_LARGE.to_owned()))?;
    let called = asked.get("name").cloned().unwrap_or_default();
    on_layout(held, name, move |desk, _| Ok(photos::stored(&desk.folder, &called, &bytes)?)).await
}
