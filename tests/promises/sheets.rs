//! Promises about sheets: what is handed over is true to size, says everything,
//! and nothing on it collides or is cut off.

pub(crate) mod boxes;
pub(crate) mod jobs;

use ansata::drawing::{Drawing, Group, Item, LineType, Path, Text};
use ansata::job::Job;
use ansata::mount::Bored;
use ansata::remedies::cures;
use ansata::sheets::{artwork, mockup, pattern, proof, proof_lettering};
use kurbo::{Affine, Rect, Shape};

use boxes::{assert_tidy, paths, texts};
use jobs::{Numbers, job_of, random_job, with_mount};

/// White round the contents of every sheet, mm: the border of ISO 5457:1999.
const MARGIN: f64 = 10.0;
/// Least cap height of text at the bench, mm: a size of ISO 3098-0.
const BENCH_CAP: f64 = 2.5;
/// Least cap height of text that is read at a table, mm: the smallest size there.
const READING_CAP: f64 = 1.8;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

fn dedication() -> Job {
    job_of(include_str!("../../layouts/dedication.toml"))
}

fn cannot_fit() -> Job {
    job_of(include_str!("../../layouts/cannot-fit.toml"))
}

/// All text of a drawing, row after row, in the order of drawing.
pub(crate) fn said(drawing: &Drawing) -> String {
    let rows: Vec<String> = drawing.pages.iter().flat_map(texts).map(|text| text.0.text).collect();
    rows.join(" ")
}

/// Text without white space: what is left when rows are broken elsewhere.
pub(crate) fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

pub(crate) fn group<'a>(items: &'a [Item], name: &str) -> Option<&'a Group> {
    items.iter().find_map(|item| match item {
        Item::Group(group) if group.name == name => Some(group),
        Item::Group(group) => self::group(&group.items, name),
        _ => None,
    })
}

fn bounds(group: &Group) -> Rect {
    let all: Vec<(Path, Affine)> = paths(&group.items, Affine::IDENTITY);
    all.iter()
        .map(|(path, place)| (*place * path.path.clone()).bounding_box())
        .reduce(|a, b| a.union(b))
        .expect("a group with paths")
}

#[test]
fn nothing_on_a_sheet_collides_or_is_cut_off_however_long_the_wording() {
    let mut numbers = Numbers(0x0005_ee75);
    let mut pages = 0;
    for case in 0..120 {
        let (layout, job) = random_job(&mut numbers);
        // Where the field is no rectangle cures take the fit a while.
        let cured = case % 9 == 0 && job.field.rectangle().is_some();
        let cures = if cured { cures(&job) } else { Vec::new() };
        for (name, sheet) in
            [("proof", proof(&job, &cures)), ("pattern", pattern(&job)), ("mock-up", mockup(&job))]
        {
            let (margin, least) =
                if name == "pattern" { (MARGIN, BENCH_CAP) } else { (15.0, READING_CAP) };
            for (index, page) in sheet.drawing.pages.iter().enumerate() {
                let place = format!("case {case}, {name}, page {}\n{layout}", index + 1);
                assert_tidy(page, margin, least, &place);
                pages += 1;
            }
        }
    }
    assert!(pages > 600, "{pages} pages looked at");
}

#[test]
fn the_shipped_layouts_give_tidy_sheets() {
    for job in [
        dedication(),
        cannot_fit(),
        job_of(include_str!("../../layouts/oval.toml")),
        job_of(include_str!("../../layouts/ansate.toml")),
        job_of(include_str!("../../layouts/inches.toml")),
        job_of(include_str!("../../layouts/many-scripts.toml")),
    ] {
        for sheet in [proof(&job, &cures(&job)), pattern(&job), mockup(&job)] {
            for page in &sheet.drawing.pages {
                assert_tidy(page, MARGIN, READING_CAP, &job.layout.title);
            }
        }
    }
}

#[test]
fn every_plate_on_every_sheet_is_drawn_at_its_true_size() {
    let mut numbers = Numbers(7);
    for _ in 0..15 {
        let (layout, job) = random_job(&mut numbers);
        let plate = &job.layout.plate;
        for sheet in [proof(&job, &[]), pattern(&job), mockup(&job)] {
            assert_eq!(sheet.plate_at.len(), sheet.drawing.pages.len());
            assert!(sheet.plate_at.iter().any(Option::is_some), "{layout}");
            for (page, place) in sheet.drawing.pages.iter().zip(&sheet.plate_at) {
                let Some((x, y)) = place else { continue };
                if group(&page.items, "tile").is_some() {
                    // A part of the plate: see the promises about tiles.
                    continue;
                }
                let drawn = group(&page.items, "plate").expect("a plate");
                assert_eq!(drawn.transform, Affine::translate((*x, *y)), "moved, never scaled");
                let edge = bounds(group(&drawn.items, "outline").expect("an outline"));
                assert!(near(edge.x0, 0.0) && near(edge.y0, 0.0), "{edge:?}\n{layout}");
                assert!((edge.width() - plate.width).abs() < 1e-3, "{edge:?}\n{layout}");
                assert!((edge.height() - plate.height).abs() < 1e-3, "{edge:?}\n{layout}");
                // And the whole of it lies on the paper.
                assert!(*x >= MARGIN - 1e-9 && x + plate.width <= page.width - MARGIN + 1e-9);
                assert!(*y >= MARGIN - 1e-9 && y + plate.height <= page.height - MARGIN + 1e-9);
            }
        }
    }
}

#[test]
fn the_check_bars_are_a_hundred_millimetres_and_four_inches_long() {
    let job = dedication();
    for (sheet, bars) in [(proof(&job, &[]), 1), (mockup(&job), 1), (pattern(&job), 2)] {
        let page = sheet.drawing.pages.first().expect("a page");
        let bar = group(&page.items, "check-bar").expect("a check bar");
        let lines: Vec<Rect> = paths(&bar.items, Affine::IDENTITY)
            .iter()
            .map(|(path, place)| (*place * path.path.clone()).bounding_box())
            .collect();
        // One inch is 25.4 mm (international inch, 1 July 1959).
        let long: Vec<&Rect> =
            lines.iter().filter(|line| line.width().max(line.height()) > 50.0).collect();
        assert_eq!(long.len(), bars);
        for bar in long {
            assert!(near(bar.width().max(bar.height()), 4.0 * 25.4), "{bar:?}");
            let across = bar.width() > bar.height();
            let tick_at = |at: f64| {
                lines.iter().any(|line| {
                    if across {
                        near(line.x0, bar.x0 + at) && near(line.width(), 0.0) && line.height() > 1.0
                    } else {
                        near(line.y0, bar.y1 - at) && near(line.height(), 0.0) && line.width() > 1.0
                    }
                })
            };
            for step in 0..=10 {
                assert!(tick_at(f64::from(step) * 10.0), "{step} cm");
            }
            for quarter in 0..=16 {
                assert!(tick_at(f64::from(quarter) * 25.4 / 4.0), "{quarter} quarter inches");
            }
        }
    }
}

#[test]
fn a_proof_shows_the_exact_wording_row_by_row_with_its_heights() {
    let job = dedication();
    let sheet = proof(&job, &[]);
    let words: Vec<String> =
        sheet.drawing.pages.iter().flat_map(texts).map(|text| text.0.text).collect();
    for row in &job.fitted.rows {
        assert!(words.contains(&row.text), "{}", row.text);
    }
    for line in &job.fitted.lines {
        assert!(words.contains(&format!("{:.2} mm", line.cap_height)));
        assert!(words.contains(&format!("{:.3} in", line.cap_height / 25.4)));
    }
    let said = said(&sheet.drawing);
    for part in [
        "no cutter is told: whether they",
        "Answerable for spelling, names and dates: Orla Penhallick, tower secretary.",
        "Approved as shown",
        "Approved with the changes",
        "Not approved",
        "Corrections",
        "For the ringers",
        "For the engraver",
        "True size only if printed at 100 %",
        "2026-11-25",
        "OFL-1.1",
        // 120 x 80 x 1.5 mm less the corners (4 - π) x 25 mm², brass at 8.53 g/cm³
        // (reference table of the plate): 122.6 g.
        "about 123 g",
    ] {
        assert!(squeezed(&said).contains(&squeezed(part)), "{part}\n{said}");
    }
}

/// A plate of two letterings, so that the notes under its wording are three lines.
fn two_letterings(size: &str, text: &str) -> Job {
    job_of(&format!(
        "ansata = 1\ntitle = \"Dome\"\n[plate]\nsize = \"{size}\"\nmaterial = \"brass\"\n\
         margin = \"5 mm\"\n[lettering]\ndefault = \"EB Garamond\"\n\
         [[line]]\ntext = \"LANTERN DOME\"\nlettering = \"Cinzel\"\n[[line]]\ntext = \"{text}\"\nat_most = \"3.3 mm\"\n"
    ))
}

#[test]
fn a_row_that_is_little_too_long_for_its_column_is_printed_smaller_and_whole() {
    let text = "turned by the bell-ringers of Marrowby Vale, who know how to pull together, for \
                all who come on any clear night to look up, and who bring a friend with them who \
                has never before seen the rings of Saturn or the hills of the Moon";
    let mut smaller = 0;
    for wide in (110..172).step_by(4) {
        let job = two_letterings(&format!("{wide} x 50 mm"), text);
        let sheet = proof(&job, &[]);
        let words: Vec<Text> =
            sheet.drawing.pages.iter().flat_map(texts).map(|text| text.0).collect();
        let set = |row: &str| words.iter().find(|text| text.text == row);
        if job.fitted.rows.iter().all(|row| set(&row.text).is_some()) {
            let caps: Vec<f64> = (job.fitted.rows.iter())
                .filter_map(|row| set(&row.text))
                .map(|text| text.size * text.face.cap_em())
                .collect();
            assert!(caps.iter().all(|cap| near(*cap, caps[0])), "{caps:?}");
            assert!((2.0 - 1e-9..=2.3 + 1e-9).contains(&caps[0]), "{caps:?}");
            smaller += usize::from(caps[0] < 2.3 - 1e-6);
        } else {
            assert!(words.iter().any(|text| text.text.contains("goes on indented")));
        }
    }
    assert!(smaller > 1, "{smaller}");
}

#[test]
fn the_notes_under_the_wording_stay_on_one_page() {
    let mut turned = 0;
    for tall in 110..190 {
        let job = two_letterings(&format!("90 x {tall} mm"), "all who look up are welcome here");
        let pages: Vec<Vec<String>> = (proof(&job, &[]).drawing.pages.iter())
            .map(|page| texts(page).into_iter().map(|text| text.0.text).collect())
            .collect();
        let page_of = |part: &str| {
            pages.iter().position(|page| page.iter().any(|text| text.starts_with(part)))
        };
        let page = page_of("Thinnest strokes were measured");
        assert!(page.is_some());
        assert_eq!(page_of("Lettering Cinzel:"), page, "{tall}");
        assert_eq!(page_of("Lettering EB Garamond:"), page, "{tall}");
        turned += usize::from(page_of("LANTERN DOME") != page);
    }
    assert!(turned > 0, "no plate was so high that the notes went to the next page");
}

#[test]
fn a_long_title_is_printed_whole() {
    let title = "The Worshipful Band of Ringers of Marrowby Vale and the Lantern Dome, ".repeat(8);
    let mut job = dedication();
    job.layout.title.clone_from(&title);
    for sheet in [proof(&job, &[]), pattern(&job), mockup(&job)] {
        assert!(squeezed(&said(&sheet.drawing)).contains(&squeezed(&title)));
        for page in &sheet.drawing.pages {
            assert_tidy(page, MARGIN, READING_CAP, "long title");
        }
    }
}

#[test]
fn a_proof_with_a_stop_says_so_in_print_and_names_what_cures_it() {
    let job = cannot_fit();
    let cures = cures(&job);
    assert!(job.stopped() && !cures.is_empty());
    let text = said(&proof(&job, &cures).drawing);
    assert!(text.contains("STOP \u{2013} do not make this"), "{text}");
    assert!(text.contains("It concerns the lettering. The artwork is withheld."), "{text}");
    for remedy in cures.iter().flat_map(|cure| &cure.remedies) {
        assert!(squeezed(&text).contains(&squeezed(&remedy.message)), "{}", remedy.message);
    }
    for judged in &job.findings {
        let finding = &judged.finding;
        for part in [&finding.message, &finding.rule, &finding.source] {
            assert!(squeezed(&text).contains(&squeezed(part)), "{part}");
        }
    }
    assert!(!said(&proof(&dedication(), &[]).drawing).contains("STOP"));
}

#[test]
fn an_accepted_stop_is_printed_with_its_reason_and_without_the_banner() {
    let mut job = cannot_fit();
    for judged in &mut job.findings {
        judged.accepted = Some("the donor wants this plate and no other".to_owned());
    }
    let text = said(&proof(&job, &[]).drawing);
    assert!(!text.contains("do not make this"), "{text}");
    assert!(text.contains("Accepted: the donor wants this plate and no other"), "{text}");
}

#[test]
fn every_page_carries_the_proof_mark() {
    for job in [dedication(), cannot_fit()] {
        for sheet in [proof(&job, &cures(&job)), pattern(&job), mockup(&job)] {
            for page in &sheet.drawing.pages {
                assert!(texts(page).iter().any(|text| text.0.text.contains(&job.mark)));
            }
        }
    }
}

#[test]
fn the_lettering_alone_is_black_on_white_and_stands_where_it_was_fitted() {
    let job = dedication();
    let drawing = proof_lettering(&job).drawing;
    assert_eq!(drawing.background, Some([255; 3]));
    let [page] = drawing.pages.as_slice() else { panic!("one page") };
    let letters = group(&page.items, "lettering").expect("lettering");
    assert_eq!(page.items.len(), 1);
    assert_eq!(letters.items.len(), job.fitted.rows.len());
    for (item, row) in letters.items.iter().zip(&job.fitted.rows) {
        let Item::Path(path) = item else { panic!("outlines only") };
        let ink = path.path.bounding_box();
        // Fitted places are snapped to 1 µm.
        for (drawn, fitted) in
            [(ink.x0, row.ink.x0), (ink.x1, row.ink.x1), (ink.y0, row.ink.y0), (ink.y1, row.ink.y1)]
        {
            assert!((drawn - fitted).abs() < 0.005, "{drawn} is not {fitted} in {}", row.text);
        }
    }
}

#[test]
fn a_pattern_measures_from_the_datum_that_was_chosen() {
    // Plate 120 x 80 on a face 150 x 110, holes 8 mm in; centred across, 15 mm up
    // from the bottom edge. Worked by hand: holes 60 - 8 = 52 mm either side of the
    // centre line, 15 + 8 = 23 mm and 15 + 80 - 8 = 87 mm up.
    let text = said(&pattern(&dedication()).drawing);
    for part in [
        "across, the face's upright centre line; up and down, the face's bottom edge",
        "52.00 mm (2 3/64 in, 0.01 mm short) left",
        "52.00 mm (2 3/64 in, 0.01 mm short) right",
        "23.00 mm (29/32 in, 0.02 mm over)",
        "87.00 mm (3 27/64 in, 0.08 mm short)",
    ] {
        assert!(squeezed(&text).contains(&squeezed(part)), "{part}\n{text}");
    }
    // From the right and the top edge instead: plate 10 mm from the right edge and
    // 12 mm from the top of a face 200 x 150: holes at 10 + 8 and 10 + 112, 12 + 8
    // and 12 + 72.
    let job = with_mount(
        "120 x 80 mm",
        "fixing = { kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"1/2 in\" }\n\
         holes = \"four corners\"\ninset = \"8 mm\"",
        "size = \"200 x 150 mm\"\nmaterial = \"white oak\"\nthickness = \"20 mm\"\n\
         place = { from_right = \"10 mm\", from_top = \"12 mm\" }",
    );
    let text = said(&pattern(&job).drawing);
    for part in [
        "the face's right edge; up and down, the face's top edge",
        "18.00 mm (45/64 in, 0.14 mm short)",
        "122.00 mm (4 51/64 in, 0.16 mm short)",
        "20.00 mm (25/32 in, 0.16 mm short)",
        "84.00 mm (3 5/16 in, 0.14 mm over)",
    ] {
        assert!(squeezed(&text).contains(&squeezed(part)), "{part}\n{text}");
    }
}

#[test]
fn a_pattern_names_drills_depth_and_the_pilot_rule() {
    let job = dedication();
    let fixing = job.mount.fixing.as_ref().expect("a screw");
    let pilot = fixing.bore(Bored::Pilot).expect("a pilot");
    let text = squeezed(&said(&pattern(&job).drawing));
    let depth = fixing.penetration(job.layout.plate.thickness);
    for part in [
        format!("{:.2} mm", pilot.diameter),
        format!("set the depth stop to {}", ansata::units::digits::trimmed(depth, 2)),
        pilot.rule.clone(),
        fixing.name.clone(),
        "Measure both bars".to_owned(),
        "transfer punch".to_owned(),
        "Wear eye protection".to_owned(),
        "local codes".to_owned(),
        "licensed professional".to_owned(),
        "Plate drilling sheet".to_owned(),
    ] {
        assert!(text.contains(&squeezed(&part)), "{part}\n{text}");
    }
}

#[test]
fn the_drilling_sheet_gives_the_order_of_work() {
    let job = job_of(&jobs::bevelled_and_lacquered());
    let text = said(&pattern(&job).drawing);
    let order = [
        "Cut the plate",
        "Bevel the front",
        "Drill the holes",
        "Countersink on the front, after",
        "Finish the surface",
        "Engrave the lettering",
        "Fill with red paint",
        "Lacquer, outdoors",
    ];
    let places: Vec<usize> = order
        .iter()
        .map(|step| text.find(step).unwrap_or_else(|| panic!("{step}\n{text}")))
        .collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(text.contains("82\u{b0}"), "the angle of a countersunk wood screw, ASME B18.6.1");
}

#[test]
fn a_plate_without_holes_is_placed_and_never_drilled() {
    let job = job_of(include_str!("../../layouts/inches.toml"));
    assert!(job.mount.holes.is_empty());
    let drawing = pattern(&job).drawing;
    let text = said(&drawing);
    assert!(text.contains("No holes: how to place the plate") && text.contains("Tape alone holds"));
    assert!(!text.contains("Drills and depths") && !text.contains("drilling sheet"));
    assert!(drawing.pages.iter().all(|page| group(&page.items, "holes").is_none()));
}

#[test]
fn centre_lines_on_patterns_are_long_dashed_dotted_and_pass_the_rim() {
    let job = dedication();
    let sheet = pattern(&job);
    let page = sheet.drawing.pages.first().expect("a page");
    let (x, y) = sheet.plate_at.first().copied().flatten().expect("a plate");
    let centre_lines: Vec<Rect> = paths(&page.items, Affine::IDENTITY)
        .into_iter()
        .filter(|(path, _)| {
            path.stroke.is_some_and(|stroke| stroke.line_type == LineType::LongDashedDotted)
        })
        .map(|(path, place)| (place * path.path).bounding_box())
        .collect();
    for hole in &job.mount.holes {
        let (hx, hy) = (x + hole.x, y + hole.y);
        let rim = hole.head_diameter.max(hole.clearance_diameter) / 2.0;
        let level =
            centre_lines.iter().filter(|line| near(line.y0, hy) && near(line.height(), 0.0));
        let reach = level.fold((hx, hx), |(low, high), line| {
            if near(line.x0, hx) || near(line.x1, hx) {
                (low.min(line.x0), high.max(line.x1))
            } else {
                (low, high)
            }
        });
        assert!(reach.0 < hx - rim && reach.1 > hx + rim, "{reach:?} about {hx}");
    }
}

#[test]
fn nobody_can_drill_by_a_mock_up() {
    let job = dedication();
    let drawing = mockup(&job).drawing;
    assert!(said(&drawing).contains("MOCK-UP \u{2013} not for drilling"));
    for page in &drawing.pages {
        let heads = group(&page.items, "holes").expect("heads are drawn");
        for (path, _) in paths(&heads.items, Affine::IDENTITY) {
            // Whole heads only: no hole, no slot, no cross that shows the centre.
            assert!(near_head(&path, &job), "{:?}", path.path.bounding_box());
        }
        for (path, _) in paths(&page.items, Affine::IDENTITY) {
            let line_type = path.stroke.map(|stroke| stroke.line_type);
            assert!(line_type.is_none_or(|line_type| line_type == LineType::Continuous));
        }
    }
}

fn near_head(path: &Path, job: &Job) -> bool {
    let width = path.path.bounding_box().width();
    job.mount.holes.iter().any(|hole| (width - hole.head_diameter).abs() < 1e-3)
}

#[test]
fn the_same_job_gives_the_same_sheets() {
    let svg = |job: &Job| {
        let sheets = [proof(job, &[]), pattern(job), mockup(job), artwork(job).whole.sheet];
        sheets.map(|sheet| ansata::drawing::write::svg(&sheet.drawing).expect("a page"))
    };
    assert_eq!(svg(&dedication()), svg(&dedication()));
}

/// A text and where its ink is; see [`boxes`].
pub(crate) type Placed = (Text, Rect);
