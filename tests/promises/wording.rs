//! Promises about where a line is broken: what stands together by an engraver's habit
//! (common practice, no source) does so wherever as few rows allow it.

use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};
use ansata::lettering::catalogue;

/// Margin of every plate here, mm.
const MARGIN: f64 = 4.0;

/// Plates that each wording is tried on: width and height, mm.
fn plates() -> impl Iterator<Item = (u16, u16)> {
    [25, 32, 40, 60]
        .into_iter()
        .flat_map(|tall| (40..=150).step_by(10).map(move |wide| (wide, tall)))
}

/// One line on a plate, free to break, with words that are kept.
fn plaque(text: &str, (width, height): (u16, u16), shape: &str, keep: &[&str]) -> Job {
    let text = format!(
        "ansata = 1\ntitle = \"Plate\"\n[plate]\nsize = \"{width} x {height} mm\"\n\
         shape = \"{shape}\"\nmaterial = \"brass\"\nmargin = \"{MARGIN} mm\"\n\
         [lettering]\ndefault = \"EB Garamond\"\n[[line]]\ntext = {text:?}\nbreaks = \"free\"\n\
         keep = {keep:?}\n"
    );
    let source = Source { name: "plate.toml".to_owned(), text: text.clone() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new()))
        .unwrap_or_else(|told| panic!("{text}\n{told:?}"));
    job(&layout).unwrap_or_else(|told| panic!("{told:?}"))
}

/// The rows of a plaque as they read.
fn rows(job: &Job) -> Vec<&str> {
    let text = job.lines[0].text.as_str();
    job.fitted.rows.iter().map(|row| text[row.range.clone()].trim()).collect()
}

/// Every breaking of the one line into as many rows as it has that stands on the plate
/// at the height it has: offsets of the breaks between rows.
fn others(job: &Job, width: u16) -> Vec<Vec<usize>> {
    let (line, rows) = (&job.lines[0], &job.fitted.rows);
    let room = f64::from(width) - 2.0 * MARGIN + 1e-9;
    let mut all = vec![vec![0]];
    for row in 1..=rows.len() {
        let mut next = Vec::new();
        for breaking in &all {
            let from = breaking[breaking.len() - 1];
            let ends = if row == rows.len() { line.stops.len() - 1 } else { from + 1 };
            for to in ends.max(from + 1)..line.stops.len() {
                if line.width(from, to) * rows[0].cap_height <= room {
                    next.push([breaking.as_slice(), &[to]].concat());
                }
            }
        }
        all = next;
    }
    let inner = |breaking: &Vec<usize>| {
        breaking[1..breaking.len() - 1].iter().map(|&stop| line.stops[stop]).collect()
    };
    all.iter().map(inner).collect()
}

/// The breaks of a plaque's one line.
fn breaks(job: &Job) -> Vec<usize> {
    job.fitted.rows.iter().skip(1).map(|row| row.range.start).collect()
}

/// How many breaks stand inside one of some phrases.
fn torn(text: &str, phrases: &[&str], breaks: &[usize]) -> usize {
    let inside = |at: usize| {
        phrases.iter().any(|phrase| {
            text.match_indices(phrase).any(|(from, _)| from < at && at < from + phrase.len())
        })
    };
    breaks.iter().filter(|&&at| inside(at)).count()
}

/// Asserts that of some phrases no more are torn, on any plate, than any breaking into as
/// few rows would; and that some plates put it to the test.
fn stand_together(text: &str, phrases: &[&str]) {
    for phrase in phrases {
        assert!(text.contains(phrase), "{phrase}");
    }
    let mut tempted = 0;
    for plate in plates() {
        let job = plaque(text, plate, "rectangle", &[]);
        let others = others(&job, plate.0);
        assert!(others.contains(&breaks(&job)), "{:?} is not among {}", rows(&job), others.len());
        let counts = others.iter().map(|breaks| torn(text, phrases, breaks));
        let (least, most) = counts.fold((usize::MAX, 0), |(a, b), n| (a.min(n), b.max(n)));
        assert_eq!(torn(text, phrases, &breaks(&job)), least, "{plate:?}: {:?}", rows(&job));
        tempted += usize::from(most > least);
    }
    assert!(tempted > 2, "only {tempted} plates tempt to tear {phrases:?}");
}

#[test]
fn a_name_is_never_torn() {
    let text = "Given by Elowen Tarrant and Barnaby Quillfeather to the ringers of Marrowby Vale";
    let names = ["Elowen Tarrant", "Barnaby Quillfeather", "Marrowby Vale"];
    for shape in ["rectangle", "oval"] {
        for plate in plates() {
            let job = plaque(text, plate, shape, &names);
            assert!(!job.fitted.rows.is_empty());
            assert_eq!(torn(text, &names, &breaks(&job)), 0, "{plate:?}: {:?}", rows(&job));
        }
    }
}

#[test]
fn a_date_stands_in_one_row() {
    stand_together(
        "Rehung and rung again at the first light of 18 July 2094 by all who love them",
        &["18 July 2094"],
    );
    stand_together(
        "This dome was opened on the 3rd of May 2026 to every curious eye in the vale",
        &["the 3rd of May 2026"],
    );
    stand_together("Tower captain and teacher 1976 – 2026 of this band", &["1976 – 2026"]);
    stand_together("A church has stood here since A.D. 1066 and more", &["A.D. 1066"]);
}

#[test]
fn a_title_stays_with_its_name_and_letters_with_theirs() {
    stand_together(
        "Unveiled by the Mayor and blessed by the Revd J. R. Tarrant MA for all the ringers",
        &["Revd J. R. Tarrant MA"],
    );
    stand_together(
        "This window was given by Mr & Mrs Quillfeather in thanks for their ringers",
        &["Mr & Mrs Quillfeather"],
    );
    stand_together(
        "Opened before the members by Sir Barnaby and before the vale by Lady Penhallick",
        &["Sir Barnaby", "Lady Penhallick"],
    );
}

#[test]
fn a_number_stays_with_what_it_counts() {
    stand_together(
        "For 41 years at the tenor of 19 cwt 2 qr in E flat and for 5040 changes",
        &["41 years", "19 cwt 2 qr", "E flat", "5040 changes"],
    );
    stand_together(
        "The gift of £ 500 for bell No. 4 of St Brannock, rope & wheel",
        &["£ 500", "No. 4", "St Brannock", "rope & wheel"],
    );
}

/// In wordings where nothing stands together, so that nothing else weighs more.
#[test]
fn no_word_stands_alone_at_the_end_if_avoidable() {
    let mut tempted = 0;
    for text in [
        "This telescope was built by its members and is open to everyone who looks up",
        "Sit here awhile and listen for the treble as she did",
        "Awarded to the best young ringer of the year by the band",
        "For all who rang here, and all who will",
        "LET HIM THAT HEARETH SAY COME",
    ] {
        for plate in plates() {
            let job = plaque(text, plate, "rectangle", &[]);
            let alone = |breaks: &Vec<usize>| {
                breaks.last().is_some_and(|&at| !text[at..].trim().contains(' '))
            };
            let others = others(&job, plate.0);
            let avoidable = others.iter().any(|breaks| !alone(breaks));
            assert!(!avoidable || !alone(&breaks(&job)), "{plate:?}: {:?}", rows(&job));
            tempted += usize::from(avoidable && others.iter().any(alone));
        }
    }
    assert!(tempted > 10, "only {tempted} plates tempt to leave a word alone");
}

/// Wordings with the plates they stand on and the rows an engraver would give them
/// (common practice, no source).
#[test]
fn an_engraver_would_break_it_so() {
    let table: &[((u16, u16), &str)] = &[
        ((60, 30), "The Elowen Tarrant | Striking Cup"),
        (
            (60, 30),
            "Given by Mr & Mrs | Barnaby Quillfeather | in thanks for the life | of their daughter Elowen",
        ),
        (
            (60, 30),
            "This telescope was built | by its members and is open | to everyone who looks up",
        ),
        ((60, 30), "Awarded | to the best young | ringer of the year"),
        ((60, 30), "Rehung in 2026 through | the gifts of the parish | (all 412 of you)"),
        ((60, 30), "No. 4 Bell, | cast from the metal | of the old third"),
        (
            (60, 30),
            "The Lantern Dome was given | to the people of the vale | by Lady Penhallick and unveiled | by the Mayor of Marrowby, | Cllr J. Quillfeather JP",
        ),
        (
            (90, 40),
            "In loving memory | of the Revd J. R. Tarrant MA, | vicar of this parish 1976 – 2026, | who restored the eight bells",
        ),
        (
            (90, 40),
            "On Saturday 18 July 2094 a peal | of 5040 changes was rung | in 3 hours and 2 minutes | by the St Brannock's band",
        ),
        (
            (90, 40),
            "TO THE GLORY OF GOD | AND IN MEMORY | OF THE RINGERS | OF THIS TOWER WHO FELL | IN THE GREAT WAR",
        ),
        (
            (120, 30),
            "Presented by the ringers of Marrowby Vale | to Barnaby Quillfeather on his retirement | after forty-one years as tower captain 18 July 2094",
        ),
        (
            (120, 30),
            "Tenor 19 cwt 2 qr in E flat, cast in 1066 | for the church of St Brannock, Marrowby Vale",
        ),
        (
            (120, 30),
            "Sit here awhile and listen for the treble, | as Elowen Tarrant did for fifty years",
        ),
    ];
    for (plate, broken) in table {
        let text = broken.replace(" | ", " ");
        let job = plaque(&text, *plate, "rectangle", &[]);
        assert_eq!(rows(&job).join(" | "), *broken, "{plate:?}");
    }
}

/// What happened: a row less of sense was bought by moving the block 8 mm out of the middle
/// of an oval 70 mm high.
#[test]
fn better_breaks_never_push_the_block_out_of_the_middle() {
    let text = "On Saturday 18 July 2094 a peal of 5040 changes was rung in 3 hours and 2 minutes \
                by the St Brannock's band";
    let job = plaque(text, (100, 70), "oval", &[]);
    let (first, last) = (&job.fitted.rows[0], &job.fitted.rows[job.fitted.rows.len() - 1]);
    let middle = (first.baseline - first.cap_height + last.baseline) / 2.0;
    // A fortieth of the field's height at most.
    assert!((middle - 35.0).abs() <= (70.0 - 2.0 * MARGIN) / 40.0 + 0.001, "{middle}");
}

/// The user's own breaks hold and leave every other row's breaks as they were.
#[test]
fn a_break_of_the_users_own_is_no_fault() {
    let text = "For the\nbells of Marrowby Vale, and for all who ring them";
    let job = plaque(text, (76, 38), "rectangle", &[]);
    assert_eq!(rows(&job), ["For the", "bells of Marrowby Vale,", "and for all who ring them"]);
}
