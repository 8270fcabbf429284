//! The proof: for the people who approve.

mod approval;
mod as_cut;
mod decoration;
mod details;
mod findings;
mod lines;
mod photos;
mod picture;
mod plate;

use crate::drawing::Drawing;
use crate::finding::Scope;
use crate::job::Job;
use crate::remedies::Cures;

use super::bar::bar;
use super::block::{Block, Layer, rectangle};
use super::dimension::Along;
use super::heading::{READ, facts, footer, footer_height, heading};
use super::page::{Flow, Size, finished, first, smallest};
use super::plaque::wording;
use super::sheet::Sheet;
use super::table::{Para, paragraphs};
use super::text::{BLACK, Labels, Style};
use super::words;
use crate::drawing::Path;
use picture::Picture;

/// White above and below the plaque on the proof, mm.
const ROUND_PLAQUE: f64 = 8.0;
/// The proof: the plaque at true size with its dimensions, the exact wording
/// line by line, findings with their cures, the plate's specification, and
/// boxes and lines to sign. As many pages as that takes.
#[must_use]
pub fn proof(job: &Job, cures: &[Cures]) -> Sheet {
    let labels = Labels::new(job, cures);
    let picture = Picture::new(&labels, job);
    let paper = job.layout.proof.paper;
    let foot = footer_height(&labels, READ, job);
    // What stands on the first page in any case: heading, banner, plaque, bar.
    let opening = |width: f64| {
        let mut block = heading(&labels, READ, job, "Proof", &facts(job), width);
        if job.stopped() {
            block.height += 4.0;
            block.stack(banner(&labels, job, width));
        }
        block.height += ROUND_PLAQUE;
        block.stack(picture.block(job, width));
        block.height += ROUND_PLAQUE - 2.0;
        block.stack(check_bar(&labels, width));
        block
    };
    let need = (
        picture.width,
        opening(picture.width.max(first(paper, READ.margin).inside(foot).0)).height,
    );
    let size: Size = smallest((paper, READ.margin), foot, need, |(width, height)| {
        width >= picture.width && height >= opening(width).height
    });
    let mut flow = Flow::new(size, foot);
    let width = flow.width();
    flow.put(opening(width));
    lines::put(&mut flow, &labels, job);
    findings::put(&mut flow, &labels, job, cures);
    details::put(&mut flow, &labels, job);
    as_cut::put(&mut flow, &labels, job);
    photos::put(&mut flow, &labels, job);
    plate::put(&mut flow, &labels, job);
    approval::put(&mut flow, &labels, job);

    let pages =
        finished(flow.pages(), |page, count, width| footer(&labels, READ, job, page, count, width));
    Sheet::with_plates(Drawing {
        title: format!("{}: proof {}", job.layout.title, job.layout.proof.number),
        description: format!(
            "Proof {} of the plaque \u{201c}{}\u{201d}, mark {}. {}\nWording:\n{}",
            job.layout.proof.number,
            job.layout.title,
            job.mark,
            words::signed_off_in_full(job.signed.as_ref()),
            wording(job)
        ),
        background: Some([255; 3]),
        pages,
    })
}

/// A black band that nobody overlooks.
fn banner(labels: &Labels, job: &Job, width: f64) -> Block {
    const WHITE: [u8; 3] = [255; 3];
    const PAD: f64 = 3.0;
    let all = [Scope::Wording, Scope::Lettering, Scope::Photo, Scope::Mount, Scope::SignOff];
    let scopes: Vec<Scope> = all.into_iter().filter(|scope| job.withholds(*scope)).collect();
    let text = paragraphs(
        labels,
        &[
            Para::new(words::STOP, Style::bold(4.0).coloured(WHITE)),
            Para {
                before: 0.6,
                ..Para::new(words::stop_scopes(&scopes), READ.text().coloured(WHITE))
            },
        ],
        width - 2.0 * PAD,
    );
    let mut block = Block::empty(text.height + 2.0 * PAD);
    block.push(Layer::Frame, Path::filled(rectangle(0.0, 0.0, width, block.height), BLACK));
    block.add(text, PAD, PAD);
    block
}

/// The check bar with its sentence beside it, or beneath it on narrow paper.
pub(super) fn check_bar(labels: &Labels, width: f64) -> Block {
    let bar = bar(labels, Along::Across, READ.caption());
    let beside = width - bar.width - 6.0;
    let mut block = Block::empty(bar.block.height);
    let text = [Para::new(words::BAR, READ.caption())];
    let (height, left) = (bar.block.height, bar.width + 6.0);
    block.add(bar.block, 0.0, 0.0);
    let text = paragraphs(labels, &text, beside);
    let top = ((height - text.height) / 2.0).max(0.0);
    block.height = height.max(text.height);
    block.add(text, left, top);
    block
}
