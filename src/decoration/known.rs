//! Drawings that were united and measured before. A layout is gone through many times while
//! remedies are sought or somebody types, and measuring an intricate crest takes longer than
//! all else. What is kept is what would come out again.

use std::sync::{Arc, Mutex, PoisonError};

use kurbo::BezPath;

use crate::lettering::Ornament;

/// Most drawings that are kept: those of some layouts.
const MOST: usize = 32;

/// Drawings by what they were made of, the last used last.
type Drawings = Mutex<Vec<(BezPath, Arc<Ornament>)>>;

/// What is made of a path, once; `None` where it has no ink.
pub(super) fn known(
    path: BezPath,
    made: impl FnOnce(&BezPath) -> Option<Ornament>,
) -> Option<Arc<Ornament>> {
    static KNOWN: Drawings = Mutex::new(Vec::new());
    known_to(&KNOWN, path, made)
}

fn known_to(
    drawings: &Drawings,
    path: BezPath,
    made: impl FnOnce(&BezPath) -> Option<Ornament>,
) -> Option<Arc<Ornament>> {
    let mut all = drawings.lock().unwrap_or_else(PoisonError::into_inner);
    let found = match all.iter().position(|(known, _)| *known == path) {
        Some(at) => all.remove(at),
        None => {
            let ornament = Arc::new(made(&path)?);
            (path, ornament)
        }
    };
    let ornament = Arc::clone(&found.1);
    all.push(found);
    if all.len() > MOST {
        all.remove(0);
    }
    Some(ornament)
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use kurbo::{Rect, Shape};

    use super::{Drawings, MOST, known_to};
    use crate::lettering::Ornament;

    #[test]
    fn a_drawing_is_made_once_and_the_oldest_is_forgotten() {
        let made = Cell::new(0);
        let drawings = Drawings::default();
        let of = |size: usize| {
            let path = Rect::new(0.0, 0.0, 7.0 + size as f64, 30.0).to_path(0.1);
            known_to(&drawings, path, |path| {
                made.set(made.get() + 1);
                Ornament::new(path)
            })
        };
        let (first, again) = (of(0).unwrap(), of(0).unwrap());
        assert_eq!(made.get(), 1);
        assert!(std::sync::Arc::ptr_eq(&first, &again));
        (1..=MOST).for_each(|size| drop(of(size)));
        assert_eq!(made.get(), 1 + MOST);
        of(0);
        assert_eq!(made.get(), 2 + MOST);
    }
}
