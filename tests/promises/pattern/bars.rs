//! A printer that does not print true, made good.

use ansata::drawing::write::pdf;
use ansata::sheets::{PrintedBars, corrected_pattern, pattern};
use kurbo::{Affine, Rect, Shape};

use super::{board, board_job, group};
use crate::outside::run;
use crate::sheets::boxes::{assert_tidy, paths, texts};
use crate::support::{Bench, shipped};

const ACROSS: f64 = 99.2;
const ALONG: f64 = 100.4;

#[test]
fn a_corrected_pattern_measures_the_bars_backwards() {
    // What prints 100 mm as 99.2 mm must be given 100 x 100 / 99.2 mm; the whole bar is 4 in.
    let sheet =
        corrected_pattern(&board_job("A4", (120, 80)), PrintedBars::new(ACROSS, ALONG).unwrap());
    let page = &sheet.drawing.pages[0];
    let bar = bars(page);
    let wanted = [101.6 * 100.0 / ACROSS, 101.6 * 100.0 / ALONG];
    assert!(
        (bar[0].width() - wanted[0]).abs() < 1e-9 && (bar[1].height() - wanted[1]).abs() < 1e-9
    );
    // And as poppler draws it, 600 dots an inch: from the middle of the tick at 0 in to that
    // of the tick at 4 in. Only whole inches have ticks of 3.2 mm.
    let bench = Bench::new();
    bench.put("bars.pdf", pdf(&sheet.drawing).unwrap());
    let options =
        ["-r", "600", "-gray", "-png", "-f", "1", "-l", "1", "-singlefile", "bars.pdf", "bars"];
    if run("pdftoppm", &options, &bench.path("")).is_none() {
        return;
    }
    let picture = image::open(bench.path("bars.png")).unwrap().to_luma8();
    let (from, to) = (dot(bar[0].x0 - 3.0), dot(bar[0].x1 + 3.0));
    let row: Vec<u8> =
        (from..to).map(|x| picture.get_pixel(x, dot(bar[0].y0 + 2.9)).0[0]).collect();
    let (from, to) = (dot(bar[1].y0 - 3.0), dot(bar[1].y1 + 3.0));
    let column: Vec<u8> =
        (from..to).map(|y| picture.get_pixel(dot(bar[1].x0 + 2.9), y).0[0]).collect();
    for (levels, wanted) in [(row, wanted[0]), (column, wanted[1])] {
        let ticks = middles(&levels);
        assert_eq!(ticks.len(), 5, "one a whole inch: {ticks:?}");
        // As long as the side of 100 mm is to be: 100 x 100 / what was measured.
        let length = (ticks[4] - ticks[0]) * MM * 100.0 / 101.6;
        let wanted = wanted * 100.0 / 101.6;
        assert!((length - wanted).abs() < 0.05, "{length} mm instead of {wanted} mm");
    }
}

/// Length of a dot at the resolution of the comparison, mm.
const MM: f64 = 25.4 / 600.0;

/// The dot in which a place on a page lies.
fn dot(at: f64) -> u32 {
    format!("{:.0}", (at / MM).floor()).parse().unwrap()
}

/// Middles of the stretches of ink along a line of dots, weighed by their darkness.
fn middles(levels: &[u8]) -> Vec<f64> {
    let mut all = Vec::new();
    let (mut weight, mut moment) = (0.0, 0.0);
    for (place, level) in levels.iter().chain(&[255]).enumerate() {
        let ink = f64::from(255 - level);
        if ink > 0.0 {
            weight += ink;
            moment += ink * place as f64;
        } else if weight > 0.0 {
            all.push(moment / weight);
            (weight, moment) = (0.0, 0.0);
        }
    }
    all
}

/// The lying and the standing bar of a page.
fn bars(page: &ansata::drawing::Page) -> [Rect; 2] {
    let corrected = group(&page.items, "corrected").expect("a corrected page");
    let bar = group(&corrected.items, "check-bar").expect("check bars");
    let long: Vec<Rect> = paths(&bar.items, corrected.transform)
        .iter()
        .map(|(path, place)| (*place * path.path.clone()).bounding_box())
        .filter(|line| line.width().max(line.height()) > 50.0)
        .collect();
    let lying = long.iter().find(|line| line.width() > line.height()).expect("a lying bar");
    let standing = long.iter().find(|line| line.width() < line.height()).expect("a standing bar");
    [*lying, *standing]
}

#[test]
fn a_corrected_pattern_keeps_its_margins_and_says_what_it_is_on_every_page() {
    for (across, along) in [(ACROSS, ALONG), (97.0, 97.0), (103.0, 97.5)] {
        for size in [(120, 80), (380, 120)] {
            let sheet =
                corrected_pattern(&board_job("A4", size), PrintedBars::new(across, along).unwrap());
            for page in &sheet.drawing.pages {
                assert_eq!(
                    (page.width.min(page.height), page.width.max(page.height)),
                    (210.0, 297.0)
                );
                assert_tidy(page, 10.0, 2.5, "corrected");
                let said: Vec<String> = texts(page).into_iter().map(|t| t.0.text).collect();
                let said = said.join(" ");
                let told = format!("prints 100 mm as {across} mm across and {along} mm along");
                assert!(said.contains(&told), "{said}");
            }
            // No page shows the plate at true size before it is printed.
            assert!(sheet.plate_at.iter().all(Option::is_none));
        }
    }
}

#[test]
fn a_true_printer_changes_nothing_but_the_words() {
    let job = board_job("A4", (120, 80));
    let same = corrected_pattern(&job, PrintedBars::new(100.0, 100.0).unwrap());
    let page = &same.drawing.pages[0];
    assert_eq!(group(&page.items, "corrected").unwrap().transform, Affine::IDENTITY);
    assert_eq!(pattern(&job).drawing.pages.len(), same.drawing.pages.len());
}

#[test]
fn printed_bars_are_taken_from_the_command_line_and_nonsense_writes_nothing() {
    let bench = Bench::new();
    shipped(&bench);
    let with = |bars: &str| {
        bench.run(&[
            "pattern",
            "dedication.toml",
            "-o",
            "p.svg",
            "--replace",
            "--printed-bars",
            bars,
        ])
    };
    for (bars, said) in [
        ("99.2 mm acros, 100.4 mm along", "column 9: expected a length and then `across`"),
        ("", "column 1: the bar `across` is missing"),
        ("94 mm across, 94 mm along", "print at 100 %"),
    ] {
        let ran = with(bars);
        assert_eq!(ran.status, 2, "{bars}: {}", ran.out);
        assert!(ran.err.contains(said), "{bars}: {}", ran.err);
        assert!(!bench.has("p.svg"));
    }
    let ran = with("99.2 mm across, 100.4 mm along");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let corrected = bench.read("p.svg");
    assert_eq!(with("100,4 mm along and 99,2 mm across").status, 0);
    assert_eq!(bench.read("p.svg"), corrected);
    assert_eq!(with("3 31/32 in across, 4 in along").status, 0);
    assert!(bench.read("p.svg") != corrected);
    // Tiles too.
    bench.put("board.toml", board("Letter", (380, 120)));
    let ran = bench.run(&[
        "pattern",
        "board.toml",
        "-o",
        "b.pdf",
        "--printed-bars",
        "99 mm across, 99 mm along",
    ]);
    assert_eq!(ran.status, 0, "{}", ran.err);
}
