//! Boxes, room for corrections and lines to sign: kept together on one page.

use crate::drawing::Path;
use crate::job::Job;

use super::super::block::{Block, Layer, NARROW, line_of, rectangle};
use super::super::heading::{READ, section};
use super::super::page::Flow;
use super::super::table::{Cell, Para, Table, columns, paragraphs, width_of};
use super::super::text::Labels;
use super::super::words;

/// Side of a box to tick, mm.
const BOX: f64 = 4.0;
/// Between ruled lines for corrections, mm: room for handwriting.
const RULING: f64 = 8.0;
/// Ruled lines: fewest and most.
const RULES: (usize, usize) = (3, 10);
/// Height of one signature with its captions, mm.
const SIGNATURE: f64 = 15.0;
/// White between fields on one row, mm.
const BETWEEN: f64 = 6.0;

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let width = flow.width();
    let top = statement(labels, job, width);
    let boxes = boxes(labels, width);
    let signatures: Vec<Block> =
        roles(job).iter().map(|role| signature(labels, role, width)).collect();
    let head = 10.0;
    let fixed = top.height + boxes.height + 12.0;
    // As a whole on one page where the signatures are few enough for that.
    let signing: f64 = signatures.iter().map(|block| block.height).sum();
    let least = fixed + RULES.0 as f64 * RULING + signing;
    section(flow, labels, READ, "Approval", least.min(flow.height() - head));
    flow.put(top);
    signed_off(flow, labels, job);
    flow.space(3.0);
    flow.put(boxes);
    flow.space(4.0);
    let spare = flow.room() - signing - 6.0;
    let rules = RULES.0.max(whole(spare / RULING)).min(RULES.1);
    flow.put(corrections(labels, rules, width));
    flow.space(3.0);
    for block in signatures {
        flow.put(block);
    }
}

/// Whole number of lines in a height; 0 for none or less.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a few hundred lines at most"
)]
fn whole(value: f64) -> usize {
    value.floor().clamp(0.0, 500.0) as usize
}

/// Who has signed already, by the record that is kept beside the layout.
fn signed_off(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(signed) = &job.signed else { return };
    let text = |text: String| vec![Para::new(text, READ.text().figures())];
    let rows: Vec<Vec<Cell>> = signed
        .signatures
        .iter()
        .map(|signature| {
            let mut who = text(signature.by.clone());
            who.extend(signature.accepted.iter().map(|agreed| {
                let accepted = format!("accepted {}: {}", agreed.code, agreed.reason);
                Para { before: 0.7, ..Para::new(accepted, READ.caption()) }
            }));
            let proof = format!("proof {}", signature.proof);
            vec![who, text(signature.role.clone()), text(signature.date.clone()), text(proof)]
        })
        .collect();
    let widest = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).flatten();
        width_of(labels, cells.map(|para| (para.text.as_str(), para.style)))
    };
    let mut columns = columns(flow.width(), &[None, None, Some(widest(2)), Some(widest(3))]);
    columns.iter_mut().take(1).for_each(|column| column.names = true);
    let table = Table { columns, head: Vec::new(), rows, ruled: true };
    let head = words::signed_for_this(signed.holds(), &signed.mark);
    let head = paragraphs(labels, &[Para::new(head, READ.strong().figures())], flow.width());
    flow.space(3.0);
    flow.keep(head.height + table.kept_height(labels));
    flow.put(head);
    table.put(flow, labels);
}

fn statement(labels: &Labels, job: &Job, width: f64) -> Block {
    let who = job
        .layout
        .proof
        .spelling
        .as_ref()
        .map_or_else(|| words::SPELLING.to_owned(), |who| words::spelling(who));
    let mut paras = vec![Para::new(format!("{} {who}", words::CHECK), READ.text())];
    paras.push(Para::new(
        words::signed_for(job.layout.proof.number, &job.mark),
        READ.text().figures(),
    ));
    if job.stopped() {
        paras.push(Para { before: 1.0, ..Para::new(words::STOP_STANDS, READ.strong()) });
    }
    paragraphs(labels, &paras, width)
}

fn boxes(labels: &Labels, width: f64) -> Block {
    let names = [words::APPROVED, words::APPROVED_WITH, words::NOT_APPROVED];
    let rows: Vec<_> = names.iter().map(|name| labels.set(name, READ.text(), None)).collect();
    let (mut x, mut y) = (0.0, 0.0);
    let mut block = Block::empty(0.0);
    for row in rows {
        let taken = BOX + 2.0 + row.width;
        if x > 0.0 && x + taken > width {
            (x, y) = (0.0, y + BOX + 3.0);
        }
        block.push(Layer::Frame, Path::stroked(rectangle(x, y, BOX, BOX), line_of(NARROW)));
        // Capitals stand in the middle of the box's height.
        block.text(Layer::Labels, &row, x + BOX + 2.0, y + (BOX + READ.body) / 2.0);
        x += taken + BETWEEN;
    }
    block.height = y + BOX + 0.5;
    block
}

fn corrections(labels: &Labels, rules: usize, width: f64) -> Block {
    let mut block = paragraphs(labels, &[Para::new("Corrections", READ.caption())], width);
    for _ in 0..rules {
        block.height += RULING;
        block.rule(Layer::Frame, (0.0, block.height), (width, block.height));
    }
    block
}

fn roles(job: &Job) -> Vec<String> {
    if job.layout.proof.signatures.is_empty() {
        words::ROLES.iter().map(|role| (*role).to_owned()).collect()
    } else {
        job.layout.proof.signatures.clone()
    }
}

/// Role, then lines for name, signature and date.
fn signature(labels: &Labels, role: &str, width: f64) -> Block {
    let shares = [("Name", 0.30), ("Signature", 0.30), ("Date", 0.16)];
    let first = width * (1.0 - shares.iter().map(|share| share.1).sum::<f64>());
    let who = paragraphs(labels, &[Para::new(role, READ.strong())], first - BETWEEN);
    let mut block = Block::empty(SIGNATURE.max(who.height + 4.0));
    // The rule stands where the role's last row does; captions under it.
    let caption = READ.caption().leading();
    let line = block.height - caption - 0.6;
    let top = line - who.height + READ.body * 0.45;
    block.add(who, 0.0, top.max(0.0));
    let mut x = first;
    for (name, share) in shares {
        let end = x + width * share;
        block.rule(
            Layer::Frame,
            (x, line),
            (end - if end < width - 1.0 { BETWEEN } else { 0.0 }, line),
        );
        let text = labels.set(name, READ.caption(), None);
        block.text(Layer::Labels, &text, x, line + 0.6 + text.above);
        x = end;
    }
    block
}
