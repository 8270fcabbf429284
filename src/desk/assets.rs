//! What the page is made of, inside the program.

use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};

use super::ask::Refusal;

macro_rules! pages {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("page/", $name)))),*]
    };
}

/// Files of `page/` that are sent, each with its text.
const PAGES: &[(&str, &str)] = pages![
    "index.html",
    "desk.css",
    "choices.js",
    "controls.js",
    "crop.js",
    "desk.js",
    "dom.js",
    "files.js",
    "findings.js",
    "folder.js",
    "form.js",
    "line.js",
    "lists.js",
    "main.js",
    "manuscript.js",
    "news.js",
    "paths.js",
    "pending.js",
    "photos.js",
    "plaque.js",
    "rules.js",
    "schema.js",
    "screen.js",
    "sections.js",
    "signing.js",
    "svg.js",
    "text.js",
    "versions.js",
    "wire.js",
];

/// A file of the page.
pub(super) fn page(name: &str) -> Response {
    match PAGES.iter().find(|(known, _)| *known == name) {
        Some((name, text)) => ([(CONTENT_TYPE, kind(name))], *text).into_response(),
        None => Refusal::not_there().into_response(),
    }
}

/// What a file is, by the ending of its name, as RFC 6838 registers it.
pub(super) fn kind(name: &str) -> &'static str {
    match name.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "pdf" => "application/pdf",
        "dxf" => "image/vnd.dxf",
        "json" => "application/json",
        "zip" => "application/zip",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

/// A name for a header: as RFC 8187 writes what is not ASCII.
pub(super) fn escaped(name: &str) -> String {
    let mut out = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{PAGES, escaped, kind};

    #[test]
    fn every_file_of_the_page_is_sent_and_says_what_it_is() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/desk/page");
        let there: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            // Types are for who writes the page.
            .filter(|name| !name.ends_with(".d.ts"))
            .collect();
        let sent: BTreeSet<String> = PAGES.iter().map(|(name, _)| (*name).to_owned()).collect();
        assert_eq!(sent, there);
        assert!(PAGES.iter().all(|(name, _)| kind(name) != kind("")));
    }

    #[test]
    fn a_name_is_safe_in_a_header() {
        assert_eq!(escaped("cup 2\"\r\né.zip"), "cup%202%22%0D%0A%C3%A9.zip");
    }
}
