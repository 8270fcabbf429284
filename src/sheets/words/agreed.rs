//! Sentences about who signed off, and about what two versions have otherwise.

use crate::job::{SignOff, Signature};
use crate::units::digits::trimmed;

use super::listed;

/// Heads of the parts of a comparison.
pub(in crate::sheets) const LAID_OVER: &str = "Laid over each other";
/// The second.
pub(in crate::sheets) const CHANGES: &str = "What is otherwise";
/// The third.
pub(in crate::sheets) const ENLARGED: &str = "Changed lines, enlarged";
/// What its line types mean.
pub(in crate::sheets) const OLD_LINE: &str = "dashed: old";
/// The other.
pub(in crate::sheets) const NEW_LINE: &str = "continuous: new, and where both agree";
/// For who cannot see them.
pub(in crate::sheets) const OVER_OLD: &str = "Old outlines that are not in the new plaque, dashed";
/// The others.
pub(in crate::sheets) const OVER_NEW: &str = "New plaque in continuous lines";
/// Of a change that moves no outline.
pub(in crate::sheets) const NOT_CUT: &str = "nothing is cut otherwise by it";
/// Of two versions that are alike.
pub(in crate::sheets) const NOTHING_DIFFERS: &str = "Nothing differs.";
/// How large a picture is.
pub(in crate::sheets) fn scaled(scale: f64) -> String {
    if (scale - 1.0).abs() < 1e-9 {
        "true size".to_owned()
    } else if scale > 1.0 {
        format!("{} times true size", trimmed(scale, 1))
    } else {
        format!("{} % of true size", trimmed(scale * 100.0, 1))
    }
}
/// Over the old and the new drawing of a line.
pub(in crate::sheets) fn line_enlarged(number: usize, scaled: &str) -> String {
    format!("Line {number}, old above new, {scaled}")
}
/// Who signed, in a row; `None` where nobody has.
pub(in crate::sheets) fn signed_by(signed: &[String]) -> Option<String> {
    match signed {
        [] => None,
        [one] => Some(one.clone()),
        [first, others @ ..] => Some(format!("{first} and {} more", others.len())),
    }
}

/// Who signed off and when, in few words, and whether it still holds.
pub(in crate::sheets) fn signed_off(signed: &SignOff) -> String {
    let all = signed.signatures.iter().map(|s| format!("{},\n{}", s.by, s.date));
    let who = signed_by(&all.collect::<Vec<_>>()).unwrap_or_default();
    if signed.holds() { who } else { format!("not this, but {}:\n{who}", signed.mark) }
}
/// The same in full, for what stands beside artwork and files for machines.
pub(in crate::sheets) fn signed_off_in_full(signed: Option<&SignOff>) -> String {
    let Some(signed) = signed else { return "Not signed off.".to_owned() };
    let all: Vec<String> = signed.signatures.iter().map(Signature::told).collect();
    if signed.holds() {
        format!("Signed off by {}.", listed(&all))
    } else {
        format!("NOT as signed off by {} for mark {}.", listed(&all), signed.mark)
    }
}
/// Over the signatures that were kept.
pub(in crate::sheets) fn signed_for_this(holds: bool, mark: &str) -> String {
    if holds {
        format!("Signed off, proof mark {mark}:")
    } else {
        format!("Signed off was proof mark {mark}, which is not what this proof shows:")
    }
}
