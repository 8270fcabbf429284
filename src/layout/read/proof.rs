//! `[proof]`: what is printed beside the plaque.

use super::date::checked_date;
use super::{Notes, Table};
use crate::layout::schema::{self, Schema};
use crate::layout::{Paper, ProofNotes, Shop};

/// Greatest number of a proof.
const MOST_PROOFS: u32 = 9999;
/// Most people who sign one sheet.
const MOST_SIGNATURES: usize = 12;

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let paper = "Paper of the sheets; where it is left out the shop's, else Letter for a layout \
                 in inches and A4 for others. A pattern that is larger goes over several pages \
                 of it; proof and mock-up take a larger sheet.";
    let signatures = "Roles that sign the proof.";
    let role = schema::note("A role.");
    schema::table(
        "What is printed beside the plaque.",
        [
            ("number", schema::whole("Number of this proof.", 1, MOST_PROOFS).usual(1)),
            ("replaces", schema::note("What this proof replaces.")),
            (
                "date",
                schema::date("Date of the proof, as ISO 8601 writes it.").example("2026-03-14"),
            ),
            ("client", schema::note("For whom the plaque is made.")),
            ("spelling", schema::note("Who answers for the spelling.")),
            ("signatures", schema::list(signatures, 0, MOST_SIGNATURES, role)),
            ("paper", schema::word::<Paper>(paper)),
        ],
    )
}

/// The table as written; the paper waits for the shop's habit.
#[derive(Default)]
pub(super) struct Written {
    number: Option<u32>,
    replaces: Option<String>,
    date: Option<String>,
    client: Option<String>,
    spelling: Option<String>,
    signatures: Vec<String>,
    paper: Option<Paper>,
}

impl Written {
    /// With defaults: proof 1; the shop's paper, else what suits the units.
    pub(super) fn filled(self, shop: &Shop, inches: bool) -> ProofNotes {
        let habit = if inches { Paper::Letter } else { Paper::A4 };
        ProofNotes {
            number: self.number.unwrap_or(1),
            replaces: self.replaces,
            date: self.date,
            client: self.client,
            spelling: self.spelling,
            signatures: self.signatures,
            paper: self.paper.or(shop.paper).unwrap_or(habit),
        }
    }
}

pub(super) fn proof(mut table: Table<'_>, notes: &mut Notes<'_>) -> Written {
    let number = table.whole(notes, "number", 1, MOST_PROOFS);
    let replaces = table.note(notes, "replaces");
    let date = table.take(notes, "date").and_then(|entry| checked_date(&entry, notes));
    let client = table.note(notes, "client");
    let spelling = table.note(notes, "spelling");
    let signatures = table.take(notes, "signatures").map_or_else(Vec::new, |entry| {
        let roles = notes.note_list(&entry, "signatures = [\"Client\", \"Engraver\"]");
        if roles.len() > MOST_SIGNATURES {
            let message = format!("`proof.signatures` has more than {MOST_SIGNATURES} roles");
            notes.wrong(&entry.span, message, "name those who must sign");
        }
        roles
    });
    let paper = table.word(notes, "paper");
    table.finish(notes);
    Written { number, replaces, date, client, spelling, signatures, paper }
}
