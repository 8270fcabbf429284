//! The one thing that is taken from EXIF: how the camera was held.

/// Tag of the orientation (CIPA DC-008, table 4; TIFF 6.0, page 36).
const ORIENTATION: u16 = 0x0112;

/// A whole number of 16 bits in TIFF's list of types.
const SHORT: u16 = 3;

/// The orientation that a block of EXIF asks for, 1 to 8. Whatever is not such a block, or
/// holds no such thing, is 1: a damaged remark is no reason to refuse a photograph.
pub(super) fn orientation(block: &[u8]) -> u8 {
    let block = block.strip_prefix(b"Exif\0\0").unwrap_or(block);
    found(block).filter(|found| (1..=8).contains(found)).unwrap_or(1)
}

fn found(block: &[u8]) -> Option<u8> {
    let big = match block.get(..4)? {
        b"II*\0" => false,
        b"MM\0*" => true,
        _ => return None,
    };
    let short = |at: usize| {
        let pair = block.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if big { u16::from_be_bytes(pair) } else { u16::from_le_bytes(pair) })
    };
    let four = block.get(4..8)?.try_into().ok()?;
    let first = if big { u32::from_be_bytes(four) } else { u32::from_le_bytes(four) };
    let first = usize::try_from(first).ok()?;
    let entries = usize::from(short(first)?);
    let entry = (0..entries)
        .map_while(|entry| first.checked_add(2 + 12 * entry))
        .take_while(|at| *at < block.len())
        .find(|at| short(*at) == Some(ORIENTATION))?;
    (short(entry + 2)? == SHORT).then(|| short(entry + 8)).flatten()?.try_into().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(orientation: u8) -> Vec<u8> {
        let mut block = b"MM\0*\0\0\0\x08\0\x02".to_vec();
        block.extend(b"\x01\x0F\0\x02\0\0\0\x04abc\0");
        block.extend([1, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
        block
    }

    #[test]
    fn the_orientation_is_found_with_and_without_its_name_before_it() {
        assert_eq!(orientation(&block(6)), 6);
        assert_eq!(orientation(&[b"Exif\0\0".as_slice(), &block(3)].concat()), 3);
    }

    #[test]
    fn what_says_nothing_asks_for_nothing() {
        for orientation in [0, 9, 255] {
            assert_eq!(super::orientation(&block(orientation)), 1);
        }
        let whole = block(8);
        for end in 0..whole.len() - 3 {
            assert_eq!(orientation(&whole[..end]), 1, "{end} bytes");
        }
        assert_eq!(orientation(b"II*\0\xFF\xFF\xFF\xFF"), 1);
    }
}
