//! Jobs to draw: from layouts, and from layouts made up at random, with more
//! wording, holes and signatures than anyone would want.

use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};
use ansata::lettering::catalogue;

/// The job of a layout's text.
pub(crate) fn job_of(text: &str) -> Job {
    try_job(text).unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}"))
}

fn try_job(text: &str) -> Result<Job, String> {
    let source = Source { name: "test.toml".to_owned(), text: text.to_owned() };
    let nothing = |_: &str| Err("no other files here".to_owned());
    let words = Vocabulary {
        lettering: catalogue().entries.iter().map(|entry| entry.name.clone()).collect(),
    };
    let layout = read(&source, Shop::default(), &words, &nothing)
        .map_err(|mistakes| format!("{mistakes:#?}"))?;
    job(&layout).map_err(|mistakes| format!("{mistakes:#?}"))
}

/// One line of wording on a brass plate with a mount and a face.
pub(crate) fn with_mount(size: &str, mount: &str, face: &str) -> Job {
    let face = if face.is_empty() { String::new() } else { format!("[face]\n{face}\n") };
    job_of(&format!(
        "ansata = 1\ntitle = \"Treble rope guide\"\n[plate]\nsize = \"{size}\"\n\
         material = \"brass\"\nthickness = \"2 mm\"\n[lettering]\ndefault = \"Cinzel\"\n\
         [[line]]\ntext = \"Marrowby Vale\"\n[mount]\n{mount}\n{face}"
    ))
}

/// A plate that asks for every step of work.
pub(crate) fn bevelled_and_lacquered() -> String {
    "ansata = 1\ntitle = \"Observatory door\"\n[plate]\nsize = \"140 x 90 mm\"\n\
     material = \"brass\"\nfinish = \"lacquered\"\nthickness = \"3 mm\"\nbevel = \"2 mm\"\n\
     margin = \"8 mm\"\n[engraving]\nfill = \"red\"\n[lettering]\ndefault = \"Cinzel\"\n\
     [[line]]\ntext = \"The Lantern Dome\"\n[mount]\n\
     fixing = { kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"1/2 in\" }\n\
     holes = \"four corners\"\ninset = \"10 mm\"\n"
        .to_owned()
}

/// A small generator, so that a failing case can be told by its number
/// (multiplier and increment of Knuth's MMIX).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }
    fn below(&mut self, end: u64) -> u64 {
        self.next() % end
    }
    fn between(&mut self, low: u64, high: u64) -> u64 {
        low + self.below(high - low + 1)
    }
    fn one<'t>(&mut self, all: &[&'t str]) -> &'t str {
        all[usize::try_from(self.below(all.len() as u64)).unwrap()]
    }
    fn chance(&mut self, per_cent: u64) -> bool {
        self.below(100) < per_cent
    }
}

const WORDS: &[&str] = &[
    "the",
    "bells",
    "of",
    "Marrowby",
    "Vale",
    "rang",
    "for",
    "Åse",
    "Ødegård",
    "fifty-one",
    "years",
    "ÉCOLE",
    "treble",
    "tenor",
    "Quillfeather",
    "1912",
    "–",
    "unprecedentedly",
    "&",
    "Ếxtra",
    "שלום",
    "and",
];

fn wording(numbers: &mut Numbers, words: u64) -> String {
    let mut all: Vec<&str> = (0..words).map(|_| numbers.one(WORDS)).collect();
    if numbers.chance(15) {
        all.push(
            "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft",
        );
    }
    if numbers.chance(10) {
        all.push("\u{a0}\u{200b}e\u{301}\u{323}");
    }
    if all.is_empty() {
        all.push("Bell");
    }
    all.join(" ")
}

/// A layout that can be read, and its job.
pub(crate) fn random_job(numbers: &mut Numbers) -> (String, Job) {
    // Not every draw is a layout that can be read (a circle of unequal sides, say).
    for _ in 0..200 {
        let text = random_layout(numbers);
        if let Ok(job) = try_job(&text) {
            return (text, job);
        }
    }
    panic!("none of 200 layouts could be read");
}

fn random_layout(numbers: &mut Numbers) -> String {
    let (width, height) = if numbers.chance(15) {
        (numbers.between(5, 30), numbers.between(5, 30))
    } else if numbers.chance(15) {
        (numbers.between(200, 900), numbers.between(20, 600))
    } else {
        (numbers.between(40, 180), numbers.between(20, 150))
    };
    let title_words = if numbers.chance(20) { 80 } else { numbers.between(1, 8) };
    let mut text = format!("ansata = 1\ntitle = {:?}\n[proof]\n", wording(numbers, title_words));
    text.push_str(&format!(
        "paper = \"{}\"\n",
        numbers.one(&["A4", "A3", "Letter", "Legal", "Tabloid"])
    ));
    if numbers.chance(50) {
        let words = numbers.between(1, 40);
        text.push_str(&format!("client = {:?}\n", wording(numbers, words)));
    }
    if numbers.chance(50) {
        let words = numbers.between(1, 25);
        text.push_str(&format!("replaces = {:?}\n", wording(numbers, words)));
    }
    if numbers.chance(40) {
        let roles: Vec<String> = (0..numbers.between(1, 14))
            .map(|_| {
                let words = numbers.between(1, 20);
                format!("{:?}", wording(numbers, words))
            })
            .collect();
        text.push_str(&format!("signatures = [{}]\n", roles.join(", ")));
    }
    let shape =
        numbers.one(&["rectangle", "rounded", "oval", "notched", "arch", "ansate", "points"]);
    let corner = match shape {
        "rounded" | "notched" => "corner = \"2 mm\"\n".to_owned(),
        // A kite with its tip cut in.
        "points" => format!(
            "points = [[\"0 mm\", \"0 mm\"], [\"{width} mm\", \"1 mm\"], [\"{width} mm\", \
             \"{height} mm\"], [\"{} mm\", \"{} mm\"], [\"1 mm\", \"{height} mm\"]]\n",
            width / 2,
            height - 2
        ),
        _ => String::new(),
    };
    text.push_str(&format!(
        "[plate]\nsize = \"{width} x {height} mm\"\nshape = \"{shape}\"\n{corner}material = \"{}\"\n\
         margin = \"{} mm\"\nbevel = \"{} mm\"\n",
        numbers.one(&["brass", "bronze", "aluminium", "stainless steel"]),
        numbers.between(0, 5),
        numbers.between(0, 1)
    ));
    text.push_str(&format!(
        "[engraving]\ncut = \"{}\"\n[lettering]\ndefault = \"{}\"\n",
        numbers.one(&["incised", "raised"]),
        numbers.one(&["EB Garamond", "Cinzel", "Great Vibes", "Frank Ruhl Libre"])
    ));
    if numbers.chance(30) {
        let tip = numbers.between(5, 60);
        let cutter = format!("[engraving]\ncutter = {{ tip = \"0.{tip:02} mm\" }}\n");
        text = text.replace("[engraving]\n", &cutter);
    }
    // Long wording in an oval takes the fit a while: that is not what is drawn here.
    let long = ["rectangle", "rounded", "ansate"].contains(&shape);
    let lines = if long && numbers.chance(15) { 30 } else { numbers.between(1, 4) };
    for _ in 0..lines {
        let words = if long && numbers.chance(10) { 60 } else { numbers.between(1, 7) };
        text.push_str(&format!("[[line]]\ntext = {:?}\n", wording(numbers, words)));
    }
    random_mount(numbers, &mut text, width, height);
    text
}

fn random_mount(numbers: &mut Numbers, text: &mut String, width: u64, height: u64) {
    text.push_str("[mount]\n");
    if numbers.chance(20) {
        text.push_str("fixing = { kind = \"tape\" }\nholes = \"none\"\n");
    } else {
        let gauge = numbers.between(2, 8);
        let head = numbers.one(&["flat", "oval", "round"]);
        let fixing = match numbers.between(1, 9) {
            1 => "kind = \"rear stud\", diameter = \"3 mm\", length = \"10 mm\"".to_owned(),
            2 => "kind = \"standoff\", cap = \"16 mm\", hole = \"10 mm\", off = \"15 mm\", gauge = 6, \
                  length = \"5/8 in\", metal = \"brass\""
                .to_owned(),
            3 => "kind = \"machine screw\", thread = \"M3\", head = \"countersunk\", length = \"10 mm\", \
                  into = \"insert\", insert_bore = \"4 mm\", insert_depth = \"6 mm\""
                .to_owned(),
            4 => "kind = \"machine screw\", thread = \"M4\", head = \"dome\", length = \"60 mm\", into = \
                  \"nut\", fit = \"coarse\""
                .to_owned(),
            _ => format!(
                "kind = \"wood screw\", gauge = {gauge}, head = \"{head}\", length = \"1/2 in\""
            ),
        };
        text.push_str(&format!("fixing = {{ {fixing} }}\n"));
        if numbers.chance(30) {
            let points: Vec<String> = (0..numbers.between(1, 12))
                .map(|_| {
                    let (x, y) = (numbers.between(1, width - 1), numbers.between(1, height - 1));
                    format!("[\"{x} mm\", \"{y} mm\"]")
                })
                .collect();
            text.push_str(&format!("holes = {{ points = [{}] }}\n", points.join(", ")));
        } else {
            let set = numbers.one(&["four corners", "two sides", "top and bottom"]);
            text.push_str(&format!(
                "holes = \"{set}\"\ninset = \"{} mm\"\n",
                numbers.between(2, 9)
            ));
        }
    }
    if numbers.chance(70) {
        let (face_width, face_height) = (width + numbers.below(300), height + numbers.below(200));
        let across = numbers.one(&["", "from_left = \"9 mm\"", "from_right = \"120 mm\""]);
        let along = numbers.one(&["", "from_top = \"4 mm\"", "from_bottom = \"15 mm\""]);
        let place: Vec<&str> =
            [across, along].into_iter().filter(|part| !part.is_empty()).collect();
        text.push_str(&format!(
            "[face]\nsize = \"{face_width} x {face_height} mm\"\nmaterial = \"white oak\"\n\
             thickness = \"19 mm\"\n"
        ));
        if !place.is_empty() {
            text.push_str(&format!("place = {{ {} }}\n", place.join(", ")));
        }
    }
}
