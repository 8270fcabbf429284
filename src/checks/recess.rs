//! The plate in a recess of the face.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::Recess;
use crate::mount::{FacePlan, least_depth};
use crate::plate::outline;
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key};

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(plan) = &facts.mount.face else { return Vec::new() };
    let Some(recess) = &plan.face.recess else { return Vec::new() };
    [off_face(plan), too_tight(facts, plan, recess), depth(facts, recess)]
        .into_iter()
        .flatten()
        .collect()
}

/// A recess that is told to reach over the edge of the face.
fn off_face(plan: &FacePlan) -> Option<Finding> {
    let (edge, recess) = (plan.edge.as_ref()?, plan.recess.as_ref()?);
    let room = least_depth(&recess.outline, (recess.x, recess.y), edge);
    (room < -EQUAL_MM).then(|| Finding {
        code: "recess-off-face",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("face.recess"),
        message: format!(
            "The recess reaches {} mm over the edge of the face: measure both again.",
            fixed(-room, 2)
        ),
        measured: Some(Quantity::mm(room)),
        required: Some(Quantity::mm(0.0)),
        rule: "a recess lies on its face".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}

/// A plate that does not go in, or goes in with less than its gap.
fn too_tight(facts: &Facts<'_>, plan: &FacePlan, told: &Recess) -> Option<Finding> {
    let recess = plan.recess.as_ref()?;
    let plate = &facts.layout.plate;
    let room = least_depth(&outline(plate), (plan.plate_x, plan.plate_y), recess);
    if room >= told.gap - EQUAL_MM {
        return None;
    }
    let not_in = room < -EQUAL_MM;
    let sides = (told.width - plate.width).min(told.height - plate.height) / 2.0;
    let where_ = if sides >= told.gap - EQUAL_MM { ", at its corners" } else { "" };
    let message = if not_in {
        format!(
            "The plate does not go into the recess: it is {} mm too large a side{where_}.",
            fixed(-room, 2)
        )
    } else {
        format!(
            "The plate has {} mm all round in the recess{where_}; {} mm let it go in.",
            fixed(room.max(0.0), 2),
            fixed(told.gap, 2)
        )
    };
    Some(Finding {
        code: if not_in { "plate-not-in-recess" } else { "plate-tight-in-recess" },
        severity: if not_in { Severity::Stop } else { Severity::Caution },
        scope: Scope::Mount,
        place: at_key("face.recess"),
        message,
        measured: Some(Quantity::mm(room)),
        required: Some(Quantity::mm(told.gap)),
        rule: "the plate is smaller than its recess by the fit gap all round".to_owned(),
        source: if not_in { GEOMETRY } else { COMMON }.to_owned(),
    })
}

/// How the plate's front lies to the face.
fn depth(facts: &Facts<'_>, told: &Recess) -> Option<Finding> {
    let plate = &facts.layout.plate;
    let proud = plate.thickness - told.depth;
    let how = if proud.abs() <= EQUAL_MM {
        "lies level with the face".to_owned()
    } else if proud > 0.0 {
        format!("stands {} mm proud of the face", fixed(proud, 2))
    } else {
        format!("lies {} mm below the face", fixed(-proud, 2))
    };
    Some(Finding {
        code: "recess-depth",
        severity: Severity::Note,
        scope: Scope::Mount,
        place: at_key("face.recess"),
        message: format!(
            "The plate is {} mm thick, the recess {} mm deep: it {how}; what holds it behind comes \
             on top.",
            fixed(plate.thickness, 2),
            fixed(told.depth, 2)
        ),
        measured: Some(Quantity::mm(plate.thickness)),
        required: Some(Quantity::mm(told.depth)),
        rule: "thickness of the plate against the depth of its recess".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}
