//! Decoration: what the cutter can make of it, what stands in its way in the corners, and
//! whose a drawing is.

use kurbo::{Point, Rect, Shape};

use crate::decoration::{Placed, Stands};
use crate::finding::{Finding, Place, Quantity, Scope, Severity};
use crate::floors::{self, Need, Whose};
use crate::layout::Ornament;
use crate::lettering::Narrow;
use crate::plate::{border_edge, border_inner_edge, outline};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, LAYOUT, at_key, at_line};

/// White between an ornament and a head or a border line, at least, mm.
const WHITE_MM: f64 = 1.0;
/// How closely curves are followed where distances are measured, mm.
const ACCURACY_MM: f64 = 0.01;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = permissions(facts);
    found.extend(too_fine(facts));
    let corners: Vec<&Placed> = facts
        .decoration
        .iter()
        .filter(|placed| matches!(placed.stands, Stands::Corner(_)))
        .collect();
    let outlines: Vec<Vec<Point>> = corners.iter().map(|placed| points(placed)).collect();
    found.extend(over_edge(facts, &outlines));
    found.extend(at_border(facts, &outlines));
    found.extend(at_holes(facts, &corners, &outlines));
    found.extend(at_lettering(facts, &corners));
    found
}

/// A drawing of the user's own may be another's.
fn permissions(facts: &Facts<'_>) -> Vec<Finding> {
    let lines = facts.layout.lines.iter().enumerate();
    lines
        .filter_map(|(index, line)| {
            let Some(Ornament::Own(own)) = &line.ornament else { return None };
            own.permission.is_none().then(|| Finding {
                code: "emblem-without-permission",
                severity: Severity::Stop,
                scope: Scope::Photo,
                place: at_line(index, "emblem"),
                message: format!(
                    "Line {}: nothing is told of who allowed {} to be engraved. Ask its owner, \
                     and write who allowed it, when and how: permission = \"\u{2026}\".",
                    index + 1,
                    own.path
                ),
                measured: None,
                required: None,
                rule: "an emblem is engraved with its owner's permission".to_owned(),
                source: "it is not ours to give".to_owned(),
            })
        })
        .collect()
}

/// One kind of thing that may be too thin.
struct Kind {
    code: &'static str,
    what: &'static str,
    /// Whether the drawing can do without it.
    spared: bool,
}

const STROKE: Kind =
    Kind { code: "drawing-stroke-too-thin", what: "the thinnest stroke", spared: false };
const JOIN: Kind =
    Kind { code: "drawing-join-too-thin", what: "the thinnest join or tip", spared: true };
const COUNTER: Kind =
    Kind { code: "drawing-gap-too-narrow", what: "the narrowest ground inside it", spared: false };

/// Drawings against the cutter, as letters are. The four corners are alike.
fn too_fine(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(needs) = floors::needs(facts.layout) else { return Vec::new() };
    let mut found = Vec::new();
    for placed in facts.decoration {
        if let Stands::Corner(corner) = placed.stands
            && corner > 0
        {
            continue;
        }
        let Some(strokes) = placed.ornament.strokes() else {
            found.push(unmeasured(facts, placed));
            continue;
        };
        let stroke = judged(facts, placed, &STROKE, strokes.stroke, needs.stroke);
        // A join is thinner than the strokes: it matters only where they hold.
        if stroke.is_none() {
            found.extend(judged(facts, placed, &JOIN, strokes.join, needs.stroke));
        }
        found.extend(stroke);
        found.extend(judged(facts, placed, &COUNTER, strokes.counter, needs.ground));
    }
    found
}

/// A drawing that was not measured: nothing is known of it, and that is said.
fn unmeasured(facts: &Facts<'_>, placed: &Placed) -> Finding {
    let (place, name, ..) = what(facts, placed);
    Finding {
        code: "drawing-not-measured",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place,
        message: format!(
            "{name}: its outline is more than can be measured, so its strokes were not checked \
             against the cutter. Simplify the drawing, or look at it through a glass."
        ),
        measured: None,
        required: None,
        rule: "drawings and the cutter or least land".to_owned(),
        source: GEOMETRY.to_owned(),
    }
}

fn judged(
    facts: &Facts<'_>,
    placed: &Placed,
    kind: &Kind,
    thin: Option<Narrow>,
    need: Need,
) -> Option<Finding> {
    let width = thin?.width * placed.height;
    if width >= need.least - EQUAL_MM {
        return None;
    }
    let (place, name, key, now) = what(facts, placed);
    // Rounded up, so that what is printed does it.
    let holds = (now * need.least / width.max(1e-9) * 100.0).ceil() / 100.0;
    let least = fixed(need.least, 2);
    let wanted = match need.whose {
        Whose::Cutter => format!("the cutter makes nothing under {least} mm"),
        Whose::Layout => format!("{least} mm is the least land that the layout asks for"),
        Whose::Shop => format!("{least} mm is the least land of this shop"),
        Whose::Usual => format!("{least} mm, the width of the cut, is usual for land"),
    };
    let severity = if kind.spared || !need.binding() { Severity::Caution } else { Severity::Stop };
    let cure = if kind.spared {
        "It comes out blunt, or not at all.".to_owned()
    } else {
        format!("A {key} of {} mm, not {} mm, would do.", fixed(holds, 2), fixed(now, 2))
    };
    let message = format!("{name}: {} is {} mm wide; {wanted}. {cure}", kind.what, fixed(width, 3));
    Some(Finding {
        code: kind.code,
        severity,
        scope: Scope::Lettering,
        place,
        message,
        measured: Some(Quantity::mm(width)),
        required: Some(Quantity::mm(need.least)),
        rule: "drawings and the cutter or least land".to_owned(),
        source: match need.whose {
            Whose::Cutter => GEOMETRY,
            Whose::Layout => LAYOUT,
            Whose::Shop => "the shop's own figure",
            Whose::Usual => COMMON,
        }
        .to_owned(),
    })
}

/// Where a piece of decoration was asked for, what it is called, which key makes it larger
/// and what that is now, mm.
fn what(facts: &Facts<'_>, placed: &Placed) -> (Place, String, &'static str, f64) {
    match placed.stands {
        Stands::Line(index) => {
            let ornament = facts.layout.lines.get(index).and_then(|line| line.ornament.as_ref());
            let told = ornament.map_or("", Ornament::told);
            let name = format!("Line {}, {told}", index + 1);
            match ornament {
                Some(Ornament::Divider { kind, .. }) => {
                    // Less than was asked for where the plate has no room.
                    let weight = placed.height / kind.weights();
                    (at_line(index, "weight"), name, "weight", weight)
                }
                _ => (at_line(index, "height"), name, "height", placed.height),
            }
        }
        Stands::Corner(_) => {
            (at_key("corners"), "Ornaments in the corners".to_owned(), "size", placed.height)
        }
    }
}

/// The edge of a drawing in points.
fn points(placed: &Placed) -> Vec<Point> {
    let mut points = Vec::new();
    kurbo::flatten(placed.path.iter(), ACCURACY_MM, |element| {
        points.extend(element.end_point());
    });
    points
}

/// Least and greatest of what is measured at the points of all ornaments.
fn range(outlines: &[Vec<Point>], of: impl Fn(Point) -> f64) -> (f64, f64) {
    let all = outlines.iter().flatten().map(|point| of(*point));
    all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
        (least.min(one), most.max(one))
    })
}

fn corner_finding(
    code: &'static str,
    severity: Severity,
    message: String,
    (measured, required): (f64, f64),
    rule: &str,
) -> Finding {
    Finding {
        code,
        severity,
        scope: Scope::Lettering,
        place: at_key("corners"),
        message,
        measured: Some(Quantity::mm(measured)),
        required: Some(Quantity::mm(required)),
        rule: rule.to_owned(),
        source: if severity == Severity::Stop { GEOMETRY } else { COMMON }.to_owned(),
    }
}

fn over_edge(facts: &Facts<'_>, outlines: &[Vec<Point>]) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let edge = outline(plate);
    let (depth, _) = range(outlines, |point| edge.depth_of(point.x, point.y) - plate.bevel);
    (depth < -EQUAL_MM).then(|| {
        corner_finding(
            "ornament-over-edge",
            Severity::Stop,
            format!(
                "The ornaments in the corners reach {} mm over the flat of the plate. Give them \
                 more inset.",
                fixed(-depth, 2)
            ),
            (depth, 0.0),
            "what is engraved stands on the flat of the plate",
        )
    })
}

fn at_border(facts: &Facts<'_>, outlines: &[Vec<Point>]) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let (border, inner) = plate.border.zip(border_inner_edge(plate))?;
    let edge = border_edge(plate);
    let (near, far) = range(outlines, |point| edge.depth_of(point.x, point.y) - plate.bevel);
    let outer = border.inset - border.weight / 2.0;
    // White to the border, whether the ornaments stand inside it or outside.
    let white = (near - inner).max(outer - far);
    if !white.is_finite() || white >= WHITE_MM - EQUAL_MM {
        return None;
    }
    let over = white < -EQUAL_MM;
    let (code, severity) = if over {
        ("ornament-over-border", Severity::Stop)
    } else {
        ("ornament-near-border", Severity::Caution)
    };
    let message = format!(
        "Between border and ornaments in the corners are {} mm; at least {} mm keeps them apart.",
        fixed(white, 2),
        fixed(WHITE_MM, 1)
    );
    let rule = "white between border and ornaments";
    Some(corner_finding(code, severity, message, (white, WHITE_MM), rule))
}

fn at_holes(facts: &Facts<'_>, corners: &[&Placed], outlines: &[Vec<Point>]) -> Option<Finding> {
    let mut nearest: Option<(f64, usize)> = None;
    for (placed, outline) in corners.iter().zip(outlines) {
        for (index, hole) in facts.mount.holes.iter().enumerate() {
            let radius = hole.head_diameter.max(hole.clearance_diameter) / 2.0;
            let (across, down) = hole.travel();
            if !hole.through || radius <= 0.0 {
                continue;
            }
            let middle = Point::new(hole.x, hole.y);
            let distance = if placed.path.winding(middle) != 0 {
                0.0
            } else {
                // From chord to chord: the edge is never nearer than its points by more.
                let chords = outline.iter().map(|point| {
                    let dx = ((point.x - hole.x).abs() - across).max(0.0);
                    let dy = ((point.y - hole.y).abs() - down).max(0.0);
                    libm::hypot(dx, dy)
                });
                chords.chain(straight(placed, middle)).fold(f64::INFINITY, f64::min)
            };
            let white = distance - radius;
            if nearest.is_none_or(|(least, _)| white < least) {
                nearest = Some((white, index));
            }
        }
    }
    let (white, index) = nearest.filter(|(white, _)| *white < WHITE_MM - EQUAL_MM)?;
    let over = white < -EQUAL_MM;
    let (code, severity) = if over {
        ("ornament-under-head", Severity::Stop)
    } else {
        ("ornament-near-head", Severity::Caution)
    };
    let message = format!(
        "Hole {}: the ornament in its corner {}; {} mm keeps them apart. Move the holes, or give \
         the ornaments more inset.",
        index + 1,
        if over {
            format!("reaches {} mm under its head", fixed(-white, 2))
        } else {
            format!("stands {} mm from its head", fixed(white, 2))
        },
        fixed(WHITE_MM, 1)
    );
    let rule = "white between heads and ornaments";
    Some(corner_finding(code, severity, message, (white, WHITE_MM), rule))
}

/// Distances from a place to the straight sides of a drawing, whose points lie far apart.
fn straight(placed: &Placed, from: Point) -> impl Iterator<Item = f64> {
    placed.path.segments().filter_map(move |segment| {
        let kurbo::PathSeg::Line(line) = segment else { return None };
        let along = line.p1 - line.p0;
        let share = ((from - line.p0).dot(along) / along.hypot2()).clamp(0.0, 1.0);
        let off = line.p0 + along * share - from;
        Some(libm::hypot(off.x, off.y))
    })
}

/// The fit keeps rows out of the corners' zones; this measures what it placed.
fn at_lettering(facts: &Facts<'_>, corners: &[&Placed]) -> Option<Finding> {
    let gap = facts.layout.corners?.gap;
    let apart = |a: &Rect, b: &Rect| {
        let dx = (a.x0 - b.x1).max(b.x0 - a.x1);
        let dy = (a.y0 - b.y1).max(b.y0 - a.y1);
        dx.max(dy)
    };
    let rows = facts.fitted.rows.iter().filter(|row| row.has_ink());
    let white = rows
        .flat_map(|row| {
            corners.iter().map(move |placed| apart(&row.ink, &placed.path.bounding_box()))
        })
        .fold(f64::INFINITY, f64::min);
    (white < gap - EQUAL_MM).then(|| {
        corner_finding(
            "ornament-at-lettering",
            Severity::Stop,
            format!(
                "Between lettering and ornaments in the corners are {} mm; the layout asks for \
                 {} mm.",
                fixed(white, 2),
                fixed(gap, 2)
            ),
            (white, gap),
            "no ink in a clear zone",
        )
    })
}
