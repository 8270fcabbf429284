//! Holes that are already in the face: hidden or not, used again, in the drill's way.

use crate::finding::{Finding, Place, Quantity, Scope, Severity};
use crate::mount::{
    Beside, Bored, FaceKind, OldHolePlan, Reused, face_row, largest_reused, old_holes,
};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY};

/// How far a plate should reach past an old hole's rim, mm: less shows at the first
/// slip, or when the wood shrinks.
const COVER_MM: f64 = 1.0;

/// What to do about a hole in the way, in wood and board, and in what takes no plug.
const PLUG: &str = "Plug it first: glue in a plug or dowel of hardwood, let it set, then drill.";
const MOVE: &str = "Move the plate.";

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    let Some(face) = &facts.layout.face else { return found };
    let kind = face_row(face.material).kind;
    for (index, old) in old_holes(facts.layout, facts.mount).iter().enumerate() {
        found.extend(old.beside.and_then(|beside| too_near(kind, index, old, beside)));
        found.extend(old.reused.map(|reused| used_again(facts, kind, index, old, reused)));
        found.extend(shows(index, old));
    }
    found
}

/// The place of an old hole, and of a new one where it is about one.
fn at(index: usize, hole: Option<usize>) -> Place {
    Place { line: None, hole, key: format!("face.old_holes.{}", index + 1) }
}

fn finding(code: &'static str, severity: Severity, place: Place, message: String) -> Finding {
    Finding {
        code,
        severity,
        scope: Scope::Mount,
        place,
        message,
        measured: None,
        required: None,
        rule: String::new(),
        source: COMMON.to_owned(),
    }
}

/// A new bore that would run off into an old hole, or into the seam of a plug.
fn too_near(kind: FaceKind, index: usize, old: &OldHolePlan, beside: Beside) -> Option<Finding> {
    let (number, hole) = (index + 1, beside.hole + 1);
    let place = at(index, Some(beside.hole));
    let measured = Some(Quantity::mm(beside.wood));
    if old.plugged {
        // Glued wood is wood; only the glue line itself draws the drill.
        if beside.wood >= 0.0 {
            return None;
        }
        let message = format!(
            "Hole {hole} is drilled into the edge of the plug in old hole O{number}: mark it with \
             an awl and drill slowly, the seam draws the drill."
        );
        let rule = "glued hardwood counts as wood".to_owned();
        let note = finding("old-hole-plugged", Severity::Note, place, message);
        return Some(Finding { measured, rule, ..note });
    }
    let what = if beside.wood < 0.0 {
        format!("Hole {hole} runs {} mm into old hole O{number}", fixed(-beside.wood, 2))
    } else {
        format!(
            "{} mm of {} are left between hole {hole} and old hole O{number}",
            fixed(beside.wood, 2),
            kind.noun()
        )
    };
    let message = format!(
        "{what}; {} mm keep the drill from running off into it. {}",
        fixed(beside.needed, 2),
        if kind.takes_plugs() { "Move the plate, or plug the old hole first." } else { MOVE }
    );
    let stop = finding("old-hole-near", Severity::Stop, place, message);
    Some(Finding {
        measured,
        required: Some(Quantity::mm(beside.needed)),
        rule: format!(
            "as much {} as the new bore is wide, and at least 1.5 mm, between it and an old hole",
            kind.noun()
        ),
        source: if beside.wood < 0.0 { GEOMETRY } else { COMMON }.to_owned(),
        ..stop
    })
}

/// A new hole that falls on an old one.
fn used_again(
    facts: &Facts<'_>,
    kind: FaceKind,
    index: usize,
    old: &OldHolePlan,
    reused: Reused,
) -> Finding {
    let (number, hole) = (index + 1, reused.hole + 1);
    let place = at(index, Some(reused.hole));
    let rule = "an old hole that falls on a new one is used again".to_owned();
    let off = fixed(reused.off, 2);
    if old.plugged {
        let message = format!(
            "Hole {hole} falls on old hole O{number} ({off} mm off), which is plugged: drill it \
             anew in the plug."
        );
        let note = finding("old-hole-reused", Severity::Note, place, message);
        return Finding { measured: Some(Quantity::mm(old.diameter)), rule, ..note };
    }
    let fixing = facts.mount.fixing.as_ref();
    let limits = fixing.and_then(largest_reused);
    let nut = fixing.is_some_and(|fixing| fixing.bore(Bored::Clearance).is_some());
    match limits {
        Some((most, nothing)) if old.diameter > most + EQUAL_MM => {
            let lost = old.diameter >= nothing - EQUAL_MM;
            let message = format!(
                "Hole {hole} falls on old hole O{number}, which is {} mm wide: {}; {} mm is the \
                 most. {}",
                fixed(old.diameter, 2),
                match (nut, lost) {
                    (true, _) =>
                        "the screw stands loose in it, and its washer must reach over it behind",
                    (false, true) => "nothing holds in it",
                    (false, false) => "the new fixing holds little in it",
                },
                fixed(most, 2),
                if kind.takes_plugs() { PLUG } else { MOVE }
            );
            let severity = if lost { Severity::Stop } else { Severity::Caution };
            let found = finding("old-hole-too-large", severity, place, message);
            Finding {
                measured: Some(Quantity::mm(old.diameter)),
                required: Some(Quantity::mm(most)),
                rule: "an old hole is used again only where it is no wider than the new fixing \
                       needs"
                    .to_owned(),
                source: if lost { GEOMETRY } else { COMMON }.to_owned(),
                ..found
            }
        }
        _ => {
            let message = format!(
                "Hole {hole} uses old hole O{number} again ({off} mm off, {} mm wide): open it to \
                 the bores of the drill table.",
                fixed(old.diameter, 2)
            );
            let note = finding("old-hole-reused", Severity::Note, place, message);
            Finding { measured: Some(Quantity::mm(old.diameter)), rule, ..note }
        }
    }
}

/// An old hole that the plate does not hide.
fn shows(index: usize, old: &OldHolePlan) -> Option<Finding> {
    if old.cover >= COVER_MM - EQUAL_MM {
        return None;
    }
    let number = index + 1;
    let severity = if old.plugged { Severity::Note } else { Severity::Caution };
    let what = if old.plugged { "The plug in old hole" } else { "Old hole" };
    let (code, message) = if old.cover >= -EQUAL_MM {
        let message = format!(
            "{what} O{number} is hidden by {} mm only; {} mm keep it hidden.",
            fixed(old.cover.max(0.0), 2),
            fixed(COVER_MM, 0)
        );
        ("old-hole-thin-cover", message)
    } else if -old.cover >= old.diameter - EQUAL_MM {
        let message = format!(
            "{what} O{number} shows whole: it lies beside the plate, its far rim {} mm from the \
             plate's edge.",
            fixed(-old.cover, 2)
        );
        ("old-hole-shows", message)
    } else {
        let message =
            format!("{what} O{number} shows by {} mm beside the plate.", fixed(-old.cover, 2));
        ("old-hole-shows", message)
    };
    let found = finding(code, severity, at(index, None), message);
    Some(Finding {
        measured: Some(Quantity::mm(old.cover)),
        required: Some(Quantity::mm(COVER_MM)),
        rule: "the plate reaches at least 1 mm past an old hole".to_owned(),
        source: if code == "old-hole-shows" { GEOMETRY } else { COMMON }.to_owned(),
        ..found
    })
}
