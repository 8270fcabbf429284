//! Holes and heads against the plate's edge, its border, its lettering and each other.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::{AtHoles, HolesAsked};
use crate::mount::{Hole, metal_needed};
use crate::plate::{Outline, border_edge, border_inset_needed, outline};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_hole, at_key};

/// Hole centres from each other, in hole diameters.
const CENTRES_APART: f64 = 4.0;

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

/// Distance from a hole's centre to the plate's edge, mm; negative off the plate. Of a
/// slot that from the nearer centre of its two ends, as far as a head comes.
fn depth(facts: &Facts<'_>, hole: &Hole) -> f64 {
    deepest_out(&outline(&facts.layout.plate), hole)
}

/// The least depth in an outline of the centres between which a hole's head travels.
fn deepest_out(edge: &Outline, hole: &Hole) -> f64 {
    let (across, down) = hole.travel();
    let one = edge.depth_of(hole.x - across, hole.y - down);
    one.min(edge.depth_of(hole.x + across, hole.y + down))
}

/// As [`deepest_out`], the greatest depth.
fn deepest_in(edge: &Outline, hole: &Hole) -> f64 {
    let (across, down) = hole.travel();
    let one = edge.depth_of(hole.x - across, hole.y - down);
    one.max(edge.depth_of(hole.x + across, hole.y + down))
}

/// Between the nearest centres of two holes, mm: of slots those of their ends. All
/// slots of a plate run the same way.
fn apart(hole: &Hole, other: &Hole) -> f64 {
    let (one, two) = (hole.travel(), other.travel());
    let dx = ((hole.x - other.x).abs() - one.0 - two.0).max(0.0);
    let dy = ((hole.y - other.y).abs() - one.1 - two.1).max(0.0);
    libm::hypot(dx, dy)
}

fn off_plate(facts: &Facts<'_>, index: usize, hole: &Hole) -> Option<Finding> {
    let depth = depth(facts, hole);
    let (code, what, required) = if depth < hole.clearance_diameter / 2.0 + EQUAL_MM {
        (
            "hole-off-plate",
            if hole.through { "hole" } else { "stud" },
            hole.clearance_diameter / 2.0,
        )
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
    let required = metal_needed(facts.mount.fixing.as_ref()?, &facts.layout.plate);
    let worst = facts
        .mount
        .holes
        .iter()
        .enumerate()
        .filter(|(index, hole)| hole.through && off_plate(facts, *index, hole).is_none())
        .map(|(index, hole)| (index, depth(facts, hole)))
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (index, depth) = worst;
    // Points and a circle of holes do not count from the edges.
    let key = match facts.mount.set.set {
        HolesAsked::Circle { .. } | HolesAsked::Points(_) => "mount.holes",
        _ => "mount.inset",
    };
    (depth < required - EQUAL_MM).then(|| Finding {
        code: "little-metal-at-hole",
        severity: Severity::Caution,
        scope: Scope::Mount,
        place: at_key(key),
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
            let distance = apart(hole, other);
            let touching = (hole.head_diameter + other.head_diameter) / 2.0;
            let careful = touching.max(CENTRES_APART * hole.clearance_diameter);
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
        .filter(|row| row.has_ink())
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
        holes.any(|hole| deepest_in(&edge, hole) > EQUAL_MM - hole.head_diameter / 2.0)
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
