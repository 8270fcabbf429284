//! What is timed: wordings of any length on plates of every outline.

use std::fmt::Write;
use std::hint::black_box;
use std::sync::Arc;

use ansata::layout::{FontFile, Layout, LetteringChoice, Shop, Source, Vocabulary, read};
use ansata::lettering::{Face, catalogue};
use ansata::plate::{ClearZone, Field, ZoneKind, ZoneShape};
use ansata::{mount, plate};
use harfrust::{Direction, Script, ShapeOptions, ShapePlan, ShaperFont};

use crate::clock::medians;

/// Numbers of words.
pub(super) const WORDS: [usize; 8] = [5, 12, 30, 60, 120, 300, 600, 2000];

/// Plates by the outline of their field, as tables of a layout.
pub(super) const OUTLINES: [(&str, &str); 9] = [
    ("rectangle", "size = \"150 x 100 mm\"\n[mount]\nholes = \"none\"\n"),
    (
        "rounded",
        "size = \"150 x 100 mm\"\nshape = \"rounded\"\ncorner = \"15 mm\"\n[mount]\nholes = \"none\"\n",
    ),
    (
        "notched",
        "size = \"150 x 100 mm\"\nshape = \"notched\"\ncorner = \"15 mm\"\n[mount]\nholes = \"none\"\n",
    ),
    ("oval", "size = \"150 x 100 mm\"\nshape = \"oval\"\n[mount]\nholes = \"none\"\n"),
    ("circle", "size = \"120 x 120 mm\"\nshape = \"circle\"\n[mount]\nholes = \"none\"\n"),
    ("arch", "size = \"110 x 140 mm\"\nshape = \"arch\"\n[mount]\nholes = \"none\"\n"),
    (
        "ansate, into the handles",
        "size = \"190 x 90 mm\"\nshape = \"ansate\"\nhandles = { lettering = \"into the handles\" }\n\
         [mount]\nholes = \"none\"\n",
    ),
    (
        "polygon",
        "shape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"65 mm\", \"12 mm\"], [\"130 mm\", \"0 mm\"], \
         [\"130 mm\", \"80 mm\"], [\"65 mm\", \"125 mm\"], [\"0 mm\", \"80 mm\"]]\n[mount]\nholes = \"none\"\n",
    ),
    (
        "two holes in the text",
        "size = \"150 x 100 mm\"\n[mount]\nholes = \"two sides\"\ninset = \"18 mm\"\n\
         fixing = { kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\" }\n",
    ),
];

/// Words of an inscription, over and over.
const VOCABULARY: [&str; 24] = [
    "Presented",
    "by",
    "the",
    "bell-ringers",
    "of",
    "Marrowby",
    "Vale",
    "to",
    "their",
    "observatory,",
    "in",
    "memory",
    "of",
    "Elowen",
    "Tarrant,",
    "who",
    "rang",
    "the",
    "tenor",
    "for",
    "forty-one",
    "years",
    "AND",
    "WATCHED",
];

/// Words of one line at most.
const WORDS_A_LINE: usize = 60;

/// A layout with its field.
pub(super) struct Case {
    pub(super) source: Source,
    pub(super) layout: Layout,
    pub(super) zones: Vec<ClearZone>,
    pub(super) field: Field,
}

impl Case {
    /// A rectangle of 150 by 100 mm; larger from 300 words on, so that they fit.
    pub(super) fn rectangle(words: usize) -> Self {
        let size = if words < 300 { "150 x 100 mm" } else { "600 x 500 mm" };
        Self::on(&format!("size = \"{size}\"\n[mount]\nholes = \"none\"\n"), words)
    }

    /// So many words on a plate.
    pub(super) fn on(plate: &str, words: usize) -> Self {
        let mut text = format!(
            "ansata = 1\ntitle = \"Plate\"\n[plate]\nthickness = \"1.5 mm\"\nmaterial = \"brass\"\nmargin = \"4 mm\"\n{plate}\
             [lettering]\ndefault = \"Besley\"\n"
        );
        let words: Vec<&str> = VOCABULARY.iter().copied().cycle().take(words).collect();
        for line in words.chunks(WORDS_A_LINE) {
            let _ = write!(text, "[[line]]\ntext = \"{}\"\nbreaks = \"free\"\n", line.join(" "));
        }
        let source = Source { name: "plate.toml".to_owned(), text };
        let lettering = catalogue().names().map(str::to_owned).collect();
        let vocabulary = Vocabulary { lettering };
        let layout = read(&source, Shop::default(), &vocabulary, &|_| Err(String::new()))
            .unwrap_or_else(|told| panic!("{}\n{told:?}", source.text));
        let zones = mount::plan(&layout).zones();
        let field = plate::field(&layout.plate, &zones);
        Self { source, layout, zones, field }
    }

    /// A rectangle of 150 by 100 mm with an oval photograph of 40 by 50 mm on its left, 3 mm
    /// kept clear round it.
    pub(super) fn beside_an_oval(words: usize) -> Self {
        let mut case = Self::rectangle(words);
        let (x, y, across, down, gap) = (27.0, 50.0, 20.0, 25.0, 3.0);
        let shape = ZoneShape::Oval { x, y, across, down, gap };
        case.zones.push(ClearZone { shape, kind: ZoneKind::Photo(0) });
        case.field = plate::field(&case.layout.plate, &case.zones);
        case
    }

    /// The face of all lines opened anew, as a file of the user's own: nothing of it is
    /// known yet.
    pub(super) fn fresh_faces(&self) -> Vec<Arc<Face>> {
        let known = &self.faces()[0];
        let file =
            FontFile { path: "own.ttf".to_owned(), index: 0, bytes: Arc::clone(&known.bytes) };
        vec![Face::open(&LetteringChoice::own(file)).unwrap(); self.layout.lines.len()]
    }

    /// The faces of all lines.
    pub(super) fn faces(&self) -> Vec<Arc<Face>> {
        let face = Face::open(&self.layout.lines[0].lettering).unwrap();
        vec![face; self.layout.lines.len()]
    }

    /// Times of shaping the lines, each once, with plan and buffer kept, and of another work
    /// in turns with it; µs.
    pub(super) fn shaping_and<R>(&self, mut other: impl FnMut() -> R) -> Vec<f64> {
        let face = &self.faces()[0];
        let font = harfrust::Font::new(face.bytes.to_vec(), 0).unwrap();
        let font = font
            .instance_builder()
            .variations(face.axes.iter().map(|(tag, value)| (tag.as_str(), *value)))
            .build();
        let shaper = ShaperFont::new(&font);
        let script: Option<Script> = "Latn".parse().ok();
        let plan = ShapePlan::new(&shaper, Direction::LeftToRight, script, None, &[]);
        let mut buffer = harfrust::Buffer::new();
        let mut shaping = || {
            for line in &self.layout.lines {
                buffer.reset();
                buffer.push_str(&line.text);
                buffer.set_direction(Direction::LeftToRight);
                buffer.set_script(script);
                let options = ShapeOptions::new().plan(Some(&plan));
                harfrust::shape(&shaper, &mut buffer, options).unwrap();
                black_box(buffer.glyph_infos().len());
            }
        };
        let mut other = || {
            black_box(other());
        };
        medians(&mut [&mut shaping, &mut other])
    }
}
