//! How far a fixing reaches: its point and its bore against the face, what it holds by.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::{FixingAsked, Into};
use crate::mount::{Bore, Bored, Depth, FaceKind, Fixing, face_row};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key};

/// What must stay whole beyond a fixing's point, mm.
const BEYOND_MM: f64 = 3.0;

pub(super) fn findings(facts: &Facts<'_>, fixing: &Fixing) -> Vec<Finding> {
    let behind = facts.layout.face.as_ref().and_then(|face| {
        Some(Behind { kind: face_row(face.material).kind, thickness: face.thickness? })
    });
    let on_face = behind.map_or_else(Vec::new, |behind| {
        vec![
            through(facts, fixing, behind),
            insert(facts, behind),
            bored_through(fixing, behind),
            out_behind(facts, fixing, behind),
            nut(facts, fixing, behind),
        ]
    });
    on_face.into_iter().chain([hold(facts, fixing, behind)]).flatten().collect()
}

fn finding(code: &'static str, severity: Severity, message: String) -> Finding {
    Finding {
        code,
        severity,
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message,
        measured: None,
        required: None,
        rule: String::new(),
        source: GEOMETRY.to_owned(),
    }
}

/// What is behind the plate.
#[derive(Clone, Copy)]
struct Behind {
    kind: FaceKind,
    /// mm.
    thickness: f64,
}

/// The point of what ends blind in the face. Past a thin skin over a hollow it harms
/// nothing; that nothing holds it there either is for [`hold`] to say.
fn through(facts: &Facts<'_>, fixing: &Fixing, face: Behind) -> Option<Finding> {
    if fixing.bore(Bored::Tap).or_else(|| fixing.bore(Bored::Clearance)).is_some()
        || face.kind == FaceKind::Hollow
    {
        return None;
    }
    let kind = face.kind;
    let penetration = fixing.penetration(facts.layout.plate.thickness);
    let most = face.thickness - BEYOND_MM;
    let longest = most + (fixing.length - penetration);
    let noun = kind.noun();
    let code = match kind {
        FaceKind::Wood | FaceKind::Veneered => "screw-through-wood",
        _ => "screw-through-face",
    };
    (penetration > most + EQUAL_MM).then(|| Finding {
        measured: Some(Quantity::mm(penetration)),
        required: Some(Quantity::mm(most)),
        rule: format!("3 mm of {noun} stay whole beyond the point"),
        ..finding(
            code,
            Severity::Stop,
            format!(
                "The {} goes {} mm into {noun} that is {} mm thick; it may go {} mm. {}",
                fixing.name,
                fixed(penetration, 2),
                fixed(face.thickness, 2),
                fixed(most.max(0.0), 2),
                if longest > 0.0 {
                    format!("A length of up to {} mm would do.", fixed(longest, 1))
                } else {
                    format!("The {} is too thin for any of this kind.", kind.noun())
                }
            ),
        )
    })
}

/// An insert longer than the face is thick.
fn insert(facts: &Facts<'_>, face: Behind) -> Option<Finding> {
    let Some(FixingAsked::MachineScrew { into: Into::Insert { depth, .. }, .. }) =
        facts.layout.mount.fixing
    else {
        return None;
    };
    (depth > face.thickness + EQUAL_MM).then(|| Finding {
        measured: Some(Quantity::mm(depth)),
        required: Some(Quantity::mm(face.thickness)),
        rule: "an insert is no longer than the face is thick".to_owned(),
        ..finding(
            "insert-too-long",
            Severity::Stop,
            format!(
                "The insert is {} mm long, the {} {} mm thick: it would stand out behind. Take a shorter insert, or a nut behind.",
                fixed(depth, 2),
                face.kind.noun(),
                fixed(face.thickness, 2)
            ),
        )
    })
}

/// A blind hole whose drill comes out behind, though what goes into it would not; behind
/// a skin nobody sees it.
fn bored_through(fixing: &Fixing, face: Behind) -> Option<Finding> {
    if face.kind == FaceKind::Hollow {
        return None;
    }
    let blind = fixing.bores.iter().filter(|bore| matches!(bore.depth, Depth::FullWidth(_)));
    let deepest = blind.filter_map(Bore::stop).reduce(f64::max)?;
    (deepest > face.thickness - EQUAL_MM).then(|| Finding {
        measured: Some(Quantity::mm(deepest)),
        required: Some(Quantity::mm(face.thickness)),
        rule: "a blind hole ends inside the face, the drill's point too".to_owned(),
        ..finding(
            "hole-through-face",
            Severity::Stop,
            format!(
                "The hole for the {} is drilled {} mm deep, point and all, into {} that is {} mm thick: it would come out behind. Take something shorter.",
                fixing.name,
                fixed(deepest, 2),
                face.kind.noun(),
                fixed(face.thickness, 2)
            ),
        )
    })
}

/// A screw in a thread cut right through that shows behind, or far past its nut.
fn out_behind(facts: &Facts<'_>, fixing: &Fixing, face: Behind) -> Option<Finding> {
    let nut = fixing.bore(Bored::Clearance).is_some();
    if !nut && fixing.bore(Bored::Tap).is_none() {
        return None;
    }
    let behind = face.thickness + fixing.behind;
    let out = fixing.penetration(facts.layout.plate.thickness) - behind;
    (out > fixing.past_nut + EQUAL_MM).then(|| Finding {
        measured: Some(Quantity::mm(out)),
        required: Some(Quantity::mm(fixing.past_nut)),
        rule: if nut {
            "a screw ends a few pitches past its nut, or with the next length that is sold"
        } else {
            "a screw ends inside the face"
        }
        .to_owned(),
        source: COMMON.to_owned(),
        ..finding(
            "screw-out-behind",
            Severity::Caution,
            format!(
                "The {} stands {} mm out behind {}: take it shorter where the back shows or is touched.",
                fixing.name,
                fixed(out, 2),
                if nut { "its nut".to_owned() } else { format!("the {}", face.kind.noun()) }
            ),
        )
    })
}

/// A screw too short for plate, face, washer and nut.
fn nut(facts: &Facts<'_>, fixing: &Fixing, face: Behind) -> Option<Finding> {
    let required = facts.layout.plate.thickness + face.thickness + fixing.behind;
    (fixing.behind > 0.0 && fixing.length < required - EQUAL_MM).then(|| Finding {
        measured: Some(Quantity::mm(fixing.length)),
        required: Some(Quantity::mm(required)),
        rule: "the screw reaches through plate, face, washer and nut".to_owned(),
        source: fixing.bores.first().map_or_else(String::new, |bore| bore.rule.clone()),
        ..finding(
            "too-short-for-nut",
            Severity::Stop,
            format!(
                "The {} is too short for its nut: plate, face, washer and nut are {} mm thick together. A length of {} mm or more would do.",
                fixing.name,
                fixed(required, 2),
                fixed(required.ceil(), 0)
            ),
        )
    })
}

/// How much of a fixing is held, mm, and by what where that is less than goes in: a thread
/// by no more than the face it is cut in, a screw in an insert by no more than the insert,
/// all that is in a skin by the skin.
fn held(facts: &Facts<'_>, fixing: &Fixing, behind: Option<Behind>) -> (f64, Option<&'static str>) {
    let penetration = fixing.penetration(facts.layout.plate.thickness);
    let limit = match (facts.layout.mount.fixing, behind) {
        (Some(FixingAsked::MachineScrew { into: Into::Insert { depth, .. }, .. }), _) => {
            Some((depth, "insert"))
        }
        (_, Some(face)) if fixing.bore(Bored::Tap).is_some() || face.kind == FaceKind::Hollow => {
            Some((face.thickness, face.kind.noun()))
        }
        _ => None,
    };
    match limit {
        Some((most, by)) if most < penetration - EQUAL_MM => (most, Some(by)),
        _ => (penetration, None),
    }
}

fn hold(facts: &Facts<'_>, fixing: &Fixing, behind: Option<Behind>) -> Option<Finding> {
    let (held, by) = held(facts, fixing, behind);
    let (required, rule) = fixing.least_hold?;
    if held >= required - EQUAL_MM {
        return None;
    }
    let none = held <= 0.0;
    let message = match by {
        Some(by) => format!(
            "The {} is held by {} mm of {by} only; {} mm is the least that holds.",
            fixing.name,
            fixed(held, 2),
            fixed(required, 2)
        ),
        None => format!(
            "The {} goes {} mm into what is behind the plate; {} mm is the least that holds.",
            fixing.name,
            fixed(held.max(0.0), 2),
            fixed(required, 2)
        ),
    };
    let (code, severity) = if none {
        ("fixing-too-short", Severity::Stop)
    } else {
        ("little-hold", Severity::Caution)
    };
    Some(Finding {
        measured: Some(Quantity::mm(held)),
        required: Some(Quantity::mm(required)),
        rule: rule.to_owned(),
        source: if none { GEOMETRY } else { COMMON }.to_owned(),
        ..finding(code, severity, message)
    })
}
