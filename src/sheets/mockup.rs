//! The mock-up: a paper plaque to hold against the face, at true size. It shows
//! heads as plain discs and never a hole's centre: nobody can drill by it.

use crate::drawing::Drawing;
use crate::job::Job;

use super::bar::bar;
use super::block::{Block, Layer, moved};
use super::dimension::Along;
use super::heading::{READ, facts, footer, footer_height, heading};
use super::page::{Flow, finished, first, smallest};
use super::plaque::{Heads, extent, plaque, wording};
use super::sheet::Sheet;
use super::table::{Para, paragraphs};
use super::text::{Labels, Style};
use super::words;

/// White above and below the plaque, mm: room for scissors.
const ROUND: f64 = 10.0;

/// The mock-up on the smallest sheet that holds it.
#[must_use]
pub fn mockup(job: &Job) -> Sheet {
    let labels = Labels::new(job, &[]);
    let paper = job.layout.proof.paper;
    let foot = footer_height(&labels, READ, job);
    let box_ = extent(job);
    let parts = |width: f64| {
        let head = heading(&labels, READ, job, "Mock-up, true size", &facts(job), width);
        let paras = [
            Para::new(words::MOCK_UP, Style::bold(READ.title)),
            Para { before: 2.0, ..Para::new(words::MOCK_UP_USE, READ.text()) },
            Para::new(words::BAR, READ.text()),
        ];
        (head, paragraphs(&labels, &paras, width))
    };
    let bar = bar(&labels, Along::Across, READ.caption());
    let need = |width: f64| {
        let (head, text) = parts(width);
        let height = head.height + text.height + bar.block.height + box_.height();
        (box_.width().max(bar.width), height + 4.0 * ROUND)
    };
    let narrow = first(paper, READ.margin).inside(foot).0;
    let size = smallest((paper, READ.margin), foot, need(narrow), |(width, height)| {
        let need = need(width);
        width >= need.0 && height >= need.1
    });
    let mut flow = Flow::new(size, foot);
    let width = flow.width();
    let (head, text) = parts(width);
    flow.put(head);
    flow.space(ROUND / 2.0);
    flow.put(text);
    flow.space(ROUND);
    let mut picture = Block::empty(box_.height());
    let left = (width - box_.width()) / 2.0;
    let group = plaque(job, Heads::Plain).into();
    picture.push(Layer::Plaque, moved(group, left - box_.x0, -box_.y0));
    flow.put(picture);
    flow.space(ROUND);
    flow.put(bar.block);
    Sheet::with_plates(Drawing {
        title: format!("{}: mock-up, not for drilling", job.layout.title),
        description: format!("{}\nWording:\n{}", words::MOCK_UP, wording(job)),
        background: Some([255; 3]),
        pages: finished(flow.pages(), |page, count, width| {
            footer(&labels, READ, job, page, count, width)
        }),
    })
}
