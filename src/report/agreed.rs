//! What is cut, who signed for it, and what two versions have otherwise.

use serde_json::{Value, json};

use crate::job::{Agreed, Cut, Job, Signature, Trace, millimetres};
use crate::signoff::{Change, Topic};

use super::mm;

/// Everything that the proof mark is a digest of, in whole µm: paths as SVG writes them,
/// each letter once at its size, rows as `shape x y` with a comma between two.
pub(super) fn cut(cut: &Cut) -> Value {
    let texts = |paths: &[Trace]| paths.iter().map(Trace::text).collect::<Vec<_>>();
    let holes = cut.holes.iter().map(|hole| {
        json!({
            "x": hole.at.0,
            "y": hole.at.1,
            "diameter": hole.diameter,
            "head_diameter": hole.head,
            "slot": hole.travel.map(|(across, down)| [across, down]),
        })
    });
    let photos = cut.photos.iter().map(|photo| {
        json!({
            "file_sha256": photo.file,
            "made": photo.made,
            "crop": photo.crop,
            "outline": photo.outline.text(),
            "pocket": photo.pocket.as_ref().map(Trace::text),
            "engraved": texts(&photo.engraved),
        })
    });
    json!({
        "unit": "micrometre",
        "outline": cut.outline.text(),
        "bevel": cut.bevel,
        "border_weight": cut.border.as_ref().map(|border| border.weight),
        "border": cut.border.as_ref().map(|border| texts(&border.lines)),
        "holes": holes.collect::<Vec<_>>(),
        "from_behind": cut.behind,
        "raised": cut.raised,
        "rows": cut.rows.iter().map(|row| Cut::row_text(row)).collect::<Vec<_>>(),
        "shapes": texts(&cut.shapes),
        "decoration": texts(&cut.decoration),
        "photos": photos.collect::<Vec<_>>(),
    })
}

/// Who signed, for what, and whether that is what is cut; null where nobody has.
pub(super) fn sign_off(job: &Job) -> Value {
    let agreed = |agreed: &Agreed| {
        json!({
            "code": agreed.code,
            "where": agreed.place,
            "finding": agreed.finding,
            "reason": agreed.reason,
        })
    };
    let signature = |signature: &Signature| {
        json!({
            "by": signature.by,
            "role": signature.role,
            "date": signature.date,
            "proof_number": signature.proof,
            "accepted": signature.accepted.iter().map(agreed).collect::<Vec<_>>(),
        })
    };
    job.signed.as_ref().map_or(Value::Null, |signed| {
        json!({
            "proof_mark": signed.mark,
            "holds": signed.holds(),
            "changes": signed.changes,
            "signatures": signed.signatures.iter().map(signature).collect::<Vec<_>>(),
        })
    })
}

/// Changes as `ansata compare --json` lists them. Lengths stand in the words of `old` and
/// `new`, in mm, where people read them.
#[must_use]
pub fn changes_json(changes: &[Change]) -> Value {
    let number = |index: Option<usize>| index.map(|index| index + 1);
    let one = |change: &Change| {
        let words = change.words.iter().map(|word| {
            json!({ "old": word.old, "new": word.new, "after": word.after, "told": word.told() })
        });
        json!({
            "topic": change.topic.word(),
            "where": change.place,
            "what": change.what,
            "cut": change.topic != Topic::Beside,
            "old": change.old,
            "new": change.new,
            "difference_mm": change.difference.map(|um| mm(millimetres(um))),
            "old_line": number(change.line.0),
            "new_line": number(change.line.1),
            "words": words.collect::<Vec<_>>(),
        })
    };
    changes.iter().map(one).collect()
}
