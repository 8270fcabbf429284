//! What a PDF tells beside what it shows: bookmarks for the headings, and a structure by
//! which what is drawn is read aloud: title and headings, paragraphs, tables by rows and
//! cells, figures with what they show in words.
//!
//! Parts of the text are read in the order of drawing. A figure, or text that stands loose
//! in a picture, is read before what begins beneath its upper edge.

use std::num::NonZeroU16;

use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::outline::{Outline, OutlineNode};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};
use kurbo::{Affine, Shape as _};
use unicode_bidi::{BidiClass, bidi_class};

use super::text::Fonts;
use super::{LANGUAGE, POINTS_PER_MM, items, paths, single};
use crate::drawing::write::{WriteError, placed};
use crate::drawing::{Group, Image, Item, Page, Role, RowOf};

/// Level of the title of a sheet.
const TITLE: NonZeroU16 = NonZeroU16::MIN;
/// Level of the heads of its sections.
const SECTION: NonZeroU16 = NonZeroU16::MIN.saturating_add(1);

/// Structure and bookmarks, as pages are drawn.
#[derive(Default)]
pub(super) struct Structure {
    all: Vec<Part>,
    headings: Vec<OutlineNode>,
}

/// Something that is read.
enum Part {
    /// Anything but a table.
    Node(Node),
    /// A row, as a page has it.
    Row(RowOf, Vec<Cell>),
    /// A table of rows.
    Table(Vec<Vec<Cell>>),
}

/// A cell: what it is and what it holds.
type Cell = (TagKind, Vec<Node>);

/// A part with the height on its page at which it begins, mm.
struct Placed {
    top: f64,
    /// Whether it is read where it stands, not where it was drawn.
    loose: bool,
    part: Part,
}

impl Structure {
    /// Draws a page, the `index`-th from 0, and keeps what it is.
    pub(super) fn page(
        &mut self,
        surface: &mut Surface<'_>,
        page: &Page,
        index: usize,
        fonts: &mut Fonts,
    ) -> Result<(), WriteError> {
        let mut parts = Vec::new();
        let mut reader =
            Reader { parts: &mut parts, headings: &mut self.headings, surface, fonts, index };
        reader.walk(&page.items, Affine::IDENTITY)?;
        for part in in_order(parts) {
            self.add(part);
        }
        Ok(())
    }

    /// Rows join the table that stands before them.
    fn add(&mut self, part: Part) {
        match (part, self.all.last_mut()) {
            (Part::Row(RowOf::SameTable, cells), Some(Part::Table(rows))) => rows.push(cells),
            (Part::Row(RowOf::SameRow, cells), Some(Part::Table(rows))) => {
                let last = rows.last_mut().into_iter().flatten();
                last.zip(cells).for_each(|(cell, more)| cell.1.extend(more.1));
            }
            (Part::Row(_, cells), _) => self.all.push(Part::Table(vec![cells])),
            (part, _) => self.all.push(part),
        }
    }

    /// The bookmarks; `None` without a heading.
    pub(super) fn outline(&mut self) -> Option<Outline> {
        let headings = std::mem::take(&mut self.headings);
        let mut outline = Outline::new();
        let any = !headings.is_empty();
        for heading in headings {
            outline.push_child(heading);
        }
        any.then_some(outline)
    }

    /// The structure.
    pub(super) fn tree(self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some(LANGUAGE.to_owned()));
        for part in self.all {
            match part {
                Part::Node(node) => tree.push(node),
                Part::Table(rows) => tree.push(table(rows)),
                Part::Row(_, cells) => tree.push(table(vec![cells])),
            }
        }
        tree
    }
}

/// A table of rows of cells.
fn table(rows: Vec<Vec<Cell>>) -> Node {
    let row = |cells: Vec<Cell>| {
        let cells = cells.into_iter().map(|(tag, nodes)| grouped(tag, nodes));
        grouped(Tag::TR.into(), cells.collect())
    };
    grouped(Tag::Table.into(), rows.into_iter().map(row).collect())
}

fn grouped(tag: TagKind, nodes: Vec<Node>) -> Node {
    let mut group = TagGroup::new(tag);
    nodes.into_iter().for_each(|node| group.push(node));
    Node::Group(group)
}

/// Parts of a page in the order of reading.
fn in_order(parts: Vec<Placed>) -> Vec<Part> {
    let (mut loose, text): (Vec<Placed>, Vec<Placed>) =
        parts.into_iter().partition(|placed| placed.loose);
    loose.sort_by(|a, b| a.top.total_cmp(&b.top));
    let mut loose = loose.into_iter().peekable();
    let mut all = Vec::new();
    for placed in text {
        while let Some(before) = loose.next_if(|before| before.top < placed.top) {
            all.push(before.part);
        }
        all.push(placed.part);
    }
    all.extend(loose.map(|placed| placed.part));
    all
}

/// One page being drawn.
struct Reader<'p, 'd> {
    parts: &'p mut Vec<Placed>,
    headings: &'p mut Vec<OutlineNode>,
    surface: &'p mut Surface<'d>,
    fonts: &'p mut Fonts,
    index: usize,
}

impl Reader<'_, '_> {
    /// Draws items in their order, each stretch of them as what it is to a reader; lines
    /// alone are no part of what is read.
    fn walk(&mut self, all: &[Item], to: Affine) -> Result<(), WriteError> {
        let mut run = 0;
        for (at, item) in all.iter().enumerate() {
            let picture = matches!(item, Item::Image(image) if !image.description.is_empty());
            if !picture && !matches!(item, Item::Group(_)) {
                continue;
            }
            self.run(all.get(run..at).unwrap_or_default(), to)?;
            run = at + 1;
            match item {
                Item::Group(group) => self.group(group, item, to)?,
                Item::Image(image) => self.image(image, item, to)?,
                _ => {}
            }
        }
        self.run(all.get(run..).unwrap_or_default(), to)
    }

    fn group(&mut self, group: &Group, item: &Item, to: Affine) -> Result<(), WriteError> {
        let one = std::slice::from_ref(item);
        let tag: TagKind = match group.role {
            Role::Plain if group.description.is_empty() => return self.inside(group, to),
            Role::Plain => {
                let node = self.drawn(Tag::Figure(Some(group.description.clone())), one, to)?;
                self.keep(one, to, true, Part::Node(node));
                return Ok(());
            }
            Role::Row(of) => {
                let cells = self.cells(group, to)?;
                self.keep(one, to, false, Part::Row(of, cells));
                return Ok(());
            }
            Role::Repeated => return self.unread(one, to),
            Role::Heading => {
                self.bookmark(group, to)?;
                Tag::Hn(SECTION, Some(group.description.clone())).into()
            }
            Role::Title => Tag::Hn(TITLE, None).into(),
            // A cell outside a row is text like any other.
            Role::Paragraph | Role::ColumnHead | Role::RowHead | Role::Cell => Tag::P.into(),
        };
        let node = self.drawn(tag, one, to)?;
        self.keep(one, to, false, Part::Node(node));
        Ok(())
    }

    /// What is in a group that is nothing by itself.
    fn inside(&mut self, group: &Group, to: Affine) -> Result<(), WriteError> {
        let to = to * group.transform;
        let clipped = match group.clip {
            Some(shown) => paths::clip(self.surface, &shown.to_path(0.1), to)?,
            None => false,
        };
        let drawn = self.walk(&group.items, to);
        if clipped {
            self.surface.pop();
        }
        drawn
    }

    /// A picture that says what it shows; nothing where there is nothing to be seen.
    fn image(&mut self, image: &Image, item: &Item, to: Affine) -> Result<(), WriteError> {
        if !image.shows() {
            return Ok(());
        }
        let said = Tag::Figure(Some(image.description.clone()));
        let one = std::slice::from_ref(item);
        let node = self.drawn(said, one, to)?;
        self.keep(one, to, true, Part::Node(node));
        Ok(())
    }

    /// The cells of a row, with a paragraph for each group in them.
    fn cells(&mut self, row: &Group, to: Affine) -> Result<Vec<Cell>, WriteError> {
        let to = to * row.transform;
        let mut cells = Vec::new();
        for item in &row.items {
            let one = std::slice::from_ref(item);
            let Item::Group(cell) = item else {
                self.unread(one, to)?;
                continue;
            };
            let tag: TagKind = match cell.role {
                Role::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
                Role::RowHead => Tag::TH(TableHeaderScope::Row).into(),
                _ => Tag::TD.into(),
            };
            let inner = to * cell.transform;
            let mut nodes = Vec::new();
            for part in &cell.items {
                nodes.push(self.drawn(Tag::P, std::slice::from_ref(part), inner)?);
            }
            if nodes.is_empty() {
                // An empty cell is a cell: the next one is not to be taken for it.
                nodes.push(self.drawn(Tag::P, &[], inner)?);
            }
            cells.push((tag, nodes));
        }
        Ok(cells)
    }

    fn run(&mut self, run: &[Item], to: Affine) -> Result<(), WriteError> {
        if run.iter().any(|item| matches!(item, Item::Text(_))) {
            let node = self.drawn(Tag::P, run, to)?;
            self.keep(run, to, true, Part::Node(node));
            return Ok(());
        }
        if run.is_empty() { Ok(()) } else { self.unread(run, to) }
    }

    fn keep(&mut self, content: &[Item], to: Affine, loose: bool, part: Part) {
        self.parts.push(Placed { top: top(content, to), loose, part });
    }

    /// Draws items that are not read.
    fn unread(&mut self, content: &[Item], to: Affine) -> Result<(), WriteError> {
        let lines = ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout));
        let _ = self.surface.start_tagged(lines);
        let drawn = items(self.surface, content, to, self.fonts);
        self.surface.end_tagged();
        drawn
    }

    /// Draws items as one piece of content.
    fn drawn(
        &mut self,
        tag: impl Into<TagKind>,
        content: &[Item],
        to: Affine,
    ) -> Result<Node, WriteError> {
        let content_id = self.surface.start_tagged(ContentTag::Other);
        let drawn = items(self.surface, content, to, self.fonts);
        self.surface.end_tagged();
        let mut tag: TagKind = tag.into();
        if tag.alt_text().is_none() {
            tag.set_actual_text(from_the_right(content));
        }
        let mut group = TagGroup::new(tag);
        group.push(content_id);
        drawn.map(|()| Node::Group(group))
    }

    /// A bookmark to just above a heading.
    fn bookmark(&mut self, group: &Group, to: Affine) -> Result<(), WriteError> {
        let y = top(&group.items, to * group.transform);
        if !y.is_finite() {
            return Ok(());
        }
        let x = (to * group.transform * kurbo::Point::ZERO).x;
        let (x, y) = (placed::length(x)?, placed::length(y)?);
        let point = Point::from_xy(single(x * POINTS_PER_MM), single(y * POINTS_PER_MM));
        let there = XyzDestination::new(self.index, point);
        self.headings.push(OutlineNode::new(group.description.clone(), there));
        Ok(())
    }
}

/// The characters of texts of which something is read from the right; `None` of others. Such
/// texts are drawn from the left, in stretches that many readers cannot put together again.
fn from_the_right(items: &[Item]) -> Option<String> {
    let right = |c: char| matches!(bidi_class(c), BidiClass::R | BidiClass::AL);
    let said = said(items);
    said.chars().any(right).then_some(said)
}

/// The characters of all texts in the order of drawing.
fn said(items: &[Item]) -> String {
    let one = |item: &Item| match item {
        Item::Text(text) => text.text.clone(),
        Item::Group(group) => said(&group.items),
        Item::Path(_) | Item::Circle(_) | Item::Image(_) => String::new(),
    };
    items.iter().map(one).collect()
}

/// How high items begin, mm; texts a size above their baseline. Infinite for none.
fn top(items: &[Item], to: Affine) -> f64 {
    let one = |item: &Item| match item {
        Item::Path(path) => to.transform_rect_bbox(path.path.bounding_box()).y0,
        Item::Circle(circle) => (to * kurbo::Point::from(circle.centre)).y - circle.radius,
        Item::Text(text) => (to * kurbo::Point::new(text.x, text.y - text.size)).y,
        Item::Group(group) => {
            let to = to * group.transform;
            let shown = group.clip.map(|shown| to.transform_rect_bbox(shown).y0);
            shown.unwrap_or_else(|| top(&group.items, to))
        }
        Item::Image(image) => to.transform_rect_bbox(image.area).y0,
    };
    items.iter().map(one).fold(f64::INFINITY, f64::min)
}
