//! How a request is read, worked on and answered, whichever it is.

use std::sync::Arc;

use axum::Json;
use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use serde::de::DeserializeOwned;
use tokio::sync::watch;

use super::wire::Refused;
use super::work::{Desk, Not, Open};

/// What is said of an address that leads to nothing.
const NOT_THERE: &str =
    "there is no such place at this desk: open the address that `ansata desk` printed";

/// What every request knows.
#[derive(Clone)]
pub(super) struct Held {
    /// The desk.
    pub(super) desk: Arc<Desk>,
    /// Whether it closes.
    pub(super) closing: watch::Receiver<bool>,
}

/// A refusal: its status, and why in words for the person at the page.
#[derive(Debug)]
pub(super) struct Refusal(pub(super) StatusCode, pub(super) String);

impl Refusal {
    /// No such address.
    pub(super) fn not_there() -> Self {
        Self(StatusCode::NOT_FOUND, NOT_THERE.to_owned())
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        (self.0, Json(Refused { refused: self.1 })).into_response()
    }
}

impl From<Not> for Refusal {
    fn from(not: Not) -> Self {
        match not {
            Not::There => Self::not_there(),
            Not::So(why) => Self(StatusCode::CONFLICT, why),
        }
    }
}

/// An answer as JSON.
pub(super) type Reply<T> = Result<Json<T>, Refusal>;

/// What is said of more than is taken at once.
const TOO_LARGE: &str = "this is more than a layout may hold, 1 MiB: nothing was changed";

/// What a page sent as JSON.
pub(super) struct Sent<T>(pub(super) T);

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Sent<T> {
    type Rejection = Refusal;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refusal> {
        match Json::from_request(request, state).await {
            Ok(Json(sent)) => Ok(Self(sent)),
            Err(why) if why.status() == StatusCode::PAYLOAD_TOO_LARGE => {
                Err(Refusal(why.status(), TOO_LARGE.to_owned()))
            }
            Err(why) => Err(Refusal(why.status(), why.body_text())),
        }
    }
}

/// Work on a thread of its own, that may wait.
pub(super) async fn work<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Not> + Send + 'static,
) -> Result<T, Refusal> {
    match tokio::task::spawn_blocking(work).await {
        Ok(done) => done.map_err(Refusal::from),
        Err(_) => {
            let why = "the desk failed at this; the file is as it was";
            Err(Refusal(StatusCode::INTERNAL_SERVER_ERROR, why.to_owned()))
        }
    }
}

/// The same on a layout, answered as JSON.
pub(super) async fn on_layout<T: Serialize + Send + 'static>(
    held: Held,
    name: String,
    then: impl FnOnce(&Desk, &Open) -> Result<T, Not> + Send + 'static,
) -> Reply<T> {
    let done = work(move || {
        let open = held.desk.open(&name)?;
        then(&held.desk, &open)
    });
    done.await.map(Json)
}
