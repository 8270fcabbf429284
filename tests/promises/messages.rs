//! What is wrong with a layout is told at its own line and column, all of it at once.

use ansata::layout::{Diagnostic, Layout, Shop, Source, Vocabulary, read};

/// A dedication plaque with every table filled.
const SAMPLE: &str = r#"ansata = 1
title  = "Striking cup: dedication plaque"

[proof]
number     = 2
replaces   = "proof 1"
date       = "2026-03-14"
client     = "The ringers of Marrowby Vale"
spelling   = "The tower secretary"
signatures = ["Tower captain", "Engraver"]

[plate]
size      = "120 x 80 mm"
shape     = "rounded"
corner    = "5 mm"
thickness = "1.5 mm"
material  = "brass"
finish    = "satin"
margin    = "7 mm"
border    = { inset = "3 mm", lines = 2, weight = "0.3 mm", gap = "1 mm", at_holes = "stop short" }

[engraving]
process   = "rotary"
cut       = "incised"
fill      = "black"
read_from = "60 cm"

[fit]
ease = "92 %"

[lettering]
default = "EB Garamond"

[[line]]
text      = "The Elowen Tarrant Striking Cup"
size      = 2.0
lettering = "EB Garamond Italic"
keep      = ["Elowen Tarrant"]

[[line]]
text     = "given by the ringers of Marrowby Vale"
features = ["smcp", "-liga"]
at_least = "2 mm"

[[line]]
text  = "MMXXVI"
space = 0.8

[mount]
fixing = { kind = "wood screw", gauge = 2, head = "round", length = "3/8 in" }
holes  = "four corners"
inset  = "6 mm"

[face]
size      = "150 x 110 mm"
material  = "black walnut"
thickness = "19 mm"
place     = { from_top = "20 mm" }
"#;

fn read_text(text: &str) -> Result<Layout, Vec<Diagnostic>> {
    let source = Source { name: "cup.toml".to_owned(), text: text.to_owned() };
    let lettering = ["EB Garamond", "EB Garamond Italic"].map(str::to_owned).to_vec();
    read(&source, Shop::default(), &Vocabulary { lettering }, &|path| {
        Err(format!("there is no such file: {path}"))
    })
}

#[test]
fn a_layout_without_a_mistake_is_read() {
    let layout = read_text(SAMPLE).unwrap_or_else(|all| {
        panic!("{}", all.iter().map(|d| d.render(false)).collect::<Vec<_>>().join("\n"))
    });
    assert_eq!(layout.lines.len(), 3);
}
