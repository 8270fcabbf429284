//! Ways to place a photograph, small, to choose from.

use kurbo::Affine;

use crate::drawing::Drawing;
use crate::job::{Job, Placing};
use crate::layout::{Named, Paper};
use crate::photo::Standing;
use crate::units::digits::{fixed, trimmed};

use super::block::{Block, Layer};
use super::heading::{Footer, READ, foot, head};
use super::page::{Flow, finished, first};
use super::plaque::{Heads, extent, plaque};
use super::sheet::Sheet;
use super::table::{Para, paragraphs};
use super::text::{Labels, Style};
use super::words;

/// White between two pictures, and between a picture and its words, mm.
const BETWEEN: f64 = 10.0;
const UNDER: f64 = 2.0;

/// Pictures side by side.
const ACROSS: usize = 2;

/// Greatest share of the page's height that a picture takes, so that three stand over each
/// other with their words.
const SHARE: f64 = 0.21;

/// A sheet of placings with their jobs, in the order given, each under its number from 1; at
/// most as many as fill its pages. Pictures are smaller than true size, and say so.
#[must_use]
pub fn placings(ways: &[(Placing, Job)], paper: Paper) -> Sheet {
    let mut labels = Labels::plain();
    let title = ways.first().map_or("", |(_, job)| job.layout.title.as_str());
    labels.provide(title);
    let size = first(paper, READ.margin);
    let footer = |page: usize, count: usize, width: f64| {
        let right = format!("page {page} of {count}");
        let left = title.replace('\n', " ");
        foot(&labels, READ, Footer { left: &left, instead: "", right: &right }, width)
    };
    let foot_height = footer(888, 888, size.inside(0.0).0).height;
    let mut flow = Flow::new(size, foot_height);
    let width = flow.width();
    flow.put(head(&labels, READ, (title, None), "Ways to place the photograph", &[], width));
    flow.space(3.0);
    flow.put(paragraphs(&labels, &[Para::new(words::PLACINGS, READ.text())], width));
    flow.space(6.0);
    let room = ((width - BETWEEN) / 2.0, flow.height() * SHARE);
    for (row, pair) in ways.chunks(ACROSS).enumerate() {
        let mut block = Block::empty(0.0);
        for (place, way) in pair.iter().enumerate() {
            let number = row * ACROSS + place + 1;
            let one = picture(&labels, way, number, room);
            let left = if place == 0 { 0.0 } else { width - room.0 };
            block.height = block.height.max(one.height);
            block.add(one, left, 0.0);
        }
        flow.put(block);
        flow.space(BETWEEN / 2.0);
    }
    let told: Vec<String> = ways
        .iter()
        .zip(1..)
        .map(|(way, number)| format!("{number}: {}", placing_told(way)))
        .collect();
    let drawing = Drawing {
        title: format!("{title}: ways to place the photograph"),
        description: told.join("\n"),
        background: Some([255; 3]),
        pages: finished(flow.pages(), footer),
    };
    let plate_at = drawing.pages.iter().map(|_| None).collect();
    Sheet { drawing, plate_at }
}

/// One way under its number.
fn picture(labels: &Labels, way: &(Placing, Job), number: usize, room: (f64, f64)) -> Block {
    let (_, job) = way;
    let all = extent(job);
    let scale = (room.0 / all.width()).min(room.1 / all.height()).min(1.0);
    // In whole per cent, so that what is told is what is drawn.
    let scale = ((scale * 100.0).floor() / 100.0).max(0.01);
    let mut block = Block::empty(0.0);
    let mut group = plaque(job, Heads::Plain);
    let left = (room.0 - all.width() * scale) / 2.0;
    group.transform = Affine::translate((left - all.x0 * scale, -all.y0 * scale))
        * Affine::scale(scale)
        * group.transform;
    group.name = format!("way-{number}");
    block.push(Layer::Plaque, group);
    let under = all.height() * scale + UNDER;
    let text = [
        Para::new(format!("{number}  {}", placing_told(way)), Style::bold(READ.text().cap)),
        Para { before: 0.6, ..Para::new(text_of(way, scale), READ.caption()) },
    ];
    let text = paragraphs(labels, &text, room.0);
    block.height = under + text.height;
    block.add(text, 0.0, under);
    block
}

/// Merits and scale under a picture.
fn text_of(way: &(Placing, Job), scale: f64) -> String {
    format!("{} Drawn at {} %.", placing_merits(way), fixed(scale * 100.0, 0))
}

/// Where a photograph stands and how large it is.
#[must_use]
pub fn placing_told((placing, job): &(Placing, Job)) -> String {
    let side = match placing.stand.spot {
        Standing::Side(side) => side.word().to_owned(),
        Standing::At(x, y) => format!("at {}, {} mm", trimmed(x, 1), trimmed(y, 1)),
    };
    let both = |mm: f64| {
        if job.layout.inches { words::inches(mm) } else { format!("{} mm", trimmed(mm, 1)) }
    };
    format!("{side}, {} \u{d7} {}", both(placing.stand.width), both(placing.stand.height))
}

/// What speaks for a placing.
#[must_use]
pub fn placing_merits((placing, job): &(Placing, Job)) -> String {
    let words = job.fitted.lines.iter().zip(&job.layout.lines);
    let least = words
        .filter(|(_, line)| line.ornament.is_none())
        .map(|(line, _)| line.cap_height)
        .fold(f64::INFINITY, f64::min);
    let merits = placing.merits;
    let share = |merit: f64| fixed(merit * 100.0, 0);
    format!(
        "Least capitals {} mm. Letters {}, photograph {}, white {}, middle {}: {} of 100.",
        fixed(least, 2),
        share(merits.letters),
        share(merits.photo),
        share(merits.white),
        share(merits.middle),
        share(merits.total())
    )
}
