//! Jobs for tests: the shipped dedication with parts of it exchanged, and any other text.

use crate::job::{Job, job};
use crate::layout::{Layout, Shop, Source, Vocabulary, read};
use crate::lettering::catalogue;

/// The shipped dedication layout.
pub(crate) const DEDICATION: &str = include_str!("../../layouts/dedication.toml");

/// The shipped layout with a photograph.
pub(crate) const PHOTOGRAPH: &str = include_str!("../../layouts/photograph.toml");

/// A layout from its text, files beside it being the shipped ones; or what is wrong with it.
pub(crate) fn layout_of(text: &str) -> Result<Layout, String> {
    let source = Source { name: "test".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let file = |path: &str| {
        let shipped = concat!(env!("CARGO_MANIFEST_DIR"), "/layouts/");
        std::fs::read(format!("{shipped}{path}")).map_err(|why| why.to_string())
    };
    read(&source, Shop::default(), &Vocabulary { lettering }, &file)
        .map_err(|mistakes| mistakes.iter().map(|mistake| mistake.render(false)).collect())
}

/// The job of a layout's text.
pub(crate) fn made(text: &str) -> Job {
    job(&layout_of(text).unwrap()).unwrap()
}

/// The dedication with another fixing; the same with none told.
pub(crate) fn dedication(fixing: &str) -> Job {
    let own = "{ kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }";
    assert!(DEDICATION.contains(own));
    made(&DEDICATION.replace(own, if fixing.is_empty() { own } else { fixing }))
}

/// The dedication with another face, from its head on.
pub(crate) fn on_face_of(face: &str) -> Job {
    let (before, _) = DEDICATION.split_once("[face]").unwrap();
    made(&format!("{before}[face]\n{face}"))
}
