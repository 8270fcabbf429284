//! Holes and heads against the plate's edge, its border, its lettering and each other.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::AtHoles;
use crate::mount::Hole;
use crate::plate::{border_edge, border_inset_needed, outline};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_hole, at_key};

/// Hole centre to the plate's edge, in hole diameters.
const CENTRE_TO_EDGE: f64 = 2.0;
/// Metal left round a countersunk head, mm.
const ROUND_COUNTERSINK_MM: f64 = 1.5;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, hole) in facts.mount.holes.iter().enumerate() {
        found.extend(off_plate(facts, index, hole));
        found.extend(on_lettering(facts, index, hole));
    }
    found.extend(metal_left(facts));
    found.extend(spacing(facts));
    found.extend(against_border(facts));
    found
}

fn number(index: usize) -> usize {
    index + 1
}

/// Distance from a hole's centre to the plate's edge, mm; negative off the plate.
fn depth(facts: &Facts<'_>, hole: &Hole) -> f64 {
    outline(&facts.layout.plate).depth_of(hole.x, hole.y)
}

fn off_plate(facts: &Facts<'_>, index: usize, hole: &Hole) -> Option<Finding> {
    let depth = depth(facts, hole);
    let (code, what, required) = if depth < hole.clearance_diameter / 2.0 + EQUAL_MM {
        ("hole-off-plate", "hole", hole.clearance_diameter / 2.0)
    } else if depth < hole.head_diameter / 2.0 - EQUAL_MM {
        ("head-off-plate", "screw head", hole.head_diameter / 2.0)
    } else {
        return None;
    };
    Some(Finding {
        code,
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_hole(index),
        message: format!(
            "Hole {}: its centre is {} mm from the plate's edge; the {what} needs {} mm and would break out.",
            number(index),
            fixed(depth, 2),
            fixed(required, 2)
        ),
        measured: Some(Quantity::mm(depth)),
        required: Some(Quantity::mm(required)),
        rule: "holes and heads lie on the plate".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}

/// Metal outside hole and head; one finding for all holes, at the worst.
fn metal_left(facts: &Facts<'_>) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let countersunk = facts.mount.fixing.as_ref().is_some_and(|f| f.cone_depth.is_some());
    let worst = facts
        .mount
        .holes
        .iter()
        .enumerate()
        .filter(|(index, hole)| off_plate(facts, *index, hole).is_none())
        .map(|(index, hole)| {
            let around_hole = CENTRE_TO_EDGE * hole.clearance_diameter;
            let head = hole.head_diameter / 2.0;
            let around_head = head
                + if countersunk {
                    ROUND_COUNTERSINK_MM.max(plate.thickness)
                } else {
                    plate.thickness
                };
            // A bevel takes metal from under a head: it starts further in.
            let required = around_hole.max(around_head).max(plate.bevel + head);
            (index, depth(facts, hole), required)
        })
        .min_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)))?;
    let (index, depth, required) = worst;
    (depth < required - EQUAL_MM).then(|| Finding {
        code: "little-metal-at-hole",
        severity: Severity::Caution,
        scope: Scope::Mount,
        place: at_key("mount.inset"),
        message: format!(
            "Hole {}: its centre is {} mm from the plate's edge; {} mm would leave enough metal outside it.",
            number(index),
            fixed(depth, 2),
            fixed(required, 2)
        ),
        measured: Some(Quantity::mm(depth)),
        required: Some(Quantity::mm(required)),
        rule: "hole centre at least two hole diameters from the edge, one plate thickness of metal outside the head (1.5 mm round a countersink), head off the bevel"
            .to_owned(),
        source: COMMON.to_owned(),
    })
}

fn spacing(facts: &Facts<'_>) -> Vec<Finding> {
    let holes = &facts.mount.holes;
    let mut found = Vec::new();
    for (index, hole) in holes.iter().enumerate() {
        for (other_index, other) in holes.iter().enumerate().skip(index + 1) {
            let distance = libm::hypot(hole.x - other.x, hole.y - other.y);
            let touching = (hole.head_diameter + other.head_diameter) / 2.0;
            let careful = touching.max(CENTRE_TO_EDGE * 2.0 * hole.clearance_diameter);
            let (code, severity, required) = if distance < touching - EQUAL_MM {
                ("holes-overlap", Severity::Stop, touching)
            } else if distance < careful - EQUAL_MM {
                ("holes-close", Severity::Caution, careful)
            } else {
                continue;
            };
            found.push(Finding {
                code,
                severity,
                scope: Scope::Mount,
                place: at_hole(other_index),
                message: format!(
                    "Holes {} and {} are {} mm apart; their heads need {} mm.",
                    number(index),
                    number(other_index),
                    fixed(distance, 2),
                    fixed(required, 2)
                ),
                measured: Some(Quantity::mm(distance)),
                required: Some(Quantity::mm(required)),
                rule: if severity == Severity::Stop {
                    "heads do not overlap".to_owned()
                } else {
                    "hole centres at least four hole diameters apart".to_owned()
                },
                source: if severity == Severity::Stop { GEOMETRY } else { COMMON }.to_owned(),
            });
        }
    }
    found
}

/// Ink is kept out of clear zones by the fit; this measures what was placed.
fn on_lettering(facts: &Facts<'_>, index: usize, hole: &Hole) -> Option<Finding> {
    let nearest = facts
        .fitted
        .rows
        .iter()
        .filter(|row| !row.glyphs.is_empty())
        .map(|row| {
            let dx = (row.ink.x0 - hole.x).max(hole.x - row.ink.x1).max(0.0);
            let dy = (row.ink.y0 - hole.y).max(hole.y - row.ink.y1).max(0.0);
            libm::hypot(dx, dy)
        })
        .fold(f64::INFINITY, f64::min);
    let required = hole.clear_zone_radius;
    (nearest < required - EQUAL_MM).then(|| Finding {
        code: "ink-at-hole",
        severity: Severity::Stop,
        scope: Scope::Lettering,
        place: at_hole(index),
        message: format!(
            "Hole {}: the nearest lettering is {} mm from its centre; its head and clearance need {} mm.",
            number(index),
            fixed(nearest, 2),
            fixed(required, 2)
        ),
        measured: Some(Quantity::mm(nearest)),
        required: Some(Quantity::mm(required)),
        rule: "no ink in a clear zone".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}

/// A border that runs inside the holes must clear their heads, and the white round
/// them: where it does not, it is drawn interrupted.
fn against_border(facts: &Facts<'_>) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let border = plate.border.filter(|border| border.at_holes == AtHoles::HolesOutside)?;
    let needed = border_inset_needed(plate, facts.zones)?;
    if border.inset >= needed - EQUAL_MM {
        return None;
    }
    let outer_edge = plate.bevel + border.inset - border.weight / 2.0;
    // Outside the line's outer edge a head's centre has a negative depth.
    let over = border_edge(plate).inset(outer_edge).is_some_and(|edge| {
        let mut holes = facts.mount.holes.iter();
        holes.any(|hole| edge.depth_of(hole.x, hole.y) > EQUAL_MM - hole.head_diameter / 2.0)
    });
    Some(Finding {
        code: if over { "head-over-border" } else { "border-near-head" },
        severity: if over { Severity::Stop } else { Severity::Caution },
        scope: Scope::Mount,
        place: at_key("plate.border"),
        message: format!(
            "The border is to run inside the holes, but at an inset of {} mm it {}: {} mm would clear them.",
            fixed(border.inset, 2),
            if over { "runs under their heads" } else { "comes too near their heads" },
            fixed(needed, 2)
        ),
        measured: Some(Quantity::mm(border.inset)),
        required: Some(Quantity::mm(needed)),
        rule: "holes stand outside the border, clear of it".to_owned(),
        source: if over { GEOMETRY } else { COMMON }.to_owned(),
    })
}
