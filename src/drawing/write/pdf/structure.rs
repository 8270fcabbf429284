//! What a PDF tells beside what it shows: bookmarks for the headings, and a structure by
//! which what is drawn is read aloud: headings, text in the order of drawing, figures with
//! what they show in words.

use std::num::NonZeroU16;

use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::outline::{Outline, OutlineNode};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Node, Tag, TagGroup, TagKind, TagTree};
use kurbo::{Affine, Shape as _};

use super::text::Fonts;
use super::{LANGUAGE, POINTS_PER_MM, items, paths, single};
use crate::drawing::write::{WriteError, placed};
use crate::drawing::{Group, HEADING, Image, Item, Page};

/// Level of all headings: the title of a sheet is that of the file.
const LEVEL: NonZeroU16 = NonZeroU16::MIN;

/// Structure and bookmarks, as pages are drawn.
#[derive(Default)]
pub(super) struct Structure {
    nodes: Vec<Node>,
    headings: Vec<OutlineNode>,
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
        Reader { structure: self, surface, fonts, index }.walk(&page.items, Affine::IDENTITY)
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
        for node in self.nodes {
            tree.push(node);
        }
        tree
    }
}

/// One page being drawn.
struct Reader<'p, 'd> {
    structure: &'p mut Structure,
    surface: &'p mut Surface<'d>,
    fonts: &'p mut Fonts,
    index: usize,
}

impl Reader<'_, '_> {
    /// Draws items in their order: groups that say what they show as figures, headings as
    /// headings, all other text as it comes; lines alone are no part of what is read.
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
        if group.name == HEADING {
            self.bookmark(group, to)?;
            return self.tagged(Tag::Hn(LEVEL, Some(group.description.clone())), one, to);
        }
        if !group.description.is_empty() {
            return self.tagged(Tag::Figure(Some(group.description.clone())), one, to);
        }
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
        self.tagged(said, std::slice::from_ref(item), to)
    }

    fn run(&mut self, run: &[Item], to: Affine) -> Result<(), WriteError> {
        if run.iter().any(|item| matches!(item, Item::Text(_))) {
            return self.tagged(Tag::P, run, to);
        }
        if run.is_empty() {
            return Ok(());
        }
        let lines = ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout));
        let _ = self.surface.start_tagged(lines);
        let drawn = items(self.surface, run, to, self.fonts);
        self.surface.end_tagged();
        drawn
    }

    /// Draws items as one piece of content.
    fn tagged(
        &mut self,
        tag: impl Into<TagKind>,
        content: &[Item],
        to: Affine,
    ) -> Result<(), WriteError> {
        let content_id = self.surface.start_tagged(ContentTag::Other);
        let drawn = items(self.surface, content, to, self.fonts);
        self.surface.end_tagged();
        let mut group = TagGroup::new(tag);
        group.push(content_id);
        self.structure.nodes.push(Node::Group(group));
        drawn
    }

    /// A bookmark to just above a heading.
    fn bookmark(&mut self, group: &Group, to: Affine) -> Result<(), WriteError> {
        let text = group.items.iter().find_map(|item| match item {
            Item::Text(text) => Some(text),
            _ => None,
        });
        let Some(text) = text else { return Ok(()) };
        let at = to * group.transform * kurbo::Point::new(text.x, text.y - text.size);
        let (x, y) = (placed::length(at.x)?, placed::length(at.y)?);
        let point = Point::from_xy(single(x * POINTS_PER_MM), single(y * POINTS_PER_MM));
        let there = XyzDestination::new(self.index, point);
        self.structure.headings.push(OutlineNode::new(group.description.clone(), there));
        Ok(())
    }
}
