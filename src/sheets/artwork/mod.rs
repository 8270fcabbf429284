//! Artwork: what is cut, at true size, and nothing else; whole, and a drawing an
//! operation, all on the same page with the same zero.
//!
//! `operations.rs` lists the operations, `side.rs` turns them round for work from
//! behind, `marks.rs` draws the corner marks, `measures.rs` measures what is cut and
//! `text.rs` writes it down.

mod marks;
mod measures;
mod operations;
mod photos;
mod side;
mod text;

use kurbo::Affine;

use crate::drawing::{Drawing, Group, Item, Page, Paint};
use crate::job::Job;

use super::machine::MachineSheet;
use super::plaque::{lettering, wording};
use super::sheet::Sheet;
use super::text::BLACK;
use super::words;

use operations::Operation;
pub use photos::{PhotoFile, PhotoPixels};

/// Paper round the plate's box that holds the corner marks, mm.
const ROUND: f64 = 8.0;

/// Everything for whoever cuts the plate.
#[derive(Debug, Clone)]
pub struct Artwork {
    /// All operations, a group each, and the corner marks.
    pub whole: MachineSheet,
    /// The name of each operation, kebab-case, with a drawing of it alone.
    pub parts: Vec<(&'static str, MachineSheet)>,
    /// Photographs at the steps of their machines.
    pub photos: Vec<PhotoFile>,
    /// Sizes, zero, counts, lengths, areas, tolerances and cautions in words.
    pub text: String,
}

/// The artwork of a job, in mm at true size on a page that is the plate's box and 8 mm
/// all round; filled letters, continuous cut lines, true circles; clear ground, no
/// dimensions. Zero is the top left corner of the plate's box as the artwork shows it.
/// Operations with nothing in them are left out.
///
/// Outer outlines of letters run clockwise as seen, those of holes in them the other
/// way; none overlaps itself or another of its row.
///
/// Artwork of a plate that is engraved from behind is mirrored as a whole: it shows the
/// plate's back, which is the side that lies uppermost.
#[must_use]
pub fn artwork(job: &Job) -> Artwork {
    let operations = operations::operations(job);
    let whole = sheet(job, "artwork", &operations);
    let one = |operation: &Operation| {
        let alone = std::slice::from_ref(operation);
        (operation.name, sheet(job, &format!("artwork, {}", operation.name), alone))
    };
    let parts = operations.iter().map(one).collect();
    let photos = photos::files(job);
    Artwork { whole, parts, photos, text: text::text(job, &operations) }
}

/// The lettering alone, flat black on white, on a page that is the plate's box, as it
/// reads from the front.
#[must_use]
pub fn proof_lettering(job: &Job) -> Sheet {
    let (width, height) = (job.layout.plate.width, job.layout.plate.height);
    let letters = lettering(job, &Paint::Solid(BLACK));
    Sheet::of_plates(Drawing {
        title: format!("{}: lettering", job.layout.title),
        description: wording(job),
        background: Some([255; 3]),
        pages: vec![Page { width, height, items: vec![letters.into()] }],
    })
}

/// Operations and corner marks on their page.
fn sheet(job: &Job, kind: &str, operations: &[Operation]) -> MachineSheet {
    let plate = &job.layout.plate;
    let mut groups: Vec<Group> = operations.iter().map(Operation::group).collect();
    groups.push(marks::corner_marks(plate));
    let placed = |mut group: Group| {
        group.transform = Affine::translate((ROUND, ROUND));
        Item::from(group)
    };
    let items = groups.into_iter().map(placed).collect();
    let (width, height) = (plate.width + 2.0 * ROUND, plate.height + 2.0 * ROUND);
    let remark = format!(
        "{kind} in mm at true size, no allowance made for the width of a cutter or kerf\n\
         {}\nzero: {}\nproof {}, mark {}\n{}",
        side::shown(job),
        side::zero(job),
        job.layout.proof.number,
        job.mark,
        words::signed_off_in_full(job.signed.as_ref())
    );
    let drawing = Drawing {
        title: format!("{}: {kind}, mm", job.layout.title),
        description: format!("{remark}\nWording:\n{}", wording(job)),
        background: None,
        pages: vec![Page { width, height, items }],
    };
    let sheet = Sheet { drawing, plate_at: vec![Some((ROUND, ROUND))] };
    MachineSheet { sheet, zero: (ROUND, ROUND), remark }
}
