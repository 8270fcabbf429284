//! What a font file says of itself, read from its tables: names, embedding, features,
//! and whether its tables are whole.
//!
//! Source: the OpenType specification, tables `name`, `OS/2`, `GSUB` and the table
//! directory with its checksums. Nothing here fails: what cannot be read is not there.

/// More tables than any font has; a limit against damaged counts.
const MOST_TABLES: u16 = 200;

/// Bytes 8 to 11 of `head` hold the checksum of the whole file and count as 0 in that of
/// the table.
const ADJUSTMENT: std::ops::Range<usize> = 8..12;

/// Tables of one face of a file.
pub(super) struct Tables<'a> {
    bytes: &'a [u8],
    records: Vec<Record>,
}

struct Record {
    tag: [u8; 4],
    checksum: u32,
    offset: usize,
    length: usize,
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    bytes.get(at..)?.first_chunk().map(|b| u16::from_be_bytes(*b))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..)?.first_chunk().map(|b| u32::from_be_bytes(*b))
}

fn length_at(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(u32_at(bytes, at)?).ok()
}

impl<'a> Tables<'a> {
    /// The tables of a face of a file or collection; none where the directory is cut off.
    pub(super) fn read(bytes: &'a [u8], index: u32) -> Self {
        Self { bytes, records: directory(bytes, index).unwrap_or_default() }
    }

    fn table(&self, tag: &[u8; 4]) -> Option<&'a [u8]> {
        let record = self.records.iter().find(|record| record.tag == *tag)?;
        self.bytes.get(record.offset..record.offset.checked_add(record.length)?)
    }

    /// Tags of tables that reach past the file's end, or whose checksum is not the one
    /// that the directory states.
    pub(super) fn damaged(&self) -> Vec<String> {
        let damaged = self.records.iter().filter(|record| match self.table(&record.tag) {
            Some(table) => checksum(table, record.tag == *b"head") != record.checksum,
            None => true,
        });
        damaged.map(|record| String::from_utf8_lossy(&record.tag).trim().to_owned()).collect()
    }

    /// The name of an id: English for Windows, else any other for Windows, for Unicode
    /// platforms, for the Macintosh (its ASCII part). `None` where it is absent or blank.
    pub(super) fn name(&self, id: u16) -> Option<String> {
        let table = self.table(b"name")?;
        let strings = usize::from(u16_at(table, 4)?);
        let record = |at: u16| {
            let record = table.get(6 + 12 * usize::from(at)..)?;
            let [platform, language, own] = [0, 4, 6].map(|at| u16_at(record, at));
            let rank = match (platform?, language?) {
                (3, 0x0409) => 0_u8,
                (3, _) => 1,
                (0, _) => 2,
                (1, _) => 3,
                _ => return None,
            };
            let start = strings + usize::from(u16_at(record, 10)?);
            let text = table.get(start..start + usize::from(u16_at(record, 8)?))?;
            (own? == id).then(|| (rank, decoded(text, rank == 3)))
        };
        let names = (0..u16_at(table, 2)?).filter_map(record);
        let named = names.filter(|(_, name)| !name.is_empty()).min_by_key(|(rank, _)| *rank);
        named.map(|(_, name)| name)
    }

    /// `fsType`: what the font's owner allows of embedding.
    pub(super) fn embedding(&self) -> Option<u16> {
        u16_at(self.table(b"OS/2")?, 8)
    }

    /// Whether substitutions of this feature are listed, for any script.
    pub(super) fn substitutes(&self, feature: &[u8; 4]) -> bool {
        let listed = || {
            let table = self.table(b"GSUB")?;
            let list = table.get(usize::from(u16_at(table, 6)?)..)?;
            let tag = |at: u16| list.get(2 + 6 * usize::from(at)..)?.first_chunk::<4>();
            Some((0..u16_at(list, 0)?).any(|at| tag(at) == Some(feature)))
        };
        listed().unwrap_or(false)
    }
}

/// The table directory of a face.
fn directory(bytes: &[u8], index: u32) -> Option<Vec<Record>> {
    let start = if bytes.starts_with(b"ttcf") {
        length_at(bytes, usize::try_from(index).ok()?.checked_mul(4)?.checked_add(12)?)?
    } else {
        0
    };
    let count = u16_at(bytes, start.checked_add(4)?)?.min(MOST_TABLES);
    let record = |at: u16| {
        let record = bytes.get(start.checked_add(12 + 16 * usize::from(at))?..)?;
        Some(Record {
            tag: *record.first_chunk()?,
            checksum: u32_at(record, 4)?,
            offset: length_at(record, 8)?,
            length: length_at(record, 12)?,
        })
    };
    Some((0..count).filter_map(record).collect())
}

/// The sum of a table's 32-bit words, the last filled up with zeros.
fn checksum(table: &[u8], head: bool) -> u32 {
    let mut sum = 0_u32;
    for (word, at) in table.chunks(4).zip((0..).step_by(4)) {
        if head && at == ADJUSTMENT.start {
            continue;
        }
        let mut four = [0; 4];
        for (to, from) in four.iter_mut().zip(word) {
            *to = *from;
        }
        sum = sum.wrapping_add(u32::from_be_bytes(four));
    }
    sum
}

/// A name as plain text of one or more lines, trimmed; UTF-16 or, of the Macintosh's
/// signs, the ASCII ones.
fn decoded(text: &[u8], macintosh: bool) -> String {
    let text: String = if macintosh {
        text.iter().map(|b| if b.is_ascii() { char::from(*b) } else { '?' }).collect()
    } else {
        let units = text.chunks_exact(2).filter_map(|pair| pair.first_chunk());
        let units: Vec<u16> = units.map(|pair| u16::from_be_bytes(*pair)).collect();
        String::from_utf16_lossy(&units)
    };
    let plain = text.chars().filter(|c| *c == '\n' || !c.is_control()).collect::<String>();
    plain.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::{Tables, checksum};
    use crate::lettering::{catalogue, shipped};

    #[test]
    fn a_checksum_is_the_sum_of_words_with_the_last_filled_up() {
        assert_eq!(checksum(&[0, 0, 0, 1, 0, 0, 0, 2], false), 3);
        assert_eq!(checksum(&[255, 255, 255, 255, 0, 0, 0, 2, 1], false), 0x0100_0001);
        assert_eq!(checksum(&[0, 0, 0, 1, 0, 0, 0, 2, 9, 9, 9, 9, 0, 0, 0, 4], true), 7);
    }

    /// fontTools read all shipped files with its checking of checksums on.
    #[test]
    fn no_shipped_file_is_damaged_and_each_names_itself() {
        for entry in catalogue().entries.iter().filter(|entry| !entry.single_stroke()) {
            let tables = Tables::read(shipped::file(&entry.file).unwrap(), 0);
            assert!(tables.records.len() > 8, "{}", entry.file);
            assert_eq!(tables.damaged(), Vec::<String>::new(), "{}", entry.file);
            let family = &catalogue().families[entry.family].name;
            assert!(tables.name(1).unwrap().starts_with(family), "{}", entry.file);
            assert_eq!(tables.embedding(), Some(0), "{}", entry.file);
        }
    }

    #[test]
    fn one_wrong_byte_names_its_table() {
        let whole = shipped::file("besley/Besley_700Bold.ttf").unwrap();
        let mut bytes = whole.to_vec();
        let glyf = Tables::read(whole, 0).records.into_iter().find(|r| r.tag == *b"glyf").unwrap();
        bytes[glyf.offset + 100] ^= 1;
        assert_eq!(Tables::read(&bytes, 0).damaged(), ["glyf"]);
        bytes.truncate(glyf.offset + 1000);
        assert!(Tables::read(&bytes, 0).damaged().contains(&"glyf".to_owned()));
    }

    #[test]
    fn whatever_the_bytes_nothing_panics() {
        let whole = shipped::file("besley/Besley_700Bold.ttf").unwrap();
        for length in (0..400).chain((400..whole.len()).step_by(997)) {
            let tables = Tables::read(&whole[..length], 0);
            let _ = (tables.damaged(), tables.name(13), tables.embedding());
            let _ = tables.substitutes(b"smcp");
        }
        for index in [1, u32::MAX] {
            let _ = Tables::read(b"ttcf\0\x01\0\0\0\0\0\x01\0\0\0\x0c", index).damaged();
        }
    }
}
