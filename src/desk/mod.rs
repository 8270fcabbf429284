//! The desk: the whole job on one page of this machine alone. Requests come in; the same calls
//! as the command line's go out, and their results as JSON, drawings and files. No arithmetic.
//!
//! `wire` is what page and server say to each other, `guard` who may ask, `routes` which
//! address does what, `work` what is done then; `kept` holds a layout's text and its steps,
//! `made` what a version of it makes.

mod ask;
mod assets;
mod bench;
mod change;
mod choices;
mod earlier;
mod events;
mod folder;
mod guard;
mod kept;
mod lines;
mod made;
mod patch;
mod photos;
mod routes;
#[cfg(test)]
mod types;
mod wire;
mod work;

use std::net::Ipv4Addr;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::Redirect;
use axum::routing::get;
use tokio::net::TcpListener;
use tokio::sync::watch;

use crate::files::Failure;
use ask::{Held, Refusal};
use guard::{Hosts, guarded, token};
use routes::routes;
use work::Desk;

/// How often files are looked at that others may have changed.
const LOOK_EVERY: Duration = Duration::from_millis(500);

/// How long requests may go on after the desk was told to close.
const CLOSING: Duration = Duration::from_secs(3);

/// What a desk is opened on.
pub(crate) struct Opening {
    /// The folder.
    pub(crate) folder: PathBuf,
    /// A layout of it, to begin with.
    pub(crate) layout: Option<String>,
    /// The port, or any that is free.
    pub(crate) port: Option<u16>,
}

/// Serves the desk on loopback until the program is told to stop; `ready` is told the address
/// to open as soon as it answers.
pub(crate) fn serve(opening: Opening, ready: impl FnOnce(&str)) -> Result<(), Failure> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    let runtime = runtime.map_err(|why| Failure::Write(format!("error: no desk: {why}")))?;
    let served = runtime.block_on(serving(opening, ready));
    runtime.shutdown_timeout(CLOSING);
    served
}

async fn serving(opening: Opening, ready: impl FnOnce(&str)) -> Result<(), Failure> {
    let Opening { folder, layout, port } = opening;
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port.unwrap_or(0))).await;
    let no_port = |why| {
        let port = port.map_or_else(|| "no port".to_owned(), |port| format!("port {port}"));
        Failure::Write(format!("error: the desk cannot listen on {port}: {why}"))
    };
    let listener = listener.map_err(no_port)?;
    let port = listener.local_addr().map_err(no_port)?.port();
    let token = token().map_err(|why| Failure::Write(format!("error: no desk: {why}")))?;
    let (close, closing) = watch::channel(false);
    let desk = Arc::new(Desk::new(folder, layout.clone()));

    let held = Held { desk: Arc::clone(&desk), closing: closing.clone() };
    // Relative addresses need the stroke at the end.
    let page = Redirect::permanent(&format!("/{token}/"));
    let app = axum::Router::new()
        .route(&format!("/{token}"), get(move || async { page }))
        .nest(&format!("/{token}/"), routes(held))
        .route("/favicon.ico", get(|| async { StatusCode::NO_CONTENT }))
        .fallback(|| async { Refusal::not_there() })
        .layer(from_fn_with_state(Hosts::of(port), guarded));

    let looking = tokio::spawn(look_round(desk, closing));
    let address =
        layout.map_or_else(String::new, |layout| format!("?layout={}", assets::escaped(&layout)));
    ready(&format!("http://127.0.0.1:{port}/{token}/{address}"));
    let stop = async move {
        told_to_stop().await;
        let _ = close.send(true);
    };
    let served = axum::serve(listener, app).with_graceful_shutdown(stop).await;
    let _ = looking.await;
    served.map_err(|why| Failure::Write(format!("error: the desk broke off: {why}")))
}

/// Looks at the files again and again until the desk closes.
async fn look_round(desk: Arc<Desk>, mut closing: watch::Receiver<bool>) {
    loop {
        tokio::select! {
            () = events::closed(&mut closing) => return,
            () = tokio::time::sleep(LOOK_EVERY) => {}
        }
        let desk = Arc::clone(&desk);
        let _ = tokio::task::spawn_blocking(move || desk.look_round()).await;
    }
}

/// Ends when the program is interrupted or told to end.
async fn told_to_stop() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut end) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = tokio::signal::ctrl_c() => {}
                _ = end.recv() => {}
            }
            return;
        }
    }
    let _ = tokio::signal::ctrl_c().await;
}
