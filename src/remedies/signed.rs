//! What was signed, put back.

use crate::job::{Job, job};
use crate::layout::{Hyphens, Layout};
use crate::units::digits::trimmed;

use super::{Edit, Remedy};

/// Wordings and the plate's size as they were signed, where with them every outline is again
/// what was signed: the proof mark says so. `None` where something else was changed too.
pub(super) fn as_signed(before: &Job) -> Option<Remedy> {
    let signed = before.signed.as_ref().filter(|signed| !signed.holds())?;
    let mut layout = before.layout.clone();
    let (mut edits, mut told) = (Vec::new(), Vec::new());
    for (index, text) in &signed.put_back.lines {
        let key = format!("line.{}.text", index + 1);
        reworded(&mut layout, *index, text, &key)?;
        edits.push(Edit { key, value: toml::Value::String(text.clone()).to_string() });
        told.push(format!("line {}, \u{201c}{}\u{201d}", index + 1, text.replace('\n', " / ")));
    }
    if let Some((width, height)) = signed.put_back.size {
        let key = "plate.size".to_owned();
        layout.keys.exact(&key)?;
        layout.resize(width, height);
        let side = |mm: f64| trimmed(mm, 3);
        let value = format!("\"{} x {} mm\"", side(width), side(height));
        edits.push(Edit { key, value });
        told.push(format!("the plate\u{2019}s size, {} \u{d7} {} mm", side(width), side(height)));
    }
    if edits.is_empty() || job(&layout).ok()?.mark != signed.mark {
        return None;
    }
    let message = format!("Put back what was signed: {}.", told.join("; "));
    Some(Remedy { kind: "as-signed", message, edits, share: 0.0, layout })
}

/// Gives a line its text back; `None` where the layout could not be read with it.
fn reworded(layout: &mut Layout, index: usize, text: &str, key: &str) -> Option<()> {
    layout.keys.exact(key)?;
    let asks = layout.keys.exact(&format!("line.{}.hyphens", index + 1)).is_some();
    let line = layout.lines.get_mut(index)?;
    let kept = line.keep.iter().all(|kept| text.contains(kept.as_str()));
    let soft = asks && line.hyphens == Hyphens::AtSoftHyphens && !text.contains('\u{AD}');
    line.text = text.to_owned();
    (kept && !soft).then_some(())
}
