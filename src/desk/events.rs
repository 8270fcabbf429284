//! What pages are told without asking: that another version stands, that the desk closes.

use std::convert::Infallible;
use std::pin::Pin;
use std::task::{Context, Poll};

use axum::response::sse::{Event, KeepAlive, Sse};
use futures_core::Stream;
use tokio::sync::{mpsc, watch};

/// Events on their way to one page.
pub(super) struct Events {
    coming: mpsc::Receiver<Event>,
}

impl Stream for Events {
    type Item = Result<Event, Infallible>;

    fn poll_next(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        self.coming.poll_recv(cx).map(|event| event.map(Ok))
    }
}

/// Ends when the desk closes.
pub(super) async fn closed(closing: &mut watch::Receiver<bool>) {
    // What is given back would hold the channel.
    let _ = closing.wait_for(|closing| *closing).await;
}

/// Tells the version of a layout that stands, and every other from now on. The stream ends when the desk closes: a server
/// that waits for its streams would never stop.
pub(super) fn events(
    mut versions: watch::Receiver<u64>,
    mut closing: watch::Receiver<bool>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    // The version that stands is told at once: it may have changed since the page asked for it.
    versions.mark_changed();
    let (send, coming) = mpsc::channel(4);
    tokio::spawn(async move {
        loop {
            let event = tokio::select! {
                () = closed(&mut closing) => {
                    let _ = send.send(Event::default().event("closing").data("")).await;
                    return;
                }
                () = send.closed() => return,
                told = versions.changed() => match told {
                    Ok(()) => {
                        let version = *versions.borrow_and_update();
                        Event::default().event("version").data(version.to_string())
                    }
                    Err(_) => return,
                },
            };
            if send.send(event).await.is_err() {
                return;
            }
        }
    });
    Sse::new(Events { coming }).keep_alive(KeepAlive::default())
}
