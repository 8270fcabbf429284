//! The plate and its holes on the trophy face.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::FaceShape;
use crate::mount::{FaceKind, FacePlan, face_row, least_depth};
use crate::plate::outline;
use crate::units::digits::{fixed, trimmed};
use crate::units::inch::nearest_64th;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_hole, at_key};

/// Fixing to the edge of visible wood, in shank diameters, and never less than this, mm.
const EDGE_SHANKS: f64 = 4.0;
const EDGE_MM: f64 = 6.0;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(plan) = &facts.mount.face else { return Vec::new() };
    let mut found: Vec<Finding> = from_face(facts, plan).into_iter().collect();
    found.extend(off_face(facts, plan));
    found.extend(on_trim(facts, plan));
    if let Some(fixing) = facts.mount.fixing.as_ref() {
        let kind = face_row(plan.face.material).kind;
        for (index, hole) in facts.mount.holes.iter().enumerate() {
            let Some(edge) = hole.face.and_then(|at| from_edge(plan, at)) else { continue };
            found.extend(near_edge(index, edge, fixing.shank, kind));
        }
    }
    found
}

/// A plate sized from its face; or none, where none has room there.
fn from_face(facts: &Facts<'_>, plan: &FacePlan) -> Option<Finding> {
    let asked = facts.layout.plate.from_face?;
    if !asked.none {
        return Some(sized(facts, plan, asked.reveal));
    }
    let what = if plan.recess.is_some() {
        "goes into the recess with its gap all round".to_owned()
    } else {
        format!("keeps {} mm all round on this face where it is to stand", fixed(asked.reveal, 2))
    };
    Some(Finding {
        code: "no-plate-on-face",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("plate.size"),
        message: format!("No plate of at least 5 mm a side {what}."),
        measured: None,
        required: Some(Quantity::mm(asked.reveal)),
        rule: "the plate keeps its reveal".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}

/// What the face gave.
fn sized(facts: &Facts<'_>, plan: &FacePlan, reveal: f64) -> Finding {
    let plate = &facts.layout.plate;
    let mm = |length: f64| format!("{} mm", trimmed(length, 2));
    let (size, step) = if facts.layout.inches {
        let inch = |length: f64| nearest_64th(length).text;
        (
            format!("{} x {}", inch(plate.width).trim_end_matches(" in"), inch(plate.height)),
            "eighths of an inch",
        )
    } else {
        (format!("{} x {}", trimmed(plate.width, 2), mm(plate.height)), "whole millimetres")
    };
    let room = match &plan.face.recess {
        Some(recess) => format!("goes into the recess with {} all round", mm(recess.gap)),
        None => format!("leaves {} all round", mm(reveal)),
    };
    Finding {
        code: "plate-from-face",
        severity: Severity::Note,
        scope: Scope::Mount,
        place: at_key("plate.size"),
        message: format!("The plate is {size}: the largest in {step} that {room}."),
        measured: None,
        required: None,
        rule: "size from the face".to_owned(),
        source: GEOMETRY.to_owned(),
    }
}

/// The plate over the edge of the face: side by side on a rectangle, which has sides.
fn off_face(facts: &Facts<'_>, plan: &FacePlan) -> Vec<Finding> {
    let (Some(edge), Some(told)) = (&plan.edge, &plan.face.edge) else { return Vec::new() };
    if plan.face.recess.is_some() {
        // What counts then is whether the plate goes into it, and it lies on the face.
        return Vec::new();
    }
    let plate = &facts.layout.plate;
    let finding = |room: f64, over: &str| Finding {
        code: "plate-off-face",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("face.place"),
        message: format!("The plate stands {} mm over the {over} of the face.", fixed(-room, 2)),
        measured: Some(Quantity::mm(room)),
        required: Some(Quantity::mm(0.0)),
        rule: "the whole plate lies on the face".to_owned(),
        source: GEOMETRY.to_owned(),
    };
    if told.shape == FaceShape::Rectangle {
        let sides = [
            ("left edge", plan.plate_x),
            ("top edge", plan.plate_y),
            ("right edge", told.width - plan.plate_x - plate.width),
            ("bottom edge", told.height - plan.plate_y - plate.height),
        ];
        let over = sides.into_iter().filter(|(_, room)| *room < -EQUAL_MM);
        return over.map(|(side, room)| finding(room, side)).collect();
    }
    let room = least_depth(&outline(plate), (plan.plate_x, plan.plate_y), edge);
    (room < -EQUAL_MM).then(|| finding(room, "edge")).into_iter().collect()
}

/// The plate on a moulding or trim, or nearer to it than its gap.
fn on_trim(facts: &Facts<'_>, plan: &FacePlan) -> Option<Finding> {
    let told = plan.face.trim.filter(|_| plan.face.recess.is_none())?;
    let finding = |code, severity, message, measured, required, rule: &str, source: &str| Finding {
        code,
        severity,
        scope: Scope::Mount,
        place: at_key("face.trim"),
        message,
        measured,
        required,
        rule: rule.to_owned(),
        source: source.to_owned(),
    };
    let Some(trim) = &plan.trim else {
        let message = "The trim covers the whole face: nothing is left for a plate.".to_owned();
        let rule = "the plate lies inside the trim";
        return Some(finding("plate-on-trim", Severity::Stop, message, None, None, rule, GEOMETRY));
    };
    let plate = &facts.layout.plate;
    let room = least_depth(&outline(plate), (plan.plate_x, plan.plate_y), trim);
    // Sides without trim are the face's own edge, which has its own finding.
    let on_edge = plan.edge.as_ref().map_or(f64::INFINITY, |edge| {
        least_depth(&outline(plate), (plan.plate_x, plan.plate_y), edge)
    });
    if on_edge < -EQUAL_MM {
        return None;
    }
    let measured = Some(Quantity::mm(room));
    if room < -EQUAL_MM {
        let message = format!("The plate stands {} mm on the trim of the face.", fixed(-room, 2));
        let rule = "the plate lies inside the trim";
        let required = Some(Quantity::mm(0.0));
        let code = "plate-on-trim";
        return Some(finding(code, Severity::Stop, message, measured, required, rule, GEOMETRY));
    }
    let near = plan.gap_room.as_ref().is_some_and(|gap| {
        least_depth(&outline(plate), (plan.plate_x, plan.plate_y), gap) < -EQUAL_MM
    });
    (near || plan.gap_room.is_none()).then(|| {
        let message = format!(
            "The plate comes within {} mm of the trim; {} mm look meant.",
            fixed(room.max(0.0), 2),
            fixed(told.gap, 2)
        );
        let rule = "a gap between plate and trim";
        let required = Some(Quantity::mm(told.gap));
        let code = "plate-near-trim";
        finding(code, Severity::Caution, message, measured, required, rule, COMMON)
    })
}

/// Distance from a point of the face to its edge, mm: below 0 off the face.
fn from_edge(plan: &FacePlan, (x, y): (f64, f64)) -> Option<f64> {
    let told = plan.face.edge.as_ref()?;
    if told.shape == FaceShape::Rectangle {
        return Some(x.min(y).min(told.width - x).min(told.height - y));
    }
    Some(plan.edge.as_ref()?.depth_of(x, y))
}

fn near_edge(index: usize, edge: f64, shank: f64, kind: FaceKind) -> Option<Finding> {
    let careful = EDGE_MM.max(EDGE_SHANKS * shank);
    let off = edge < shank / 2.0;
    (off || edge < careful - EQUAL_MM).then(|| Finding {
        code: if off { "hole-off-face" } else { "hole-near-edge" },
        severity: if off { Severity::Stop } else { Severity::Caution },
        scope: Scope::Mount,
        place: at_hole(index),
        message: format!(
            "Hole {}: its centre is {} mm from the edge of the face; {} mm keeps the {} from {}.",
            index + 1,
            fixed(edge, 2),
            fixed(careful, 2),
            kind.noun(),
            if kind == FaceKind::Wood { "splitting" } else { "breaking out" }
        ),
        measured: Some(Quantity::mm(edge)),
        required: Some(Quantity::mm(careful)),
        rule: "four shank diameters and at least 6 mm from the edge of visible wood".to_owned(),
        source: if off { GEOMETRY } else { COMMON }.to_owned(),
    })
}
