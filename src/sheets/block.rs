//! Blocks: parts of a sheet with a size of their own, in layers that become
//! the named groups of a page. mm from the block's top left corner, y down.

use kurbo::{Affine, BezPath, Point};

use crate::drawing::{Circle, Ends, Group, Item, LineType, Path, Role, Stroke, Text};

use super::text::{BLACK, SetRow};

/// Width of frames, rules and all narrow lines, mm (ISO 128-20: 0.18).
pub(super) const NARROW: f64 = 0.18;
/// Width of visible outlines: twice the narrow one (ISO 128-20: 0.35).
pub(super) const WIDE: f64 = 0.35;

/// Which named group of the page a thing belongs to, in the order of drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Layer {
    /// Plate, lettering, holes: groups of their own.
    Plaque,
    /// Rules and boxes.
    Frame,
    /// Dimensions, centre lines, edges of the face.
    Dimensions,
    /// The check bar.
    Bar,
    /// All other text.
    Labels,
}

impl Layer {
    const ALL: [(Self, &'static str); 4] = [
        (Self::Frame, "frame"),
        (Self::Dimensions, "dimensions"),
        (Self::Bar, "check-bar"),
        (Self::Labels, "labels"),
    ];
}

/// A part of a sheet.
#[derive(Debug, Clone, Default)]
pub(super) struct Block {
    /// Height that it takes, mm.
    pub(super) height: f64,
    parts: Vec<(Layer, Item)>,
}

/// A continuous black line of a width.
pub(super) fn line_of(width: f64) -> Stroke {
    Stroke { width, line_type: LineType::Continuous, ends: Ends::Square, colour: BLACK }
}

/// A narrow black line of a type.
pub(super) fn narrow(line_type: LineType) -> Stroke {
    Stroke { width: NARROW, line_type, ends: Ends::Square, colour: BLACK }
}

/// A straight line between two points.
pub(super) fn straight(from: (f64, f64), to: (f64, f64)) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(Point::new(from.0, from.1));
    path.line_to(Point::new(to.0, to.1));
    path
}

/// An upright rectangle.
pub(super) fn rectangle(x: f64, y: f64, width: f64, height: f64) -> BezPath {
    kurbo::Shape::to_path(&kurbo::Rect::new(x, y, x + width, y + height), 0.01)
}

/// A circle.
pub(super) fn circle(x: f64, y: f64, radius: f64) -> BezPath {
    kurbo::Shape::to_path(&kurbo::Circle::new((x, y), radius), 0.001)
}

/// A hole: a circle, or a slot whose round ends lie `travel` (across, down) to both
/// sides of its middle.
pub(super) fn hole_edge((x, y): (f64, f64), travel: (f64, f64), radius: f64) -> BezPath {
    if travel.0 <= 0.0 && travel.1 <= 0.0 {
        return circle(x, y, radius);
    }
    let (wide, high) = (travel.0 + radius, travel.1 + radius);
    let slot = kurbo::RoundedRect::new(x - wide, y - high, x + wide, y + high, radius);
    kurbo::Shape::to_path(&slot, 0.001)
}

impl Block {
    /// A block without anything in it.
    pub(super) fn empty(height: f64) -> Self {
        Self { height, parts: Vec::new() }
    }

    /// Whether nothing is in it.
    pub(super) fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// Adds a thing.
    pub(super) fn push(&mut self, layer: Layer, item: impl Into<Item>) {
        self.parts.push((layer, item.into()));
    }

    /// Adds a narrow rule or any narrow continuous line.
    pub(super) fn rule(&mut self, layer: Layer, from: (f64, f64), to: (f64, f64)) {
        self.push(layer, Path::stroked(straight(from, to), line_of(NARROW)));
    }

    /// Adds a row of text at its baseline's left end; among the labels it is a paragraph.
    pub(super) fn text(&mut self, layer: Layer, row: &SetRow, x: f64, baseline: f64) {
        let items = row.level(x, baseline);
        if layer == Layer::Labels {
            self.push(layer, Group::part(Role::Paragraph, items));
        } else {
            self.parts.extend(items.into_iter().map(|item| (layer, item)));
        }
    }

    /// Adds a row of text that reads upwards from a point.
    pub(super) fn upright(&mut self, layer: Layer, row: &SetRow, x: f64, y: f64) {
        self.parts.extend(row.upright(x, y).into_iter().map(|item| (layer, item)));
    }

    /// Adds another block's things, moved; the height stays.
    pub(super) fn add(&mut self, other: Self, dx: f64, dy: f64) {
        self.parts
            .extend(other.parts.into_iter().map(|(layer, item)| (layer, moved(item, dx, dy))));
    }

    /// The same, with all its things in one group of a layer.
    pub(super) fn gathered(self, layer: Layer, group: Group) -> Self {
        let items = self.parts.into_iter().map(|(_, item)| item).collect();
        Self { height: self.height, parts: vec![(layer, Group { items, ..group }.into())] }
    }

    /// The same, with its labels as one part of the text; its rules stay by themselves.
    pub(super) fn read_as(self, role: Role) -> Self {
        let (labels, mut parts): (Vec<_>, Vec<_>) =
            self.parts.into_iter().partition(|(layer, _)| *layer == Layer::Labels);
        let items = labels.into_iter().map(|(_, item)| item).collect();
        parts.push((Layer::Labels, Group::part(role, items).into()));
        Self { height: self.height, parts }
    }

    /// Adds another block beneath this one.
    pub(super) fn stack(&mut self, other: Self) {
        let (top, more) = (self.height, other.height);
        self.add(other, 0.0, top);
        self.height = top + more;
    }

    /// The items of a page: the plaque's own groups, then one group a layer.
    pub(super) fn into_items(self) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        let mut layers: Vec<(Layer, Vec<Item>)> =
            Layer::ALL.iter().map(|(layer, _)| (*layer, Vec::new())).collect();
        for (layer, item) in self.parts {
            match layers.iter_mut().find(|(other, _)| *other == layer) {
                Some((_, inside)) => inside.push(item),
                None => items.push(item),
            }
        }
        for ((_, inside), (_, name)) in layers.into_iter().zip(Layer::ALL) {
            if !inside.is_empty() {
                items.push(Group::new(name, "", inside).into());
            }
        }
        items
    }
}

/// An item moved across its page.
pub(super) fn moved(item: Item, dx: f64, dy: f64) -> Item {
    match item {
        Item::Path(mut path) => {
            path.path.apply_affine(Affine::translate((dx, dy)));
            if let Some(crate::drawing::Paint::Linear { from, to, .. }) = &mut path.fill {
                *from = (from.0 + dx, from.1 + dy);
                *to = (to.0 + dx, to.1 + dy);
            }
            path.into()
        }
        Item::Circle(circle) => {
            let (x, y) = circle.centre;
            Circle { centre: (x + dx, y + dy), ..circle }.into()
        }
        Item::Text(text) => Text { x: text.x + dx, y: text.y + dy, ..text }.into(),
        Item::Image(image) => image.moved(dx, dy).into(),
        Item::Group(mut group) => {
            group.transform = Affine::translate((dx, dy)) * group.transform;
            group.into()
        }
    }
}
