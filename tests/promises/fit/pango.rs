//! The fit held against Pango, live: `tests/outside/pango` builds a program that bisects
//! Pango's layout, and `ANSATA_PANGO` names the folder it stands in. `tests/all` does both.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use ansata::fit::{Problem, plan, problem};
use ansata::layout::{Layout, Shop, Source, Vocabulary, read};
use ansata::lettering::{Face, ShapedLine, catalogue, shaped_line};
use ansata::plate::Field;
use ansata::wording::Marks;
use ansata::{floors, plate, wording};

/// A static face of plain kerning, which both sides open from the same file.
const FACE: &str = "Besley";

/// How much of the scale may be lost to Pango's rounding of each glyph to 1/1024 pixel, at
/// 1000 pixels to the em: a ten-millionth of the em a glyph, against some ems a row.
const ROUNDING: f64 = 1e-5;

/// Plates and wordings: size and text of each line.
const WORDINGS: [(&str, &[(f64, &str)]); 12] = [
    (
        "100 x 60 mm",
        &[(1.0, "Presented by the bell-ringers of Marrowby Vale to their observatory")],
    ),
    (
        "76 x 38 mm",
        &[(1.6, "The Marrowby Cup"), (1.0, "for striking, won by the ringers of the Vale")],
    ),
    (
        "90 x 50 mm",
        &[(
            1.0,
            "In memory of Elowen Tarrant, who rang the tenor for forty-one years and never once was late",
        )],
    ),
    (
        "120 x 40 mm",
        &[
            (2.0, "MARROWBY VALE"),
            (1.0, "COMMUNITY OBSERVATORY"),
            (0.8, "opened on a cloudless night by those who built it"),
        ],
    ),
    ("60 x 60 mm", &[(1.0, "Look up")]),
    (
        "150 x 100 mm",
        &[
            (1.5, "To the ringers"),
            (
                1.0,
                "This dome was raised with the pennies of four hundred households, and the great mirror was ground by hand in the tower over three winters; whoever looks through it looks through their patience as well",
            ),
            (0.8, "Kept by the observers of the Vale"),
        ],
    ),
    ("80 x 30 mm", &[(1.0, "Wye Vale Tarrant AVATAR To Yes, fly")]),
    (
        "50 x 100 mm",
        &[(1.0, "A tall plate asks for many short rows, one under another, down to the foot")],
    ),
    ("200 x 30 mm", &[(1.0, "A long low plate by a door, read from the path")]),
    (
        "100 x 80 mm",
        &[
            (1.0, "Treble"),
            (1.0, "Second"),
            (1.0, "Third"),
            (1.0, "Fourth"),
            (1.0, "Fifth"),
            (1.0, "Tenor, cast in the yard and hung on the feast of the patron of bells"),
        ],
    ),
    (
        "76 x 38 mm",
        &[(
            1.0,
            "Sixty words are many for so small a plate, yet the ringers of the Vale would not leave out one of them, for each was chosen in a long evening over cider, and each has its own friend among them who would be sorry to see it go from the brass, so here they stand, all of them, small but whole",
        )],
    ),
    (
        "130 x 90 mm",
        &[
            (1.2, "“Ring out, look in”"),
            (
                1.0,
                "The motto of both houses, bell tower and dome, agreed after eleven meetings and a thunderstorm, and cut here so that nobody need meet about it again",
            ),
            (0.7, "Quillfeather, scribe"),
        ],
    ),
];

/// A wording with all that the fit is given.
struct Asked {
    layout: Layout,
    face: std::sync::Arc<Face>,
    marks: Vec<Marks>,
    field: Field,
}

impl Asked {
    fn new((size, lines): (&str, &[(f64, &str)])) -> Self {
        let mut text = format!(
            "ansata = 1\ntitle = \"Plate\"\n[plate]\nsize = \"{size}\"\nthickness = \"1.5 mm\"\nmaterial = \"brass\"\n\
             [fit]\nease = \"100 %\"\n[lettering]\ndefault = \"{FACE}\"\n"
        );
        for (size, line) in lines {
            let _ = writeln!(
                text,
                "[[line]]\ntext = \"{line}\"\nsize = {size}\nat_most = \"60 mm\"\nbreaks = \"free\""
            );
        }
        let source = Source { name: "plate.toml".to_owned(), text };
        let lettering = catalogue().names().map(str::to_owned).collect();
        let layout =
            read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new()))
                .unwrap_or_else(|told| panic!("{}\n{told:?}", source.text));
        let face = Face::open(&layout.lines[0].lettering).unwrap();
        let marks = layout.lines.iter().map(wording::marks).collect();
        let field = plate::field(&layout.plate, &[]);
        Self { layout, face, marks, field }
    }

    fn problem(&self) -> Problem {
        let lines: Vec<ShapedLine> = (self.layout.lines.iter().zip(&self.marks))
            .map(|(line, marks)| shaped_line(&line.text, &self.face, &[], &marks.stops))
            .collect();
        let floors = floors::of(&lines, &self.layout);
        problem(&self.layout, &lines, &self.marks, &floors, &self.field)
    }

    /// Limit, rows, and the median time of shaping and fit in µs.
    fn ours(&self) -> Figures {
        let mut took: Vec<f64> = (0..51)
            .map(|_| {
                let begun = Instant::now();
                std::hint::black_box(plan(&self.problem(), &self.field));
                begun.elapsed().as_secs_f64() * 1e6
            })
            .collect();
        took.sort_by(f64::total_cmp);
        let found = plan(&self.problem(), &self.field);
        (found.low.unwrap_or(0.0), found.rows.len(), took[took.len() / 2])
    }

    /// The wording as tests/outside/pango.c reads it: spaces at which the wording may not
    /// break are no-break spaces.
    fn question(&self) -> String {
        let [left, top, right, bottom] = self.field.rectangle().unwrap();
        let problem = self.problem();
        let mut text = format!("{} {} {}\n", right - left, bottom - top, problem.lines.len());
        for ((line, asked), marks) in problem.lines.iter().zip(&self.layout.lines).zip(&self.marks)
        {
            let _ = write!(
                text,
                "{} {} {} {} {} {} {} {}\t",
                line.ratio,
                line.floor,
                line.ceiling,
                line.rise,
                line.depth,
                line.leading,
                line.space,
                self.face.cap_em()
            );
            for (at, character) in asked.text.char_indices() {
                let after = at + character.len_utf8();
                let breaks = marks.stops.contains(&after);
                text.push(if character == ' ' && !breaks { '\u{A0}' } else { character });
                if matches!(character, '-' | '–' | '—') && !breaks {
                    text.push('\u{2060}');
                }
            }
            text.push('\n');
        }
        text
    }
}

/// Scale, rows and µs.
type Figures = (f64, usize, f64);

/// Versions, and for each question scale, rows and µs; `None`, said loudly, where Pango is
/// not there.
fn theirs(question: &str) -> Option<(String, Vec<Figures>)> {
    let Ok(folder) = std::env::var("ANSATA_PANGO") else {
        let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
        assert!(!must, "ANSATA_PANGO must name the folder that tests/outside/pango fills");
        eprintln!("\nSKIPPED: ANSATA_PANGO is not set, so nothing was compared with Pango\n");
        return None;
    };
    let mut child = Command::new(Path::new(&folder).join("bisect"))
        .arg(FACE)
        .env("FONTCONFIG_FILE", Path::new(&folder).join("fonts.conf"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("tests/outside/pango builds this program");
    child.stdin.take().unwrap().write_all(question.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "tests/outside/pango.c failed");
    let answer = String::from_utf8(output.stdout).unwrap();
    let (versions, answers) = answer.split_once('\n').unwrap();
    let answers = answers.lines().map(|line| {
        let mut parts = line.split(' ');
        let mut next = || parts.next().unwrap().parse::<f64>().unwrap();
        let (scale, rows, took) = (next(), next(), next());
        (scale, format!("{rows}").parse().unwrap(), took)
    });
    Some((versions.to_owned(), answers.collect()))
}

/// Pango breaks greedily by advances, and a bisection finds the largest scale at which that
/// fits; the best of all breakings by ink is never smaller. Sizes and times as a table.
#[test]
fn the_fit_is_never_smaller_than_pangos() {
    let asked: Vec<Asked> = WORDINGS.into_iter().map(Asked::new).collect();
    let question: String = asked.iter().map(Asked::question).collect();
    let Some((versions, theirs)) = theirs(&question) else { return };
    assert_eq!(theirs.len(), WORDINGS.len());
    println!("ansata {} against {versions}", env!("CARGO_PKG_VERSION"));
    println!(
        "plate          words  ansata mm  rows      µs  Pango mm  rows       µs   larger by  times as fast"
    );
    for (asked, &(scale, rows, took)) in asked.iter().zip(&theirs) {
        let (limit, own_rows, own_took) = asked.ours();
        let words: usize = asked.layout.lines.iter().map(|line| line.text.split(' ').count()).sum();
        let size = format!("{} x {}", asked.layout.plate.width, asked.layout.plate.height);
        println!(
            "{size:<14} {words:>5} {limit:>10.5} {own_rows:>5} {own_took:>7.1} {scale:>9.5} {rows:>5} {took:>8.1} {:>9.4} % {:>10.1}",
            (limit / scale - 1.0) * 100.0,
            took / own_took
        );
        assert!(scale > 0.0, "Pango finds no fit for {size}");
        assert!(limit >= scale * (1.0 - ROUNDING), "{size}: {limit} is smaller than {scale}");
    }
}
