//! `[engraving]` and `[fit]`: how letters are made and read, and how they are sized.

use super::{Notes, Table, Within};
use crate::layout::cutter::{self, LAND};
use crate::layout::schema::{self, Schema};
use crate::layout::{Cut, Engraving, Fill, FitMode, FitWishes, Hyphens, Process, Reading, Side};
use crate::units::digits::trimmed;

/// Reading distance where none is said, mm: something held in the hand or standing on
/// a shelf. Common practice, no source.
const AT_HAND: f64 = 400.0;
/// Reading distances, mm: nearer no eye focuses, farther no small plate is read.
const DISTANCE: Within = Within::new(100.0, 20_000.0);

/// Share of the largest scale that is used where none is said. Common practice, no
/// source: a plate filled to its margins looks crammed.
const USUAL_EASE: f64 = 0.9;

/// What editors and other programs are told of `[engraving]`.
pub(super) fn engraving_keys() -> Schema {
    let from = "The side it is made from; from behind the artwork is mirrored, to be read through \
                a clear plate.";
    schema::table(
        "How the letters are made and read.",
        [
            ("process", schema::word::<Process>("How the letters are made.").usual("rotary")),
            ("from", schema::word::<Side>(from).usual("front")),
            ("cut", schema::word::<Cut>("Letters cut in, or left standing.").usual("incised")),
            ("fill", schema::word::<Fill>("Paint in the letters.").usual("none")),
            (
                "read_from",
                schema::length("Reading distance: how far off it is read.", DISTANCE)
                    .usual_mm(AT_HAND),
            ),
            ("cutter", cutter::keys("The cutter that the strokes of the letters are judged by.")),
            (
                "least_land",
                schema::length("Least width of what is left standing between cuts.", LAND),
            ),
        ],
    )
}

/// What editors and other programs are told of `[fit]`.
pub(super) fn fit_keys() -> Schema {
    let mode = "How heights are found: one scale for all lines, or each as stated.";
    let ease = "Share of the largest lettering possible that is used, 1 % to 100 %.";
    let hyphens = "Whether words of lines that do not say may be divided; at soft hyphens: where a \
                   \\u00AD stands in the wording, nowhere else.";
    schema::table(
        "How the fit goes about it.",
        [
            ("mode", schema::word::<FitMode>(mode).usual("even")),
            ("ease", schema::percent(ease).usual(format!("{} %", trimmed(USUAL_EASE * 100.0, 3)))),
            ("hyphens", schema::word::<Hyphens>(hyphens).usual("never")),
        ],
    )
}

pub(super) fn engraving(table: Option<Table<'_>>, notes: &mut Notes<'_>) -> Engraving {
    let mut engraving = Engraving {
        process: Process::Rotary,
        from: Side::Front,
        cut: Cut::Incised,
        fill: Fill::None,
        reading: Reading { distance: AT_HAND },
        cutter: None,
        least_land: None,
    };
    if let Some(mut table) = table {
        engraving.process = table.word(notes, "process").unwrap_or(engraving.process);
        engraving.from = table.word(notes, "from").unwrap_or(engraving.from);
        engraving.cut = table.word(notes, "cut").unwrap_or(engraving.cut);
        engraving.fill = table.word(notes, "fill").unwrap_or(engraving.fill);
        let distance = table.length(notes, "read_from", DISTANCE);
        engraving.reading.distance = distance.unwrap_or(AT_HAND);
        let told = table.table(notes, "cutter");
        engraving.cutter = told.and_then(|table| cutter::cutter(table, notes));
        engraving.least_land = table.length(notes, "least_land", LAND);
        table.finish(notes);
    }
    engraving
}

/// How the fit goes about it, and whether lines that do not say may have words divided.
pub(super) fn fit(table: Option<Table<'_>>, notes: &mut Notes<'_>) -> (FitWishes, Hyphens) {
    let mut wishes = FitWishes { mode: FitMode::Even, ease: USUAL_EASE };
    let mut hyphens = Hyphens::Never;
    if let Some(mut table) = table {
        wishes.mode = table.word(notes, "mode").unwrap_or(wishes.mode);
        let ease = table.take(notes, "ease").and_then(|entry| notes.percent(&entry));
        wishes.ease = ease.unwrap_or(wishes.ease);
        hyphens = table.word(notes, "hyphens").unwrap_or(hyphens);
        table.finish(notes);
    }
    (wishes, hyphens)
}
