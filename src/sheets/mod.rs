//! What is handed over, each sheet drawn once: proof, artwork, mount pattern,
//! plate drilling sheet, mock-up. A job in, a [`crate::drawing::Drawing`] out.

use crate::drawing::Drawing;
use crate::job::Job;
use crate::remedies::Cures;

/// A sheet, and where on it the plate lies at true size.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The drawing.
    pub drawing: Drawing,
    /// For each page, where the plate's top left corner lies on it, mm; `None`
    /// on pages that do not show the plate at true size.
    pub plate_at: Vec<Option<(f64, f64)>>,
}

/// The proof, for the people who approve.
#[must_use]
pub fn proof(job: &Job, cures: &[Cures]) -> Sheet {
    let _ = (job, cures);
    todo!()
}

/// The lettering group alone, flat black on white, the page as large as the plate.
#[must_use]
pub fn proof_lettering(job: &Job) -> Sheet {
    let _ = job;
    todo!()
}

/// The artwork for the engraver: outlines at true size and nothing else.
#[must_use]
pub fn artwork(job: &Job) -> Sheet {
    let _ = job;
    todo!()
}

/// The mount pattern, with the plate drilling sheet as its last page.
#[must_use]
pub fn pattern(job: &Job) -> Sheet {
    let _ = job;
    todo!()
}

/// The paper plaque to hold against the face; not for drilling.
#[must_use]
pub fn mockup(job: &Job) -> Sheet {
    let _ = job;
    todo!()
}
