//! What holds of every plaque, with real letters.

use std::fmt::Write;

use ansata::fit::{Fitted, Row};
use ansata::floors;
use ansata::job::{Job, job};
use ansata::layout::{Align, FitMode, Shop, Source, Vocabulary, read};
use ansata::lettering::catalogue;
use ansata::plate::ZoneShape;
use arbtest::arbitrary::Unstructured;
use arbtest::arbtest;

/// What snapping to 1 µm may take, mm.
const SNAP: f64 = 0.001;

const WORDS: [&str; 14] = [
    "Marrowby",
    "Vale",
    "the",
    "of",
    "ringers,",
    "TENOR",
    "1914–2003",
    "Quillfeather.",
    "by",
    "jury",
    "“Look”",
    "OBSERVATORY",
    "Åse",
    "and",
];

/// A layout of up to five lines on a plate of any shape, with or without holes.
fn layout(u: &mut Unstructured<'_>) -> arbtest::arbitrary::Result<String> {
    let (width, height) = (u.int_in_range(50..=160)?, u.int_in_range(40..=110)?);
    let shape = *u.choose(&["rectangle", "oval", "rounded", "circle"])?;
    let height = if shape == "circle" { width } else { height };
    let mut text = format!(
        "ansata = 1\ntitle = \"Plate\"\n[plate]\nsize = \"{width} x {height} mm\"\nshape = \"{shape}\"\n\
         thickness = \"1.5 mm\"\nmaterial = \"brass\"\nmargin = \"{} mm\"\n",
        u.int_in_range(3..=6)?
    );
    if shape == "rounded" {
        text.push_str("corner = \"9 mm\"\n");
    }
    let ease = u.int_in_range(60..=100)?;
    let mode = u.choose(&["even", "even", "full"])?;
    let _ = write!(
        text,
        "[engraving]\nprocess = \"rotary\"\n[lettering]\ndefault = \"{}\"\n[fit]\nmode = \"{mode}\"\nease = \"{ease} %\"\n",
        u.choose(&["EB Garamond", "Cinzel", "Libre Baskerville Italic"])?
    );
    for _ in 0..u.int_in_range(1..=5)? {
        let words = (0..u.int_in_range(1..=9)?)
            .map(|_| u.choose(&WORDS).copied())
            .collect::<arbtest::arbitrary::Result<Vec<_>>>()?;
        let (size, align) =
            (u.choose(&["0.8", "1.0", "1.6"])?, u.choose(&["centre", "centre", "left", "right"])?);
        let _ = write!(
            text,
            "[[line]]\ntext = \"{}\"\nsize = {size}\nalign = \"{align}\"\n",
            words.join(" ")
        );
    }
    let holes = u.choose(&["none", "two sides", "top and bottom", "four corners"])?;
    let _ = write!(text, "[mount]\nholes = \"{holes}\"\n");
    if *holes != "none" {
        text.push_str("inset = \"7 mm\"\nfixing = { kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\" }\n");
    }
    Ok(text)
}

fn plaque(text: &str) -> Job {
    let source = Source { name: "plate.toml".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new()))
        .unwrap_or_else(|told| panic!("{text}\n{told:?}"));
    job(&layout).unwrap_or_else(|told| panic!("{told:?}"))
}

/// The four corners of a row's ink.
fn corners(row: &Row) -> [(f64, f64); 4] {
    let ink = row.ink;
    [(ink.x0, ink.y0), (ink.x1, ink.y0), (ink.x0, ink.y1), (ink.x1, ink.y1)]
}

/// Box of a row with its line's greatest rise and depth: top and bottom.
fn row_box(fitted: &Fitted, row: &Row) -> (f64, f64) {
    let line = &fitted.lines[row.line];
    (row.baseline - line.rise * row.cap_height, row.baseline + line.depth * row.cap_height)
}

#[test]
fn no_ink_stands_outside_the_margin_or_on_a_head() {
    arbtest(|u| {
        let text = layout(u)?;
        let job = plaque(&text);
        let Some(outline) = &job.field.outline else { return Ok(()) };
        for row in &job.fitted.rows {
            // The outline is convex: corners speak for the box.
            for (x, y) in corners(row) {
                assert!(outline.depth_of(x, y) >= -SNAP, "{text}\n{row:?}");
            }
            for zone in &job.field.zones {
                if let ZoneShape::Disc { x, y, radius } = zone.shape {
                    let (dx, dy) =
                        (x - x.clamp(row.ink.x0, row.ink.x1), y - y.clamp(row.ink.y0, row.ink.y1));
                    assert!(libm::hypot(dx, dy) >= radius - SNAP, "{text}\n{row:?}");
                }
            }
        }
        Ok(())
    })
    .budget_ms(3000);
}

#[test]
fn rows_never_touch_and_keep_their_order() {
    arbtest(|u| {
        let text = layout(u)?;
        let fitted = plaque(&text).fitted;
        for pair in fitted.rows.windows(2) {
            let (above, below) = (row_box(&fitted, &pair[0]).1, row_box(&fitted, &pair[1]).0);
            let least = (0.1 * pair[0].cap_height.min(pair[1].cap_height)).max(0.3);
            assert!(below - above >= least - 2.0 * SNAP, "{text}\n{pair:?}");
            // The ink itself keeps to its box.
            for row in pair {
                let (top, bottom) = row_box(&fitted, row);
                assert!(row.ink.y0 >= top - SNAP && row.ink.y1 <= bottom + SNAP, "{text}\n{row:?}");
            }
        }
        Ok(())
    })
    .budget_ms(2000);
}

/// Rows against a side touch their stretch with their ink; centred ones have their ink in
/// the middle, but for hanging marks, and but for rows as wide as their stretch.
#[test]
fn rows_stand_where_they_are_aligned() {
    arbtest(|u| {
        let text = layout(u)?;
        let job = plaque(&text);
        for row in &job.fitted.rows {
            let (left, right) = (row.ink.x0 - row.usable_left, row.usable_right - row.ink.x1);
            assert!(left >= -2.0 * SNAP && right >= -2.0 * SNAP, "{text}\n{row:?}");
            let plain = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
            let off = match job.fitted.lines[row.line].align {
                Align::Left => left,
                Align::Right => right,
                Align::Centre
                    if plain(row.text.chars().next_back()) && plain(row.text.chars().next()) =>
                {
                    (row.ink.x0 + row.ink.x1) / 2.0 - job.field.axis_x
                }
                // A mark that hangs moves its row by half of itself, outward.
                Align::Centre => 0.0,
            };
            assert!(off.abs() <= 2.0 * SNAP, "{text}\n{row:?}");
        }
        Ok(())
    })
    .budget_ms(1500);
}

#[test]
fn every_word_stands_once_and_in_order() {
    arbtest(|u| {
        let text = layout(u)?;
        let job = plaque(&text);
        if job.fitted.rows.is_empty() {
            return Ok(());
        }
        for (at, line) in job.layout.lines.iter().enumerate() {
            let rows = job.fitted.rows.iter().filter(|row| row.line == at);
            let pieces: Vec<&str> = rows.map(|row| row.text.as_str()).collect();
            let squeezed = |text: &str| text.split_whitespace().collect::<String>();
            assert_eq!(squeezed(&pieces.concat()), squeezed(&line.text), "{text}");
            assert_eq!(job.fitted.lines[at].breaks.len() + 1, pieces.len(), "{text}");
        }
        Ok(())
    })
    .budget_ms(1000);
}

#[test]
fn hierarchy_bends_before_legibility() {
    arbtest(|u| {
        let text = layout(u)?;
        let job = plaque(&text);
        if job.layout.fit.mode != FitMode::Even {
            return Ok(());
        }
        let floors = floors::of(&job.lines, &job.layout);
        let fitted = &job.fitted;
        for ((line, asked), floor) in fitted.lines.iter().zip(&job.layout.lines).zip(&floors) {
            let least = floor.floor.min(line.ceiling);
            if fitted.limit_scale.is_some() {
                // Its share of the scale, unless that is too small or too large for it.
                let share = asked.size * fitted.scale;
                let expected = share.max(least).min(line.ceiling);
                assert!((line.cap_height - expected).abs() < 1e-9, "{text}\n{line:?}");
            } else if !fitted.rows.is_empty() {
                // All under their floors by one share.
                assert!(fitted.phi < 1.0, "{text}");
                assert!((line.cap_height - fitted.phi * least).abs() < 1e-9, "{text}\n{line:?}");
            }
        }
        Ok(())
    })
    .budget_ms(1000);
}

#[test]
fn the_same_input_gives_the_same_places() {
    arbtest(|u| {
        let text = layout(u)?;
        assert_eq!(plaque(&text).fitted, plaque(&text).fitted);
        Ok(())
    })
    .budget_ms(500);
}
