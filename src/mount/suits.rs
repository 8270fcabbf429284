//! Whether a fixing suits what is behind the plate.

use crate::layout::{FaceMaterial, FixingAsked, Into};

use super::{FaceKind, FaceRow, Suits, face_row};

/// Whether a fixing suits a face, and in words why not, or what to mind. All of it is common
/// practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It does.
    Yes,
    /// It may, with care.
    Care(&'static str),
    /// It does not.
    No(&'static str),
}

impl FaceKind {
    /// What a sheet calls it: the wood, the board.
    #[must_use]
    pub fn noun(self) -> &'static str {
        match self {
            Self::Wood | Self::Veneered => "wood",
            Self::Board => "board",
            Self::Stone => "stone",
            Self::Metal => "metal",
            Self::Resin => "resin",
            Self::Hollow => "skin",
        }
    }

    /// Whether an old hole in it is mended by a plug of wood glued in, which then is as
    /// good as the whole (common practice, no source).
    #[must_use]
    pub fn takes_plugs(self) -> bool {
        matches!(self, Self::Wood | Self::Board | Self::Veneered)
    }
}

/// Whether a fixing suits a face of a material: by the face's row where the row speaks of it,
/// else by what follows below.
#[must_use]
pub fn drivable(asked: &FixingAsked, material: FaceMaterial) -> Verdict {
    let row = face_row(material);
    match asked {
        FixingAsked::Tape { .. } => told(row.tape, row),
        FixingAsked::WoodScrew { .. } | FixingAsked::Standoff { .. } => told(row.wood_screw, row),
        FixingAsked::Pin { .. } => told(row.pin, row),
        FixingAsked::Stud { .. } => stud(row),
        FixingAsked::MachineScrew { into, .. } => match into {
            Into::Insert { .. } => told(row.insert, row),
            Into::Nut => told(row.through, row),
            Into::Tapped => tapped(row.kind),
        },
    }
}

fn told(suits: Suits, row: &'static FaceRow) -> Verdict {
    match suits {
        Suits::Yes => Verdict::Yes,
        Suits::Care => Verdict::Care(&row.why),
        Suits::No => Verdict::No(&row.why),
    }
}

/// Studs are glued into holes drilled without force; a skin over a hollow gives the glue
/// nothing to hold by.
fn stud(row: &'static FaceRow) -> Verdict {
    match row.kind {
        FaceKind::Stone => Verdict::No(&row.why),
        FaceKind::Hollow => Verdict::Care("the glue holds a stud in the thin skin alone"),
        _ => Verdict::Yes,
    }
}

/// A thread cut into the face itself.
fn tapped(kind: FaceKind) -> Verdict {
    match kind {
        FaceKind::Metal => Verdict::Yes,
        FaceKind::Resin | FaceKind::Hollow => Verdict::Care(
            "a fine thread cut into this strips easily: an insert or a nut behind holds better",
        ),
        FaceKind::Stone => Verdict::No("stone takes no thread: the plate is stuck on"),
        FaceKind::Wood | FaceKind::Board | FaceKind::Veneered => Verdict::No(
            "a machine thread cannot be cut into wood or board: take an insert, a nut behind, or \
             a wood screw",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Head, HoleFit, MachineHead, Named, Thread};

    const SCREW: FixingAsked =
        FixingAsked::WoodScrew { gauge: 2, head: Head::Flat, length: 9.5, metal: None, cap: None };
    const STUD: FixingAsked = FixingAsked::Stud { diameter: 3.0, length: 12.0, bore: None };

    fn machine(into: Into) -> FixingAsked {
        let (thread, head, fit) = (Thread::M3, MachineHead::Pan, HoleFit::Medium);
        FixingAsked::MachineScrew { thread, head, length: 10.0, into, fit }
    }

    #[test]
    fn stone_takes_tape_and_nothing_else() {
        let insert = machine(Into::Insert { bore: 4.0, depth: 6.0 });
        for asked in [SCREW, machine(Into::Nut), machine(Into::Tapped), insert, STUD] {
            let verdict = drivable(&asked, FaceMaterial::Stone);
            assert!(matches!(verdict, Verdict::No(_)), "{asked:?}");
        }
        assert_eq!(
            drivable(&FixingAsked::Tape { strips: None }, FaceMaterial::Stone),
            Verdict::Yes
        );
    }

    #[test]
    fn a_thread_is_cut_into_metal_and_a_screw_driven_into_wood() {
        assert_eq!(drivable(&machine(Into::Tapped), FaceMaterial::Metal), Verdict::Yes);
        assert!(matches!(drivable(&SCREW, FaceMaterial::Metal), Verdict::No(_)));
        for (word, material) in FaceMaterial::ALL {
            if face_row(*material).kind == FaceKind::Wood {
                assert_eq!(drivable(&SCREW, *material), Verdict::Yes, "{word}");
                let tapped = drivable(&machine(Into::Tapped), *material);
                assert!(matches!(tapped, Verdict::No(_)), "{word}");
            }
        }
        for material in [FaceMaterial::Resin, FaceMaterial::Hollow] {
            assert!(matches!(drivable(&SCREW, material), Verdict::Care(_)));
        }
    }
}
