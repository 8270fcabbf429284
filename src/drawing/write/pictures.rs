//! Pictures that were reduced and packed before, for who draws the same ones again and again:
//! packing one takes longer than all the rest of a drawing.

use std::sync::{Arc, Mutex, PoisonError};

use super::{WriteError, pixels};
use crate::drawing::Pixels;

/// Most pictures that are kept: those of any one plate.
const MOST: usize = 12;

/// A picture at a size, as an address that holds it.
struct Known {
    pixels: Pixels,
    size: (u32, u32),
    address: Arc<str>,
}

/// Addresses of pictures that were packed before, the last used last.
#[derive(Default)]
pub struct Pictures {
    known: Mutex<Vec<Known>>,
}

impl Pictures {
    /// The address of a picture, and whether it is reduced for it.
    pub(super) fn address(
        &self,
        whole: &Pixels,
        sides: (f64, f64),
        per_mm: f64,
    ) -> Result<(Arc<str>, bool), WriteError> {
        let size = pixels::reduced_size(whole, sides, per_mm);
        let mut all = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let at = all.iter().position(|known| known.size == size && known.pixels.is(whole));
        let known = match at {
            Some(at) => all.remove(at),
            None => {
                let reduced = pixels::reduced(whole, sides, per_mm);
                let address = pixels::address(reduced.as_ref().unwrap_or(whole))?;
                Known { pixels: whole.clone(), size, address: address.into() }
            }
        };
        let address = Arc::clone(&known.address);
        all.push(known);
        if all.len() > MOST {
            all.remove(0);
        }
        Ok((address, size != whole.size()))
    }
}
