//! The distances that a maker sets out: from the face's edges to the plate, with the plate
//! and the face themselves, across above the drawing and down at its left.

use kurbo::{Rect, Vec2};

use crate::job::Job;
use crate::layout::FaceShape;
use crate::mount::{FacePlan, Reveals};
use crate::sheets::block::Block;
use crate::sheets::dimension::{
    Along, Beyond, between, beyond, beyond_reach, extension, goes_between,
};
use crate::sheets::edge::{touches, touches_path};
use crate::sheets::text::{Labels, SetRow};
use crate::sheets::words;

use super::{LABEL, edge_of_face, face_box};

/// From the face to the distances round the plate, and to its own size, mm on the page.
const NEAR_LINE: f64 = 7.0;
const FAR_LINE: f64 = 14.0;
/// What figures take beyond their line, mm.
const FIGURES: f64 = 4.0;
/// Distances less than this are none, mm.
const SAME: f64 = 0.005;

/// White that the distances take round the drawing, mm.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct White {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

/// One distance, in mm on the page from the corner of what is shown.
struct Span {
    from: f64,
    to: f64,
    /// Where the extension lines of its two ends start, across.
    features: [f64; 2],
    row: SetRow,
    /// Where its text stands, where that is not between its ends.
    beyond: Option<Beyond>,
}

/// The distances along one axis.
#[derive(Default)]
struct Chain {
    /// Round the plate, and the plate itself where its figure has room.
    near: Vec<Span>,
    /// The whole face.
    far: Option<Span>,
}

/// All distances laid out.
pub(super) struct Measures {
    across: Chain,
    down: Chain,
    told: String,
}

impl Measures {
    /// Those of a plate on its face, drawn at a scale; `window` is what is shown, in plate
    /// coordinates. None where the face's size is not told.
    pub(super) fn of(
        job: &Job,
        plan: &FacePlan,
        labels: &Labels,
        (scale, window): (f64, Rect),
    ) -> Self {
        let nothing = |told: &str| Self {
            across: Chain::default(),
            down: Chain::default(),
            told: told.to_owned(),
        };
        let plate = &job.layout.plate;
        let Some(face) = face_box(plan) else { return nothing("The plate by its mark.") };
        let Some(reveals) = plan.reveals((plate.width, plate.height)) else {
            return nothing("The plate's middle is not on the face.");
        };
        let length = |mm: f64| if job.layout.inches { words::vulgar(mm) } else { words::mm(mm) };
        let laid = Laid { job, plan, labels, scale, window, face, length: &length };
        Self {
            across: laid.chain(Along::Across, (reveals.left, reveals.right)),
            down: laid.chain(Along::Down, (reveals.top, reveals.bottom)),
            told: told(&reveals, (face.width(), face.height()), &length),
        }
    }

    /// The distances in words.
    pub(super) fn told(&self) -> &str {
        &self.told
    }

    /// How much higher the distances across stand, so that they clear one that reaches up
    /// beyond the face's top beside them.
    fn raised(&self) -> f64 {
        let first = |chain: &Chain| {
            let mut spans = chain.near.iter();
            spans.find(|span| span.beyond == Some(Beyond::First)).map(|s| beyond_reach(&s.row))
        };
        match (first(&self.across), first(&self.down)) {
            (Some(_), Some(up)) => (up - NEAR_LINE + 1.0).max(0.0),
            _ => 0.0,
        }
    }

    pub(super) fn white(&self) -> White {
        let band = |chain: &Chain| match (&chain.far, chain.near.is_empty()) {
            (Some(_), _) => FAR_LINE + FIGURES,
            (None, false) => NEAR_LINE + FIGURES,
            (None, true) => 0.0,
        };
        let reach = |chain: &Chain, end: Beyond| {
            let spans = chain.near.iter().filter(|span| span.beyond == Some(end));
            spans.map(|span| beyond_reach(&span.row)).fold(0.0, f64::max)
        };
        let (across, down) = (&self.across, &self.down);
        White {
            left: band(down).max(reach(across, Beyond::First)),
            top: (band(across) + self.raised()).max(reach(down, Beyond::First)),
            right: reach(across, Beyond::Second),
            bottom: reach(down, Beyond::Second),
        }
    }

    /// Draws them round what is shown, whose corner stands there on the page.
    pub(super) fn draw(&self, block: &mut Block, at: Vec2) {
        let raised = self.raised();
        for (along, chain, origin, raised) in [
            (Along::Across, &self.across, (at.x, at.y), raised),
            (Along::Down, &self.down, (at.y, at.x), 0.0),
        ] {
            let near = chain.near.iter().map(|span| (span, NEAR_LINE));
            let far = chain.far.iter().map(|span| (span, FAR_LINE));
            let mut ends: Vec<(f64, f64, f64)> = Vec::new();
            for (span, line) in near.chain(far) {
                let (from, to) = (span.from + origin.0, span.to + origin.0);
                let off = origin.1 - line - raised;
                match span.beyond {
                    None => between(block, along, (from, to), (off, -1.0), &span.row),
                    Some(end) => beyond(block, along, (from, to), (off, end), &span.row),
                }
                for (at, feature) in [from, to].into_iter().zip(span.features) {
                    // One extension line a place, as far as its outermost distance.
                    match ends.iter_mut().find(|known| (known.0 - at).abs() < SAME) {
                        Some(known) => known.2 = known.2.min(off),
                        None => ends.push((at, feature + origin.1, off)),
                    }
                }
            }
            for (at, feature, off) in ends {
                extension(block, along, at, (feature, off));
            }
        }
    }
}

/// What the distances are laid out by.
struct Laid<'a> {
    job: &'a Job,
    plan: &'a FacePlan,
    labels: &'a Labels,
    scale: f64,
    window: Rect,
    face: Rect,
    length: &'a dyn Fn(f64) -> String,
}

impl Laid<'_> {
    /// Distances along an axis; `before` and `behind` the plate are those to the face.
    fn chain(&self, along: Along, (before, behind): (f64, f64)) -> Chain {
        let plate = &self.job.layout.plate;
        let (size, middle, face, zero) = match along {
            Along::Across => (
                plate.width,
                plate.height / 2.0,
                (self.face.x0, self.face.x1, self.face.y0),
                (self.window.x0, self.window.y0),
            ),
            Along::Down => (
                plate.height,
                plate.width / 2.0,
                (self.face.y0, self.face.y1, self.face.x0),
                (self.window.y0, self.window.x0),
            ),
        };
        // Only a rectangle has its sides' ends at the corners of its box.
        let square = self.plan.face.edge.as_ref().is_some_and(|e| e.shape == FaceShape::Rectangle);
        let edge = if square { face.2 } else { middle };
        let touch = |at: f64| touches(plate, along, at).0;
        let page = |at: f64, zero: f64| (at - zero) * self.scale;
        let span = |ends: ((f64, f64), (f64, f64)), text: String, end: Option<Beyond>| {
            let ((from, feature), (to, other)) = ends;
            let row = self.labels.set(&text, LABEL, None);
            let (from, to) = (page(from, zero.0), page(to, zero.0));
            let features = [page(feature, zero.1), page(other, zero.1)];
            let beyond = end.filter(|_| !goes_between(&row, to - from));
            Span { from, to, features, row, beyond }
        };
        let text = |far: f64| match (self.length)(far.abs()) {
            told if far < 0.0 => format!("{told} over"),
            told => told,
        };
        let ordered = |a: (f64, f64), b: (f64, f64)| if a.0 <= b.0 { (a, b) } else { (b, a) };
        let mut near = Vec::new();
        if before.abs() > SAME {
            let ends = ordered((-before, edge), (0.0, touch(0.0)));
            near.push(span(ends, text(before), Some(Beyond::First)));
        }
        let own = span(((0.0, touch(0.0)), (size, touch(size))), text(size), None);
        let clear = before > -SAME && behind > -SAME;
        if clear && goes_between(&own.row, own.to - own.from) {
            near.push(own);
        }
        if behind.abs() > SAME {
            let ends = ordered((size, touch(size)), (size + behind, edge));
            near.push(span(ends, text(behind), Some(Beyond::Second)));
        }
        let box_ = |at: f64| (at, touches_path(&edge_of_face(self.plan), along, at).0);
        let whole = (box_(face.0), box_(face.1));
        let far = span(whole, text(face.1 - face.0), None);
        Chain { near, far: Some(far) }
    }
}

/// The distances in a sentence.
fn told(reveals: &Reveals, (width, height): (f64, f64), length: &dyn Fn(f64) -> String) -> String {
    let sides = [
        ("left", reveals.left),
        ("above", reveals.top),
        ("right", reveals.right),
        ("below", reveals.bottom),
    ];
    let sides = sides.map(|(side, far)| {
        let over = if far < 0.0 { " over the edge" } else { "" };
        format!("{}{over} {side}", length(far.abs()))
    });
    format!(
        "The face is {} wide and {} high. From the plate to its edges: {}.",
        length(width),
        length(height),
        sides.join(", ")
    )
}
