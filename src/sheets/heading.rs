//! What all sheets carry: heading, section heads, footer, and the type scale.

use crate::drawing::{Group, Role, RowOf};
use crate::job::Job;
use crate::units::digits::trimmed;

use super::block::{Block, Layer};
use super::page::{Flow, first};
use super::table::{Para, Table, columns, paragraphs, width_of};
use super::text::{Labels, Style};
use super::words;

/// Cap heights of a sheet's text, and its margin, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    /// Running text and tables.
    pub(super) body: f64,
    /// Footers, heads of columns, captions.
    pub(super) small: f64,
    /// Heads of sections.
    pub(super) section: f64,
    /// The title, where it is short.
    pub(super) title: f64,
    /// White round the contents.
    pub(super) margin: f64,
}

/// Sheets that are read at a table: proof and mock-up.
pub(super) const READ: Scale =
    Scale { body: 2.0, small: 1.8, section: 2.5, title: 4.5, margin: 15.0 };
/// Sheets that are read at the bench: nothing under 2.5 mm, in the steps of
/// ISO 3098-0. The margin is the border of ISO 5457: common printers reach to
/// about 6 mm from the edge, and the pattern needs the width.
pub(super) const BENCH: Scale =
    Scale { body: 2.5, small: 2.5, section: 3.5, title: 5.0, margin: 10.0 };

impl Scale {
    /// Running text.
    pub(super) const fn text(self) -> Style {
        Style::regular(self.body)
    }
    /// Running text in bold.
    pub(super) const fn strong(self) -> Style {
        Style::bold(self.body)
    }
    /// Running text with figures of one width.
    pub(super) const fn figures(self) -> Style {
        Style::regular(self.body).figures()
    }
    /// Captions.
    pub(super) const fn caption(self) -> Style {
        Style::regular(self.small)
    }
}

/// Longest title, in characters, that is set large; and middling.
const SHORT_TITLE: usize = 60;
const MIDDLING_TITLE: usize = 160;
/// White between the title and the facts beside it, mm.
const BESIDE: f64 = 8.0;

/// A fact beside the title: its name, and its value or a rule to fill in.
pub(super) type Fact = (&'static str, Option<String>);

/// The heading of a sheet: kind, title, client; facts at the right; a rule.
pub(super) fn heading(
    labels: &Labels,
    scale: Scale,
    job: &Job,
    kind: &str,
    facts: &[Fact],
    width: f64,
) -> Block {
    let who = (job.layout.title.as_str(), job.layout.proof.client.as_deref());
    head(labels, scale, who, kind, facts, width)
}

/// The same of a title and, where there is one, a client.
pub(super) fn head(
    labels: &Labels,
    scale: Scale,
    (title, client): (&str, Option<&str>),
    kind: &str,
    facts: &[Fact],
    width: f64,
) -> Block {
    let side = facts_width(labels, scale, facts).min(width * 0.4);
    let cap = match title.chars().count() {
        0..=SHORT_TITLE => scale.title,
        count if count <= MIDDLING_TITLE => scale.title * 0.7_f64.max(scale.body / scale.title),
        _ => scale.body,
    };
    let mut left = vec![
        Para::new(kind, scale.strong()),
        Para { before: 2.2, role: Role::Title, ..Para::new(title, Style::bold(cap)) },
    ];
    if let Some(client) = client {
        left.push(Para { before: 1.6, ..Para::new(format!("for {client}"), scale.text()) });
    }
    let left = paragraphs(labels, &left, width - side - BESIDE);
    let right = facts_block(labels, scale, facts, side);
    let mut block = Block::empty(left.height.max(right.height) + 3.0);
    block.add(left, 0.0, 0.0);
    block.add(right, width - side, 0.0);
    let foot = block.height;
    block.rule(Layer::Frame, (0.0, foot), (width, foot));
    block
}

/// Least width of a rule to fill in, mm.
const FILL_IN: f64 = 32.0;
/// White between a fact's name and its value, mm.
const NAMED: f64 = 4.0;

/// Width in which every fact stands in one row.
fn facts_width(labels: &Labels, scale: Scale, facts: &[Fact]) -> f64 {
    let names = width_of(labels, facts.iter().map(|fact| (fact.0, scale.caption())));
    let style = scale.strong().figures();
    let texts = facts.iter().filter_map(|fact| Some((fact.1.as_deref()?, style)));
    let blank = facts.iter().any(|fact| fact.1.is_none());
    names + NAMED + width_of(labels, texts).max(if blank { FILL_IN } else { 0.0 })
}

fn facts_block(labels: &Labels, scale: Scale, facts: &[Fact], width: f64) -> Block {
    let name_width =
        width_of(labels, facts.iter().map(|fact| (fact.0, scale.caption()))).min(width * 0.6);
    let left = name_width + NAMED;
    let mut block = Block::empty(0.0);
    let mut of = RowOf::NewTable;
    for (name, value) in facts {
        let name = [Para::new(*name, scale.caption())];
        let name = paragraphs(labels, &name, name_width);
        let text = [Para::new(value.clone().unwrap_or_default(), scale.strong().figures())];
        let text = paragraphs(labels, &text, width - left);
        let height = name.height.max(text.height) + 0.8;
        let top = block.height;
        if value.is_none() {
            let y = top + scale.strong().baseline() + 0.5;
            block.rule(Layer::Frame, (left, y), (width, y));
        }
        // Both stand on one baseline: sizes may differ.
        let drop = scale.strong().baseline() - scale.caption().baseline();
        let mut row = Block::empty(0.0);
        row.add(name.read_as(Role::RowHead), 0.0, drop);
        row.add(text.read_as(Role::Cell), left, 0.0);
        block.add(row.read_as(Role::Row(of)), 0.0, top);
        block.height = top + height;
        of = RowOf::SameTable;
    }
    block
}

/// Facts that every sheet carries.
pub(super) fn facts(job: &Job) -> Vec<Fact> {
    let proof = &job.layout.proof;
    let mut all: Vec<Fact> = vec![("Proof number", Some(trimmed(f64::from(proof.number), 0)))];
    if let Some(replaces) = &proof.replaces {
        all.push(("Replaces", Some(replaces.clone())));
    }
    all.push(("Date", proof.date.clone()));
    all.push(("Proof mark", Some(job.mark.clone())));
    if let Some(signed) = &job.signed {
        all.push(("Signed off", Some(words::signed_off(signed))));
    }
    all
}

/// A section head with white above; kept with `with` mm of what follows.
pub(super) fn section(flow: &mut Flow, labels: &Labels, scale: Scale, text: &str, with: f64) {
    let width = flow.width();
    let group = Group { role: Role::Heading, ..Group::new("heading", text, Vec::new()) };
    let mut block = paragraphs(labels, &[Para::new(text, Style::bold(scale.section))], width)
        .gathered(Layer::Labels, group);
    block.height += 1.2;
    flow.space(5.0);
    flow.keep(block.height + with);
    flow.put(block);
}

/// Running text under what is there, row by row over pages.
pub(super) fn prose(flow: &mut Flow, labels: &Labels, paras: Vec<Para>) {
    list(flow, paras).put(flow, labels);
}

/// The same on one page where it is short: one line alone on the next page would look like
/// the end of something lost.
pub(super) fn kept_prose(flow: &mut Flow, labels: &Labels, paras: Vec<Para>) {
    let table = list(flow, paras);
    flow.keep(table.kept_height(labels));
    table.put(flow, labels);
}

fn list(flow: &Flow, paras: Vec<Para>) -> Table {
    Table {
        columns: columns(flow.width(), &[None]),
        head: Vec::new(),
        rows: paras.into_iter().map(|para| vec![vec![para]]).collect(),
        ruled: false,
    }
}

/// The footer of a page: title, shop, proof number and mark, page.
pub(super) fn footer(
    labels: &Labels,
    scale: Scale,
    job: &Job,
    page: usize,
    count: usize,
    width: f64,
) -> Block {
    let right = format!(
        "Proof {} \u{b7} {} \u{b7} page {page} of {count}",
        job.layout.proof.number, job.mark
    );
    let mut left = job.layout.title.replace('\n', " ");
    let shop = job.layout.shop.name.as_deref().unwrap_or_default();
    if !shop.is_empty() {
        left = format!("{left} \u{b7} {shop}");
    }
    // A long title stands whole in the heading; the mark ties the pages together.
    foot(labels, scale, Footer { left: &left, instead: shop, right: &right }, width)
}

/// What stands in a footer.
#[derive(Debug, Clone, Copy)]
pub(super) struct Footer<'t> {
    /// At the left, in up to two rows.
    pub(super) left: &'t str,
    /// What stands there where that is longer.
    pub(super) instead: &'t str,
    /// At the right.
    pub(super) right: &'t str,
}

/// A footer under its rule.
pub(super) fn foot(labels: &Labels, scale: Scale, words: Footer<'_>, width: f64) -> Block {
    let style = scale.caption().figures();
    let right = labels.set(words.right, style, None);
    let room = (width - right.width - BESIDE).max(20.0);
    let mut left = paragraphs(labels, &[Para::new(words.left, style)], room);
    if left.height > 2.5 * style.leading() {
        left = paragraphs(labels, &[Para::new(words.instead, style)], room);
    }
    let top = 1.8;
    let mut block = Block::empty(top + left.height.max(right.height()));
    block.rule(Layer::Frame, (0.0, 0.0), (width, 0.0));
    block.add(left, 0.0, top);
    block.text(Layer::Labels, &right, width - right.width, top + right.above);
    block.read_as(Role::Repeated)
}

/// Height that footers take, mm; the numbers of pages do not change it.
pub(super) fn footer_height(labels: &Labels, scale: Scale, job: &Job) -> f64 {
    // The paper asked for, upright, is the narrowest that any page has.
    let width = first(job.layout.proof.paper, scale.margin).inside(0.0).0;
    footer(labels, scale, job, 888, 888, width).height
}
