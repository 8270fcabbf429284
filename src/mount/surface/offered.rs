//! Plate sizes to choose from, by what a face leaves round them.

use crate::layout::{FromFace, Handles, Layout, Shape};

use super::edges::room;
use super::sized::{Search, sized};
use super::{FacePlan, Reveals, face_plan};

/// Proportions that are taken for pleasing, the wide side first. Common practice, no source.
const PROPORTIONS: [(&str, f64); 4] =
    [("4 : 3", 4.0 / 3.0), ("3 : 2", 1.5), ("golden section", 1.618_034), ("2 : 1", 2.0)];
/// How far two sides in whole steps may be off a proportion, as a share of it.
const OFF: f64 = 0.02;
/// Sizes of one proportion: the largest with this reveal, and one so much smaller.
const SMALLER: f64 = 0.75;
/// Sides go by whole steps: 5 mm, or quarters of an inch where the layout is in inches.
const STEP_MM: f64 = 5.0;
const STEP_INCH_MM: f64 = 25.4 / 4.0;
/// Reveal where none is told: a tenth of the face's short side, in whole steps, at least one.
/// Common practice, no source.
const USUAL_REVEAL: f64 = 0.1;
/// Least short side of a plate that is offered, steps.
const LEAST: f64 = 3.0;

/// Why a size is offered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// The largest that keeps this reveal, mm; `None` in a recess, whose gap counts.
    Largest(Option<f64>),
    /// By its proportion.
    Proportion(&'static str),
    /// A circle.
    Round,
}

/// A size that is offered.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// Why.
    pub why: Why,
    /// The layout with a plate of that size.
    pub layout: Layout,
    /// What is left of the face round it, where its middle is on the face.
    pub reveals: Option<Reveals>,
}

/// Sizes for the plate of a layout, the largest first: all of them keep a reveal all round
/// where the layout places the plate: that of the layout; else a usual one, or where the plate
/// is placed nearer to an edge than that, none. None without a face of a size, and for plates
/// by points, whose size is where their points are; in a recess only the one that fills it.
#[must_use]
pub fn offered_sizes(layout: &Layout) -> Vec<Offered> {
    let Some(face) = &layout.face else { return Vec::new() };
    let Some(edge) = &face.edge else { return Vec::new() };
    if matches!(layout.plate.shape, Shape::Points(_)) {
        return Vec::new();
    }
    let step = if layout.inches { STEP_INCH_MM } else { STEP_MM };
    let usual = (edge.width.min(edge.height) * USUAL_REVEAL / step).round().max(1.0) * step;
    let reveals = match layout.plate.from_face {
        _ if face.recess.is_some() => vec![0.0],
        Some(from_face) => vec![from_face.reveal],
        None => vec![usual, 0.0],
    };
    let mut found = reveals.into_iter().map(|reveal| keeping(layout, reveal, step));
    found.find(|sizes| !sizes.is_empty()).unwrap_or_default()
}

/// Those that keep a reveal.
fn keeping(layout: &Layout, reveal: f64, step: f64) -> Vec<Offered> {
    let mut all: Vec<Offered> = largest(layout, reveal).into_iter().collect();
    if layout.face.as_ref().is_some_and(|face| face.recess.is_some()) {
        return all;
    }
    let mut sizes = in_proportion(layout, reveal, step);
    sizes.sort_by(|a, b| (b.1 * b.2).total_cmp(&(a.1 * a.2)));
    for (why, width, height) in sizes {
        let same = |known: &Offered| {
            let plate = &known.layout.plate;
            (plate.width - width).abs() < 1e-6 && (plate.height - height).abs() < 1e-6
        };
        // The largest goes on following its face, which one of the same size does not.
        if !all.iter().skip(1).any(same) {
            all.push(offered(why, of_size(layout, (width, height))));
        }
    }
    all
}

/// The largest plate, which goes on following its face.
fn largest(layout: &Layout, reveal: f64) -> Option<Offered> {
    let mut asked = layout.clone();
    let usual_margin = layout.plate.from_face.is_some_and(|from_face| from_face.usual_margin);
    asked.plate.from_face = Some(FromFace { reveal, usual_margin, stands: None, none: false });
    let found = sized(&asked).into_owned();
    let none = found.plate.from_face.is_none_or(|from_face| from_face.none);
    let recess = layout.face.as_ref().is_some_and(|face| face.recess.is_some());
    let why = Why::Largest((!recess).then_some(reveal));
    (!none && takes(&found.plate.shape, (found.plate.width, found.plate.height)))
        .then(|| offered(why, found))
}

/// For each proportion, level and upright as the room is, the largest size that keeps the
/// reveal, and a smaller one.
fn in_proportion(layout: &Layout, reveal: f64, step: f64) -> Vec<(Why, f64, f64)> {
    let Some(face) = &layout.face else { return Vec::new() };
    let Some(room) = room(face, reveal) else { return Vec::new() };
    let [left, top, right, bottom] = room.bounds();
    let upright = bottom - top > right - left;
    let plate = &layout.plate;
    let search = Search { face, plate, room, step, centred: true };
    let most = ((right - left).max(bottom - top) / step + 1e-9).floor();
    let goes_on = |width: f64, height: f64| {
        takes(&plate.shape, (width, height)) && search.place(width, height).is_some()
    };
    let proportions: Vec<(Why, f64)> = if plate.shape == Shape::Circle {
        vec![(Why::Round, 1.0)]
    } else {
        PROPORTIONS.map(|(name, share)| (Why::Proportion(name), share)).to_vec()
    };
    let mut all = Vec::new();
    for (why, proportion) in proportions {
        let size = |short: f64| {
            let long = (short * proportion).round();
            let true_enough = (long / short / proportion - 1.0).abs() <= OFF;
            let (long, short) = (long * step, short * step);
            true_enough.then_some(if upright { (short, long) } else { (long, short) })
        };
        let down = |from: f64| {
            let mut short = from.floor();
            while short >= LEAST {
                if let Some((width, height)) = size(short)
                    && goes_on(width, height)
                {
                    return Some((short, (width, height)));
                }
                short -= 1.0;
            }
            None
        };
        let Some((short, large)) = down(most) else { continue };
        all.push((why, large.0, large.1));
        all.extend(down(short * SMALLER).map(|(_, small)| (why, small.0, small.1)));
    }
    all
}

/// Whether a plate of this shape may have a size: its corners, head or handles leave
/// something between them, as the layout's reader asks.
fn takes(shape: &Shape, (width, height): (f64, f64)) -> bool {
    let short = width.min(height);
    match shape {
        Shape::Rounded { corner } => *corner <= short / 2.0,
        Shape::Notched { corner } => *corner <= 0.45 * short,
        Shape::Arch { rise: None } => width / 2.0 <= height,
        Shape::Arch { rise: Some(rise) } => {
            *rise <= (width / 2.0).min(height) && *rise >= 0.02 * width
        }
        Shape::Ansate(Handles { width: wide, root, tip, .. }) => {
            let within = |told: &Option<f64>, most: f64| told.is_none_or(|told| told <= most);
            within(wide, 0.4 * width) && within(root, height) && within(tip, height)
        }
        Shape::Rectangle | Shape::Oval | Shape::Circle | Shape::Points(_) => true,
    }
}

fn of_size(layout: &Layout, (width, height): (f64, f64)) -> Layout {
    let mut layout = layout.clone();
    layout.plate.from_face = None;
    layout.resize(width, height);
    layout
}

fn offered(why: Why, layout: Layout) -> Offered {
    let size = (layout.plate.width, layout.plate.height);
    let reveals = face_plan(&layout).and_then(|plan: FacePlan| plan.reveals(size));
    Offered { why, layout, reveals }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Face, FaceShape, Place};
    use crate::sheets::testing::{DEDICATION, layout_of};

    fn layout(face: &str) -> Layout {
        let (before, _) = DEDICATION.split_once("[face]").unwrap();
        let face = format!("{before}[face]\n{face}\nmaterial = \"beech\"\nthickness = \"19 mm\"\n");
        layout_of(&face.replace("shape     = \"rounded\"\ncorner    = \"5 mm\"\n", "")).unwrap()
    }

    /// Left and top of a plate on its face, by hand.
    fn at(face: &Face, (width, height): (f64, f64)) -> (f64, f64) {
        let edge = face.edge.as_ref().unwrap();
        let place = |place: Place, whole: f64, part: f64| match place {
            Place::Centred => (whole - part) / 2.0,
            Place::FromStart(far) => far,
            Place::FromEnd(far) => whole - part - far,
        };
        (place(face.across, edge.width, width), place(face.along, edge.height, height))
    }

    /// Whether a rectangle keeps a reveal, worked out from the face's own corners: each of
    /// the plate's corners is so far from every side, square to it.
    fn keeps(face: &Face, size: (f64, f64), reveal: f64) -> bool {
        let (x, y) = at(face, size);
        let edge = face.edge.as_ref().unwrap();
        let corners = [(x, y), (x + size.0, y), (x + size.0, y + size.1), (x, y + size.1)];
        let (width, height) = (edge.width, edge.height);
        if edge.shape == FaceShape::Circle {
            let far = |(x, y): (f64, f64)| libm::hypot(x - width / 2.0, y - width / 2.0);
            return corners.into_iter().all(|corner| far(corner) <= width / 2.0 - reveal + 1e-3);
        }
        let top = match edge.shape {
            FaceShape::Trapezium { top, .. } => top,
            _ => width,
        };
        let lean = (width - top) / 2.0;
        let outline = [(lean, 0.0), (width - lean, 0.0), (width, height), (0.0, height)];
        let sides = (0..4).map(|side| (outline[side], outline[(side + 1) % 4]));
        let depth = |((ax, ay), (bx, by)): ((f64, f64), (f64, f64)), (x, y): (f64, f64)| {
            ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / libm::hypot(bx - ax, by - ay)
        };
        sides
            .into_iter()
            .all(|side| corners.iter().all(|corner| depth(side, *corner) >= reveal - 1e-6))
    }

    const FACES: [(&str, f64); 5] = [
        // A tenth of 110 mm in steps of 5 mm; of 200; of 180; of 130; told.
        ("size = \"150 x 110 mm\"\nplace = { from_bottom = \"15 mm\" }", 10.0),
        ("size = \"200 x 260 mm\"", 20.0),
        ("shape = \"circle\"\ndiameter = \"180 mm\"", 20.0),
        ("shape = \"trapezium\"\ntop = \"150 mm\"\nfoot = \"220 mm\"\nheight = \"130 mm\"", 15.0),
        // No plate of 1 mm from the left keeps more.
        ("size = \"150 x 110 mm\"\nplace = { from_left = \"1 mm\" }", 0.0),
    ];

    #[test]
    fn every_size_keeps_its_reveal_and_none_larger_of_its_proportion_would() {
        for (face, reveal) in FACES {
            let layout = layout(face);
            let all = offered_sizes(&layout);
            assert_eq!(all[0].why, Why::Largest(Some(reveal)), "{face}");
            let mut names = Vec::new();
            for offered in &all[1..] {
                let Why::Proportion(name) = offered.why else { panic!("{:?}", offered.why) };
                let size = (offered.layout.plate.width, offered.layout.plate.height);
                let face = layout.face.as_ref().unwrap();
                assert!(keeps(face, size, reveal), "{name} {size:?}");
                assert!(size.0 % 5.0 == 0.0 && size.1 % 5.0 == 0.0, "{size:?}");
                let share = PROPORTIONS.iter().find(|known| known.0 == name).unwrap().1;
                let own = size.0.max(size.1) / size.0.min(size.1);
                assert!((own / share - 1.0).abs() <= OFF, "{name} {size:?}");
                if names.contains(&name) {
                    continue;
                }
                names.push(name);
                // Every larger pair of whole steps of this proportion, lying as this one.
                for short in 1..60 {
                    for long in short..60 {
                        let (short, long) = (f64::from(short) * 5.0, f64::from(long) * 5.0);
                        let upright = size.1 > size.0;
                        let other = if upright { (short, long) } else { (long, short) };
                        let nearest = (short * share / 5.0).round() * 5.0;
                        let is = (long / short / share - 1.0).abs() <= OFF
                            && (long - nearest).abs() < 1e-9;
                        if is && short > size.0.min(size.1) {
                            assert!(!keeps(face, other, reveal), "{name}: {other:?} goes on");
                        }
                    }
                }
            }
            assert_eq!(names.len(), PROPORTIONS.len(), "{face}: {names:?}");
        }
    }

    #[test]
    fn the_largest_is_that_of_the_face() {
        // 200 x 260 less twice 20; a circle of 180 less twice 20: the largest in a circle
        // of 140 is its square, 140 / √2 = 98.99, or a little off it in whole millimetres.
        let largest = |face: &str| {
            let plate = offered_sizes(&layout(face)).swap_remove(0).layout.plate;
            (plate.width, plate.height)
        };
        assert_eq!(largest(FACES[1].0), (160.0, 220.0));
        let (width, height) = largest(FACES[2].0);
        assert!(libm::hypot(width, height) <= 140.0 && width * height >= 98.0 * 98.0);
    }

    #[test]
    fn a_recess_is_filled_and_nothing_else() {
        let face = "size = \"200 x 150 mm\"\nrecess = { size = \"122 x 82 mm\", depth = \"1.5 mm\", \
                    gap = \"1 mm\" }";
        let all = offered_sizes(&layout(face));
        assert_eq!(all.len(), 1);
        assert_eq!(all[0].why, Why::Largest(None));
        assert!((all[0].layout.plate.width - 120.0).abs() < 1e-9);
    }

    #[test]
    fn circles_stay_circles_and_points_have_their_own_size() {
        let mut disc = layout(FACES[1].0);
        disc.plate.shape = Shape::Circle;
        let all = offered_sizes(&disc);
        assert!(all.len() > 1);
        let plates = all.iter().map(|one| &one.layout.plate);
        assert!(plates.into_iter().all(|plate| (plate.width - plate.height).abs() < 1e-9));
        disc.plate.shape = Shape::Points(vec![(0.0, 0.0), (40.0, 0.0), (20.0, 30.0)]);
        assert!(offered_sizes(&disc).is_empty());
    }
}
