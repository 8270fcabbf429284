//! Photographs against the plate's edge, its margin and border, holes, each other, ornaments
//! and lettering.

use kurbo::{ParamCurveNearest, PathEl, Point, Rect, Shape};

use crate::decoration::Stands;
use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::photo::PlacedPhoto;
use crate::plate::{border_edge, border_inner_edge, outline};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key};

/// How closely outlines are followed where distances are measured, mm.
const ACCURACY_MM: f64 = 0.01;
/// How far apart points along an edge are looked at, mm.
const APART_MM: f64 = 0.2;
/// White between a photograph and a head, at least, mm.
const WHITE_MM: f64 = 1.0;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for placed in facts.photos {
        let points = points(placed);
        found.extend(at_edge(facts, placed, &points));
        found.extend(at_border(facts, placed, &points));
        found.extend(at_holes(facts, placed));
        found.extend(at_ornaments(facts, placed));
        found.extend(at_lettering(facts, placed, &points));
    }
    found.extend(at_each_other(facts));
    found
}

/// Points along the edges of photograph, frame and credit, at most [`APART_MM`] apart, corners
/// among them: two things may meet between the corners of both.
fn points(placed: &PlacedPhoto) -> Vec<Point> {
    let (mut points, mut last) = (Vec::new(), Point::ZERO);
    for path in placed.edges() {
        let mut first = Point::ZERO;
        kurbo::flatten(path.iter(), ACCURACY_MM, |element| {
            let to = match element {
                PathEl::MoveTo(at) => {
                    (first, last) = (at, at);
                    at
                }
                PathEl::ClosePath => first,
                other => other.end_point().unwrap_or(last),
            };
            let mut walked = 0.0;
            let length = last.distance(to);
            while walked < length {
                points.push(last.lerp(to, walked / length));
                walked += APART_MM;
            }
            points.push(to);
            last = to;
        });
    }
    points
}

/// What is wrong, in its words.
struct Wrong {
    code: &'static str,
    severity: Severity,
    message: String,
    /// What was measured and what was required, mm.
    white: (f64, f64),
    rule: &'static str,
}

impl Wrong {
    fn finding(self, facts: &Facts<'_>, placed: &PlacedPhoto) -> Finding {
        let path = facts.layout.photos.get(placed.index).map_or("", |photo| &photo.path);
        Finding {
            code: self.code,
            severity: self.severity,
            scope: Scope::Photo,
            place: at_key(&format!("photo.{}", placed.index + 1)),
            message: format!("The photograph {path} {}", self.message),
            measured: Some(Quantity::mm(self.white.0)),
            required: Some(Quantity::mm(self.white.1)),
            rule: self.rule.to_owned(),
            source: if self.severity == Severity::Stop { GEOMETRY } else { COMMON }.to_owned(),
        }
    }
}

fn at_edge(facts: &Facts<'_>, placed: &PlacedPhoto, points: &[Point]) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let edge = outline(plate);
    let depth = points.iter().map(|point| edge.depth_of(point.x, point.y) - plate.bevel);
    let depth = depth.fold(f64::INFINITY, f64::min);
    if depth >= plate.margin - EQUAL_MM {
        return None;
    }
    let wrong = if depth < -EQUAL_MM {
        Wrong {
            code: "photo-over-edge",
            severity: Severity::Stop,
            message: format!(
                "reaches {} mm over the flat of the plate. Make it smaller, or move it.",
                fixed(-depth, 2)
            ),
            white: (depth, 0.0),
            rule: "what is on the plate stands on its flat",
        }
    } else {
        Wrong {
            code: "photo-in-margin",
            severity: Severity::Caution,
            message: format!(
                "stands {} mm from the edge, within the margin of {} mm.",
                fixed(depth, 2),
                fixed(plate.margin, 2)
            ),
            white: (depth, plate.margin),
            rule: "photographs keep the margin",
        }
    };
    Some(wrong.finding(facts, placed))
}

fn at_border(facts: &Facts<'_>, placed: &PlacedPhoto, points: &[Point]) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let inner = border_inner_edge(plate)?;
    let edge = border_edge(plate);
    let near = points.iter().map(|point| edge.depth_of(point.x, point.y) - plate.bevel);
    let white = near.fold(f64::INFINITY, f64::min) - inner;
    (white < -EQUAL_MM).then(|| {
        Wrong {
            code: "photo-over-border",
            severity: Severity::Stop,
            message: format!(
                "reaches {} mm over the border. Make it smaller, or move it inwards.",
                fixed(-white, 2)
            ),
            white: (white, 0.0),
            rule: "photograph and border do not meet",
        }
        .finding(facts, placed)
    })
}

/// Least distance from a point to the edge of a photograph or its credit; below 0 inside one.
fn beyond(placed: &PlacedPhoto, point: Point) -> f64 {
    let near = placed.edges().map(|edge| {
        let near = edge.segments().map(|segment| segment.nearest(point, ACCURACY_MM / 10.0));
        let distance = near.map(|near| near.distance_sq).fold(f64::INFINITY, f64::min).sqrt();
        if edge.contains(point) { -distance } else { distance }
    });
    near.fold(f64::INFINITY, f64::min)
}

fn at_holes(facts: &Facts<'_>, placed: &PlacedPhoto) -> Option<Finding> {
    let white = facts.mount.holes.iter().enumerate().filter(|(_, hole)| hole.through);
    let white = white.map(|(index, hole)| {
        let radius = hole.head_diameter.max(hole.clearance_diameter) / 2.0;
        let (across, down) = hole.travel();
        let ends = [(-across, -down), (across, down)];
        let near = ends.map(|(x, y)| beyond(placed, Point::new(hole.x + x, hole.y + y)));
        (near[0].min(near[1]) - radius, index)
    });
    let (white, index) = white.min_by(|one, other| one.0.total_cmp(&other.0))?;
    if white >= WHITE_MM - EQUAL_MM {
        return None;
    }
    let over = white < -EQUAL_MM;
    let wrong = Wrong {
        code: if over { "photo-under-head" } else { "photo-near-head" },
        severity: if over { Severity::Stop } else { Severity::Caution },
        message: format!(
            "{} of hole {}; {} mm keeps them apart. Make it smaller, move it, or move the hole.",
            if over {
                format!("reaches {} mm under the head", fixed(-white, 2))
            } else {
                format!("stands {} mm from the head", fixed(white, 2))
            },
            index + 1,
            fixed(WHITE_MM, 1)
        ),
        white: (white, WHITE_MM),
        rule: "white between heads and photographs",
    };
    Some(wrong.finding(facts, placed))
}

/// White between the boxes of two things, mm; below 0 where they overlap.
fn apart(one: Rect, other: Rect) -> f64 {
    let dx = (one.x0 - other.x1).max(other.x0 - one.x1);
    let dy = (one.y0 - other.y1).max(other.y0 - one.y1);
    dx.max(dy)
}

fn taken(placed: &PlacedPhoto) -> Rect {
    let [left, top, right, bottom] = placed.taken;
    Rect::new(left, top, right, bottom)
}

fn at_ornaments(facts: &Facts<'_>, placed: &PlacedPhoto) -> Option<Finding> {
    let corners = facts.decoration.iter().filter(|one| matches!(one.stands, Stands::Corner(_)));
    let white = corners.map(|one| apart(one.path.bounding_box(), taken(placed)));
    let white = white.fold(f64::INFINITY, f64::min);
    (white < -EQUAL_MM).then(|| {
        Wrong {
            code: "photo-over-ornament",
            severity: Severity::Stop,
            message: format!(
                "reaches {} mm into the square of an ornament in a corner. Make one of them \
                 smaller, or move the photograph.",
                fixed(-white, 2)
            ),
            white: (white, 0.0),
            rule: "photographs and ornaments do not meet",
        }
        .finding(facts, placed)
    })
}

/// The fit keeps rows out of the zones of photographs; this measures what it placed.
fn at_lettering(facts: &Facts<'_>, placed: &PlacedPhoto, points: &[Point]) -> Option<Finding> {
    let gap = facts.layout.photos.get(placed.index)?.gap;
    let rows = facts.fitted.rows.iter().filter(|row| row.has_ink());
    let near = rows.map(|row| {
        let ink = row.ink;
        // A row may lie wholly inside a photograph.
        let inside = beyond(placed, ink.center()).max(0.0);
        let to = points.iter().map(|point| {
            let dx = (ink.x0 - point.x).max(point.x - ink.x1).max(0.0);
            let dy = (ink.y0 - point.y).max(point.y - ink.y1).max(0.0);
            libm::hypot(dx, dy)
        });
        to.fold(inside, f64::min)
    });
    let white = near.fold(f64::INFINITY, f64::min);
    (white < gap - EQUAL_MM - ACCURACY_MM).then(|| {
        Wrong {
            code: "photo-at-lettering",
            severity: Severity::Stop,
            message: format!(
                "stands {} mm from lettering; the layout asks for {} mm.",
                fixed(white, 2),
                fixed(gap, 2)
            ),
            white: (white, gap),
            rule: "no ink in a clear zone",
        }
        .finding(facts, placed)
    })
}

fn at_each_other(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, placed) in facts.photos.iter().enumerate() {
        // Of two that meet, the edge of one runs inside the other.
        let into = |one: &PlacedPhoto, other: &PlacedPhoto| {
            points(one).into_iter().map(|point| beyond(other, point)).fold(f64::INFINITY, f64::min)
        };
        let before = facts.photos.iter().take(index);
        let near = before.filter(|other| apart(taken(placed), taken(other)) < 0.0);
        let white = near.map(|other| into(placed, other).min(into(other, placed)));
        let white = white.fold(f64::INFINITY, f64::min);
        if white < -EQUAL_MM {
            let wrong = Wrong {
                code: "photo-over-photo",
                severity: Severity::Stop,
                message: format!(
                    "reaches {} mm into another. Make one of them smaller, or move it.",
                    fixed(-white, 2)
                ),
                white: (white, 0.0),
                rule: "photographs do not meet",
            };
            found.push(wrong.finding(facts, placed));
        }
    }
    found
}
