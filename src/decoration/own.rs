//! Drawings of the user's own, united and measured once.

use std::sync::{Arc, Mutex, PoisonError, Weak};

use kurbo::BezPath;

use crate::lettering::Ornament;

/// Drawings at unit size by the outline they were read from, for as long as a layout holds
/// that. A layout is gone through many times while remedies are sought, and measuring an
/// intricate crest takes longer than all else. What is kept is what would come out again.
static KEPT: Mutex<Vec<(Weak<BezPath>, Arc<Ornament>)>> = Mutex::new(Vec::new());

/// The drawing of an outline; `None` where it has no ink.
pub(super) fn at_unit_size(outline: &Arc<BezPath>) -> Option<Arc<Ornament>> {
    let mut kept = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
    kept.retain(|(of, _)| of.strong_count() > 0);
    let known = kept.iter().find(|(of, _)| Weak::as_ptr(of) == Arc::as_ptr(outline));
    if let Some((_, ornament)) = known {
        return Some(Arc::clone(ornament));
    }
    let ornament = Arc::new(Ornament::new(outline)?);
    kept.push((Arc::downgrade(outline), Arc::clone(&ornament)));
    Some(ornament)
}
