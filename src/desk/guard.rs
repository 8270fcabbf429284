//! Who may ask. The desk listens on loopback only; but any page that a browser shows can send
//! requests there, and a name of its own can lead there. So a request needs the token, which
//! stands in the address alone; must be meant for this very host and port (against names that
//! are made to lead here); and where it changes something must come from our own page.
//!
//! Sources: Fetch Standard (WHATWG), `Origin` and `Sec-Fetch-Site`; Content Security Policy
//! Level 3 (W3C).

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::ask::Refusal;

/// A header that only scripts of our own page can send: others would have to ask first, and
/// are answered with no leave.
const OWN_HEADER: &str = "x-ansata";

/// Nothing but our own scripts, style sheet and pictures; pictures inside drawings are data.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
                      img-src 'self' data: blob:; connect-src 'self'; form-action 'none'; \
                      frame-ancestors 'none'; base-uri 'none'";

/// What is said to who asks under another address.
const OTHER_ADDRESS: &str = "this desk is asked under its own address only";

/// Of random letters for a token: 128 bits.
const TOKEN_BYTES: usize = 16;

/// A token that nobody can guess.
///
/// # Errors
/// The system gives no random numbers.
pub(super) fn token() -> Result<String, String> {
    let mut bytes = [0; TOKEN_BYTES];
    getrandom::fill(&mut bytes).map_err(|why| format!("no random numbers: {why}"))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// The hosts that the desk is asked by: its address, and the name of it.
#[derive(Debug, Clone)]
pub(super) struct Hosts {
    hosts: [String; 2],
}

impl Hosts {
    /// Those of a port.
    pub(super) fn of(port: u16) -> Self {
        Self { hosts: [format!("127.0.0.1:{port}"), format!("localhost:{port}")] }
    }

    fn host(&self, told: &[u8]) -> bool {
        self.hosts.iter().any(|own| own.as_bytes().eq_ignore_ascii_case(told))
    }

    fn origin(&self, told: &[u8]) -> bool {
        told.strip_prefix(b"http://").is_some_and(|host| self.host(host))
    }
}

/// Lets a request through, or refuses it; every answer gets the headers that keep others out.
pub(super) async fn guarded(State(hosts): State<Hosts>, request: Request, next: Next) -> Response {
    let mut response = match refused(&hosts, &request) {
        Some(why) => Refusal(StatusCode::FORBIDDEN, why.to_owned()).into_response(),
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    let fixed = [
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, "no-referrer"),
        (CACHE_CONTROL, "no-store"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    // A browser's own reader of PDF files needs more than a page may have.
    headers.entry(CONTENT_SECURITY_POLICY).or_insert(HeaderValue::from_static(POLICY));
    response
}

/// Why a request is refused.
fn refused(hosts: &Hosts, request: &Request<Body>) -> Option<&'static str> {
    let headers = request.headers();
    let mut told = headers.get_all(HOST).iter();
    let (host, second) = (told.next(), told.next());
    if second.is_some() || !host.is_some_and(|host| hosts.host(host.as_bytes())) {
        return Some(OTHER_ADDRESS);
    }
    // A whole address in the first line counts more than the header (RFC 9112, 3.2.2).
    if request.uri().authority().is_some_and(|told| !hosts.host(told.as_str().as_bytes())) {
        return Some(OTHER_ADDRESS);
    }
    if headers.get_all(ORIGIN).iter().any(|origin| !hosts.origin(origin.as_bytes())) {
        return Some("another page may not ask this desk");
    }
    let site = headers.get("sec-fetch-site").map(HeaderValue::as_bytes);
    if site.is_some_and(|site| site != b"same-origin" && site != b"none") {
        return Some("another page may not ask this desk");
    }
    let reads = request.method() == Method::GET || request.method() == Method::HEAD;
    (!reads && !headers.contains_key(OWN_HEADER)).then_some("only the desk's own page may change")
}

#[cfg(test)]
mod tests {
    use super::{Hosts, token};

    #[test]
    fn only_the_own_address_is_the_own_address() {
        let hosts = Hosts::of(4321);
        for good in ["127.0.0.1:4321", "localhost:4321", "LOCALHOST:4321"] {
            assert!(hosts.host(good.as_bytes()), "{good}");
            assert!(hosts.origin(format!("http://{good}").as_bytes()), "{good}");
        }
        for bad in [
            "",
            "127.0.0.1",
            "127.0.0.1:80",
            "localhost:4321.evil.example",
            "evil.example",
            "127.0.0.1:4321@evil.example",
            "[::1]:4321",
        ] {
            assert!(!hosts.host(bad.as_bytes()), "{bad}");
            assert!(!hosts.origin(format!("http://{bad}").as_bytes()), "{bad}");
        }
        assert!(!hosts.origin(b"https://127.0.0.1:4321") && !hosts.origin(b"null"));
    }

    #[test]
    fn no_two_tokens_are_alike() {
        let (a, b) = (token().unwrap(), token().unwrap());
        assert!(a != b && a.len() == 32 && a.bytes().all(|byte| byte.is_ascii_hexdigit()));
    }
}
