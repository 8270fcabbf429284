//! Which side of the plate lies uppermost while it is worked.
//!
//! A clear plate may be engraved in its back and read through its front. It then lies
//! face down, turned over about its upright middle line: the artwork shows its back,
//! left and right changed, and everything with it, holes and border as well as letters.

use kurbo::Affine;

use crate::drawing::{Circle, Item, Path};
use crate::job::Job;
use crate::layout::Side;

use super::operations::Operation;

/// Whether the artwork is mirrored.
pub(super) fn mirrored(job: &Job) -> bool {
    job.layout.engraving.from == Side::Behind
}

/// Which side the artwork shows, in words.
pub(super) fn shown(job: &Job) -> &'static str {
    if mirrored(job) {
        "MIRRORED: the plate lies face down and is seen from behind, turned over about its \
         upright middle line; the wording reads right from the front"
    } else {
        "seen from the front, not mirrored"
    }
}

/// Where zero lies, in words.
pub(super) fn zero(job: &Job) -> &'static str {
    if mirrored(job) {
        "the left edge and the top edge of the plate's box, seen from behind (its right edge and \
         top edge seen from the front)"
    } else {
        "the left edge and the top edge of the plate's box, seen from the front"
    }
}

/// An operation in plate coordinates as the artwork shows it.
pub(super) fn as_worked(job: &Job, operation: Operation) -> Operation {
    if !mirrored(job) {
        return operation;
    }
    let width = job.layout.plate.width;
    let items = operation.items.into_iter().map(|item| turned(item, width)).collect();
    Operation { items, ..operation }
}

/// An item mirrored about a plate's upright middle line. Mirroring turns the sense of
/// outlines round, and it is turned back.
fn turned(item: Item, width: f64) -> Item {
    match item {
        Item::Path(path) => {
            let mirror = Affine::new([-1.0, 0.0, 0.0, 1.0, width, 0.0]);
            Path { path: (mirror * path.path).reverse_subpaths(), ..path }.into()
        }
        Item::Circle(circle) => {
            let (x, y) = circle.centre;
            Circle { centre: (width - x, y), ..circle }.into()
        }
        Item::Group(mut group) => {
            group.items = group.items.into_iter().map(|item| turned(item, width)).collect();
            group.into()
        }
        Item::Image(image) => image.mirrored(width).into(),
        // Artwork holds outlines only.
        Item::Text(text) => text.into(),
    }
}
