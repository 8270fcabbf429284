//! The XML looked through before anything of it is drawn.

use std::collections::BTreeMap;
use std::ops::Range;

use usvg::roxmltree::{Attribute, Document, Node};

use super::numbers;
use super::{MOST_NESTED, MOST_SHAPES, Refused};
use crate::layout::diagnostic::quoted;

/// Namespace of SVG.
const SVG: &str = "http://www.w3.org/2000/svg";
/// Elements that draw something.
const SHAPES: [&str; 7] = ["path", "rect", "circle", "ellipse", "line", "polyline", "polygon"];
/// Elements that hold others.
const HOLDERS: [&str; 3] = ["svg", "g", "defs"];
/// Elements that are never drawn and may hold anything.
const SILENT: [&str; 3] = ["title", "desc", "metadata"];
/// Elements that draw nothing unless something refers to them, which is refused.
const REFERRED: [&str; 8] = [
    "linearGradient",
    "radialGradient",
    "pattern",
    "clipPath",
    "mask",
    "filter",
    "marker",
    "symbol",
];

const PLAIN: &str = "save the drawing as plain SVG: filled shapes in one colour";

/// Refuses declarations of entities and of style sheets in other files, which come before
/// the drawing itself.
pub(super) fn declarations(text: &str) -> Result<(), Refused> {
    if let Some(at) = text.find("<!ENTITY") {
        return Err(Refused::new(
            Some(at..at + 8),
            "the drawing declares entities",
            "save it as plain SVG, without the declarations of the program that made it",
        ));
    }
    if let Some(at) = text.find("<!DOCTYPE") {
        let rest = text.get(at..).unwrap_or_default();
        let end = rest.find('>').unwrap_or(rest.len());
        if let Some(inner) = rest.get(..end).and_then(|declared| declared.find('[')) {
            return Err(Refused::new(
                Some(at + inner..at + inner + 1),
                "the document type has declarations of its own",
                "save the drawing as plain SVG, without them",
            ));
        }
    }
    if let Some(at) = text.find("<?xml-stylesheet") {
        return Err(external(at..at + 16));
    }
    Ok(())
}

fn external(at: Range<usize>) -> Refused {
    Refused::new(
        Some(at),
        "the drawing refers to another file",
        "a drawing must hold all that it shows: put it in, or take it out",
    )
}

/// Looks through all elements: each must be one that can be engraved, with numbers that
/// are numbers.
pub(super) fn elements(document: &Document<'_>) -> Result<(), Refused> {
    let root = document.root_element();
    if root.tag_name().name() != "svg" || root.tag_name().namespace() != Some(SVG) {
        return Err(Refused::new(
            Some(opening(root)),
            format!("this is not SVG: the file holds {}", quoted(root.tag_name().name())),
            format!("an SVG begins with <svg xmlns=\"{SVG}\">"),
        ));
    }
    // (element, how deep it lies); a list instead of calls, however deep it goes.
    let mut open = vec![(root, 1)];
    while let Some((node, depth)) = open.pop() {
        if depth > MOST_NESTED {
            return Err(too_deep(opening(node)));
        }
        if element(node, depth == 1)? {
            let inner = node.children().filter(Node::is_element).map(|child| (child, depth + 1));
            open.extend(inner);
        }
    }
    let mut count = Count { ids: BTreeMap::new(), sizes: BTreeMap::new() };
    for node in document.descendants().filter(Node::is_element) {
        if let Some(id) = node.attribute("id") {
            count.ids.entry(id).or_insert(node);
        }
    }
    let shapes = count.shapes(root, 0)?;
    if shapes > MOST_SHAPES {
        return Err(Refused::new(
            Some(opening(root)),
            format!("the drawing has more than {MOST_SHAPES} shapes"),
            "simplify it: unite what belongs together",
        ));
    }
    Ok(())
}

fn too_deep(at: Range<usize>) -> Refused {
    Refused::new(
        Some(at),
        format!("more than {MOST_NESTED} groups lie inside each other here"),
        "take groups apart that hold only one another",
    )
}

/// The name in an element's opening tag.
fn opening(node: Node<'_, '_>) -> Range<usize> {
    let start = node.range().start;
    start..start + 1 + node.tag_name().name().len()
}

/// One element; whether what is in it is to be looked at too.
fn element(node: Node<'_, '_>, is_root: bool) -> Result<bool, Refused> {
    let name = node.tag_name().name();
    if node.tag_name().namespace() != Some(SVG) {
        // The drawing program's own notes are not drawn.
        return Ok(false);
    }
    if SILENT.contains(&name) || REFERRED.contains(&name) {
        return Ok(false);
    }
    let known =
        SHAPES.contains(&name) || HOLDERS.contains(&name) || ["use", "style"].contains(&name);
    if !known || (name == "svg" && !is_root) {
        return Err(refused_element(node));
    }
    for attribute in node.attributes() {
        one_attribute(node, &attribute)?;
    }
    if name == "style" {
        let text: String = node.descendants().filter_map(|inner| inner.text()).collect();
        style_sheet(&text, opening(node))?;
    }
    Ok(HOLDERS.contains(&name) || SHAPES.contains(&name) || name == "use")
}

fn refused_element(node: Node<'_, '_>) -> Refused {
    let name = node.tag_name().name();
    let (message, help) = match name {
        "script" | "foreignObject" => {
            ("the drawing holds a script or another document".to_owned(), "take it out")
        }
        "text" | "tspan" | "textPath" => (
            "the drawing holds text, whose letters stand in another file".to_owned(),
            "turn the text into paths in the drawing program",
        ),
        "image" => (
            "the drawing holds a picture, which has no outlines".to_owned(),
            "trace it, and save the paths alone",
        ),
        "animate" | "animateTransform" | "animateMotion" | "set" => {
            ("the drawing moves".to_owned(), "save it as it is to stand still")
        }
        _ => (format!("{} cannot be engraved", quoted(name)), PLAIN),
    };
    Refused::new(Some(opening(node)), message, help)
}

fn one_attribute(node: Node<'_, '_>, attribute: &Attribute<'_, '_>) -> Result<(), Refused> {
    let (name, value) = (attribute.name(), attribute.value());
    let at = attribute.range_value();
    if name.len() > 2 && name.starts_with("on") {
        return Err(Refused::new(
            Some(attribute.range()),
            format!("the drawing holds a script, in {}", quoted(name)),
            "take it out",
        ));
    }
    if name == "href" {
        let own = value.trim().starts_with('#');
        let used = node.tag_name().name() == "use";
        return if own && used { Ok(()) } else { Err(external(attribute.range())) };
    }
    // Names of other programs' own attributes mean nothing here.
    if attribute.namespace().is_some() {
        return Ok(());
    }
    reference(value, at.clone())?;
    if name == "style" {
        for declared in value.split(';') {
            let Some((property, value)) = declared.split_once(':') else { continue };
            let value = value.trim().trim_end_matches("!important");
            if property.trim() == "transform" {
                return Err(Refused::new(
                    Some(at),
                    "`transform` is part of a style",
                    "write it as an attribute of its own: transform=\"…\"",
                ));
            }
            numbers::check(property.trim(), value, &at)?;
        }
        return Ok(());
    }
    numbers::check(name, value, &at)
}

/// What a value refers to.
fn reference(value: &str, at: Range<usize>) -> Result<(), Refused> {
    let Some((_, inner)) = value.split_once("url(") else { return Ok(()) };
    if inner.trim_start_matches([' ', '"', '\'']).starts_with('#') {
        return Err(Refused::new(
            Some(at),
            "gradients, patterns, clips, masks, filters and markers cannot be engraved",
            "fill with one colour, and cut the shapes themselves to size",
        ));
    }
    Err(external(at))
}

fn style_sheet(text: &str, at: Range<usize>) -> Result<(), Refused> {
    if text.contains("@import") || text.contains("@font-face") {
        return Err(external(at));
    }
    reference(text, at)
}

/// How much is drawn once repeated parts are followed, found before they are.
struct Count<'a, 'd> {
    ids: BTreeMap<&'a str, Node<'a, 'd>>,
    /// Shapes in an element by where it begins; `None` while it is being counted.
    sizes: BTreeMap<usize, Option<(usize, usize)>>,
}

impl Count<'_, '_> {
    fn shapes(&mut self, node: Node<'_, '_>, depth: usize) -> Result<usize, Refused> {
        self.counted(node, depth).map(|(shapes, _)| shapes)
    }

    /// Shapes in an element, no more counted than are too many, and how deep they lie.
    fn counted(&mut self, node: Node<'_, '_>, depth: usize) -> Result<(usize, usize), Refused> {
        if depth > MOST_NESTED {
            return Err(too_deep(opening(node)));
        }
        let key = node.range().start;
        match self.sizes.get(&key) {
            Some(Some((shapes, levels))) if depth + levels <= MOST_NESTED => {
                return Ok((*shapes, *levels));
            }
            Some(Some(_)) => return Err(too_deep(opening(node))),
            Some(None) => {
                return Err(Refused::new(
                    Some(opening(node)),
                    "this part of the drawing repeats itself within itself",
                    "take out the `use` that refers to what holds it",
                ));
            }
            None => {}
        }
        self.sizes.insert(key, None);
        let name = node.tag_name().name();
        let (mut shapes, mut levels) = (usize::from(SHAPES.contains(&name)), 0);
        if name == "use" {
            let target = node.attributes().find(|a| a.name() == "href");
            let target = target.map(|a| a.value().trim().trim_start_matches('#').to_owned());
            let target = target.and_then(|id| self.ids.get(id.as_str()).copied());
            let Some(target) = target else {
                return Err(Refused::new(
                    Some(opening(node)),
                    "`use` repeats something that is not in the drawing",
                    "take it out, or draw what it repeats",
                ));
            };
            let drawable = SHAPES.contains(&target.tag_name().name())
                || ["g", "use"].contains(&target.tag_name().name());
            if !drawable {
                return Err(refused_element(target));
            }
            let (inner, deep) = self.counted(target, depth + 1)?;
            (shapes, levels) = (inner, deep + 1);
        }
        if HOLDERS.contains(&name) {
            for child in node.children().filter(Node::is_element) {
                if child.tag_name().namespace() != Some(SVG) {
                    continue;
                }
                let (inner, deep) = self.counted(child, depth + 1)?;
                shapes = (shapes + inner).min(MOST_SHAPES + 1);
                levels = levels.max(deep + 1);
            }
        }
        self.sizes.insert(key, Some((shapes, levels)));
        Ok((shapes, levels))
    }
}
