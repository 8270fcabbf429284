//! What a lettering file of the user's own says of itself: its name, its licence, what
//! its owner allows, and whether it is whole.

use super::sfnt::Tables;

/// Names of a font (OpenType specification, table `name`).
const FAMILY: u16 = 1;
const FULL_NAME: u16 = 4;
const LICENCE: u16 = 13;
const LICENCE_ADDRESS: u16 = 14;

/// Bits of `fsType` (OpenType specification, table `OS/2`).
const USAGE: u16 = 0x000F;
const RESTRICTED: u16 = 0x0002;
const NO_SUBSETTING: u16 = 0x0100;
const BITMAPS_ONLY: u16 = 0x0200;

/// Longest name of a font that is shown; the specification asks for 31 or fewer, and
/// some long ones are about twice that.
const LONGEST_NAME: usize = 100;

/// A file about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inside {
    /// Its full name, else that of its family.
    pub name: Option<String>,
    /// The licence it holds, or the address of it.
    pub licence: Option<String>,
    /// Whether its owner forbids embedding it in documents (`fsType` 2, Restricted
    /// License, alone among the usage bits).
    pub restricted: bool,
    /// Whether a sheet may hold the font, or a part of it, beside the outlines: neither
    /// restricted nor for bitmaps only nor forbidden to be cut down.
    pub embeddable: bool,
    /// Tables that are cut off or do not agree with their checksum.
    pub damaged: Vec<String>,
}

impl Inside {
    /// Reads one face of a file. What it does not say is `None`; without a word on
    /// embedding everything is allowed.
    pub(super) fn read(bytes: &[u8], index: u32) -> Self {
        let tables = Tables::read(bytes, index);
        let name = tables.name(FULL_NAME).or_else(|| tables.name(FAMILY));
        let embedding = tables.embedding().unwrap_or(0);
        // Of several usage bits in old fonts the least restrictive counts.
        let restricted = embedding & USAGE & !1 == RESTRICTED;
        Self {
            name: name.map(|name| name.replace('\n', " ").chars().take(LONGEST_NAME).collect()),
            licence: tables.name(LICENCE).or_else(|| tables.name(LICENCE_ADDRESS)),
            restricted,
            embeddable: !restricted && embedding & (NO_SUBSETTING | BITMAPS_ONLY) == 0,
            damaged: tables.damaged(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Inside;
    use crate::lettering::shipped;

    /// Besley with another `fsType`, at byte 8 of its table `OS/2`.
    fn with_embedding(embedding: u16) -> Inside {
        let mut bytes = shipped::file("besley/Besley_700Bold.ttf").unwrap().to_vec();
        let record = bytes.windows(4).position(|tag| tag == b"OS/2").unwrap();
        let offset = u32::from_be_bytes(bytes[record + 8..record + 12].try_into().unwrap());
        let at = usize::try_from(offset).unwrap() + 8;
        bytes[at..at + 2].copy_from_slice(&embedding.to_be_bytes());
        Inside::read(&bytes, 0)
    }

    #[test]
    fn embedding_is_read_as_the_specification_says() {
        // Table OS/2, fsType: 0 installable, 2 restricted, 4 preview and print, 8 editable,
        // 0x100 no subsetting, 0x200 bitmaps only.
        let read = |embedding| {
            let inside = with_embedding(embedding);
            (inside.restricted, inside.embeddable)
        };
        assert_eq!(read(0), (false, true));
        assert_eq!(read(2), (true, false));
        assert_eq!(read(4), (false, true));
        assert_eq!(read(8), (false, true));
        assert_eq!(read(2 | 4), (false, true));
        assert_eq!(read(0x100), (false, false));
        assert_eq!(read(0x200 | 8), (false, false));
    }

    #[test]
    fn name_and_licence_are_those_inside() {
        let inside = Inside::read(shipped::file("besley/Besley_700Bold.ttf").unwrap(), 0);
        assert_eq!(inside.name.as_deref(), Some("Besley Bold"));
        assert!(inside.licence.unwrap().contains("SIL Open Font License"));
        assert_eq!((inside.restricted, inside.embeddable), (false, true));
        // Yellowtail holds none (fontTools: neither name 13 nor 14).
        let inside = Inside::read(shipped::file("yellowtail/Yellowtail-Regular.ttf").unwrap(), 0);
        assert_eq!((inside.name.as_deref(), inside.licence), (Some("Yellowtail Regular"), None));
    }
}
