//! How a photograph is made: keys of `[[photo]]` about process, screen and tone.

use serde_json::json;

use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{Diffusion, Inset, Named, PhotoMaking, PhotoScreen, Process, Ruling, Tone};

/// From row to row of a screen, mm: 25 lines an inch are coarse, 500 finer than any plate
/// holds.
const PITCH: Within = Within::new(0.05, 1.0);
/// Angle of a screen, degrees.
const ANGLE: Within = Within::new(0.0, 180.0);
/// Angle where none is said: rows at 45 degrees are seen least. Common practice, no source.
const USUAL_ANGLE: f64 = 45.0;
/// From dot to dot of a machine, mm.
const STEP: Within = Within::new(0.005, 1.0);
/// Share of pixels that stretching may make black, and white.
const STRETCH: Within = Within::new(0.0, 0.2);
/// Local contrast: 1 does nothing, 10 makes noise of skies.
const LOCAL: Within = Within::new(1.0, 10.0);
/// What the middle level may become.
const MIDTONE: Within = Within::new(0.2, 0.8);
/// Share by which edges are sharpened.
const SHARPEN: Within = Within::new(0.0, 3.0);
/// Thickness of a piece that is set in, mm.
const THICKNESS: Within = Within::new(0.1, 20.0);
/// Between piece and pocket, mm, and where nothing is said. Common practice, no source.
const FIT: Within = Within::new(0.0, 2.0);
const USUAL_FIT: f64 = 0.1;
/// Tone where a table of it leaves something out. Common practice, no source.
const USUAL_TONE: Tone = Tone { stretch: 0.005, local_contrast: None, midtone: 0.6, sharpen: 0.5 };

/// Words for a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Diffused,
    Dots,
    Lines,
}

impl Named for Kind {
    const ALL: &'static [(&'static str, Self)] =
        &[("scattered dots", Self::Diffused), ("dots", Self::Dots), ("lines", Self::Lines)];
}

/// What editors and other programs are told of these keys.
pub(super) fn keys() -> Vec<(&'static str, Schema)> {
    let screen = schema::table(
        "How grey is made of marks of one tone.",
        [
            ("kind", schema::word::<Kind>("What kind of marks.").needed()),
            ("pitch", schema::length("From row to row, or from line to line.", PITCH)),
            (
                "angle",
                schema::number("Angle of the rows, degrees anticlockwise from level.", ANGLE)
                    .usual(USUAL_ANGLE),
            ),
            (
                "weights",
                schema::word::<Diffusion>("By which published weights dots are scattered.")
                    .usual(Diffusion::Stucki.word()),
            ),
        ],
    )
    .also(json!({ "if": { "properties": { "kind": { "const": Kind::Diffused.word() } } },
        "then": { "properties": { "pitch": false, "angle": false } },
        "else": { "properties": { "weights": false }, "required": ["pitch"] } }));
    let tone = schema::table(
        "How levels are changed first.",
        [
            (
                "stretch",
                schema::number(
                    "Share of the pixels that may become black, and the same white, as levels are \
                     stretched.",
                    STRETCH,
                )
                .usual(USUAL_TONE.stretch),
            ),
            (
                "local_contrast",
                schema::number(
                    "Clip limit of local contrast; it can blotch faces, so it is off where it is \
                     left out.",
                    LOCAL,
                ),
            ),
            (
                "midtone",
                schema::number(
                    "What the level half way from black to white becomes, as a share of white; \
                     0.5 leaves it.",
                    MIDTONE,
                )
                .usual(USUAL_TONE.midtone),
            ),
            (
                "sharpen",
                schema::number("How much edges are sharpened.", SHARPEN).usual(USUAL_TONE.sharpen),
            ),
        ],
    );
    let inset = schema::table(
        "A piece of its own that is set into the plate.",
        [
            (
                "thickness",
                schema::length("Its thickness, which is the depth of its pocket.", THICKNESS)
                    .needed(),
            ),
            ("gap", schema::length("Between piece and pocket all round.", FIT).usual_mm(USUAL_FIT)),
        ],
    );
    vec![
        (
            "process",
            schema::word::<Process>("How it is made; as the lettering where it is left out."),
        ),
        ("grey", schema::truth("Whether it is printed in grey.").usual(false)),
        ("screen", screen),
        ("step", schema::length("From dot to dot as the machine sets them.", STEP)),
        ("tone", tone),
        ("inset", inset),
    ]
}

pub(super) fn making(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<PhotoMaking> {
    let process = table.take(notes, "process").map(|entry| notes.word(&entry));
    let grey = table.take(notes, "grey").map_or(Some(false), |entry| notes.truth(&entry));
    let screen = table.table(notes, "screen").map(|table| screen(table, notes));
    let step = table.take(notes, "step").map(|entry| notes.length(&entry, STEP));
    let tone = table.table(notes, "tone").map(|table| tone(table, notes));
    let inset = table.table(notes, "inset").map(|table| inset(table, notes));
    Some(PhotoMaking {
        process: told(process)?,
        grey: grey?,
        screen: told(screen)?,
        step: told(step)?,
        tone,
        inset: told(inset)?,
    })
}

/// What was left out, what was told, or nothing where it was told wrongly.
#[expect(clippy::option_option, reason = "left out, told and told wrongly are three things")]
fn told<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(value) => value.map(Some),
    }
}

fn screen(mut table: Table<'_>, notes: &mut Notes<'_>) -> Option<PhotoScreen> {
    let kind = table.need(notes, "kind", "kind = \"dots\"");
    let kind: Option<Kind> = kind.and_then(|entry| notes.word(&entry));
    let pitch = table.take(notes, "pitch");
    let angle = table.take(notes, "angle");
    let weights = table.take(notes, "weights");
    let place = (format!("{}.pitch", table.path), table.span.clone());
    table.finish(notes);
    let mut stranger = |entry: Option<&Entry<'_>>, key: &str, of: &str| {
        if let Some(entry) = entry {
            let message = format!("`{key}` is a key of {of}");
            notes.wrong(&entry.span, message, "leave it out, or choose another `kind`");
        }
    };
    if kind? == Kind::Diffused {
        stranger(pitch.as_ref(), "pitch", "dots in rows and of lines");
        stranger(angle.as_ref(), "angle", "dots in rows and of lines");
        let weights = weights.map_or(Some(Diffusion::Stucki), |entry| notes.word(&entry));
        return Some(PhotoScreen::Diffused(weights?));
    }
    stranger(weights.as_ref(), "weights", "scattered dots");
    let _ = weights.and_then(|entry| notes.word::<Diffusion>(&entry));
    let Some(pitch) = pitch else {
        let message = "`pitch` is missing: a screen has a distance from row to row";
        notes.missing(&place.0, &place.1, message, "write pitch = \"0.25 mm\"");
        return None;
    };
    let pitch = notes.length(&pitch, PITCH);
    let angle = angle.map_or(Some(USUAL_ANGLE), |entry| notes.number(&entry, ANGLE));
    let ruling = Ruling { pitch: pitch?, angle: angle? };
    Some(match kind? {
        Kind::Lines => PhotoScreen::Lines(ruling),
        _ => PhotoScreen::Dots(ruling),
    })
}

fn tone(mut table: Table<'_>, notes: &mut Notes<'_>) -> Tone {
    let stretch = table.number(notes, "stretch", STRETCH).unwrap_or(USUAL_TONE.stretch);
    let local_contrast = table.number(notes, "local_contrast", LOCAL);
    let midtone = table.number(notes, "midtone", MIDTONE).unwrap_or(USUAL_TONE.midtone);
    let sharpen = table.number(notes, "sharpen", SHARPEN).unwrap_or(USUAL_TONE.sharpen);
    table.finish(notes);
    Tone { stretch, local_contrast, midtone, sharpen }
}

fn inset(mut table: Table<'_>, notes: &mut Notes<'_>) -> Option<Inset> {
    let thickness = table.need(notes, "thickness", "thickness = \"2 mm\"");
    let thickness = thickness.and_then(|entry| notes.length(&entry, THICKNESS));
    let gap = table.take(notes, "gap").map_or(Some(USUAL_FIT), |entry| notes.length(&entry, FIT));
    table.finish(notes);
    Some(Inset { thickness: thickness?, gap: gap? })
}
