//! Direction and script: a text cut into runs that are shaped one by one.
//!
//! Directions by the Unicode bidirectional algorithm (UAX #9), the base direction
//! of the whole text by its first strong character; scripts by UAX #24, where
//! characters of no script of their own (spaces, points, figures, marks) go with
//! the letters before them, or with those after them at the beginning; but a closing
//! bracket goes with the one that it closes, and what follows it too (UAX #24, 5.2).

use std::ops::Range;

use smallvec::{SmallVec, smallvec};
use unicode_bidi::{BidiInfo, Level};
use unicode_script::{Script, UnicodeScript};
use unicode_segmentation::UnicodeSegmentation;

/// A stretch of one direction and one script.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TextRun {
    /// Bytes of the text.
    pub(super) range: Range<usize>,
    /// Level of UAX #9; odd runs from right to left.
    level: Level,
    /// Script, `None` where the text has no letter of any.
    pub(super) script: Option<Script>,
    /// Which of the line's faces it is set in.
    pub(super) face: u8,
}

impl TextRun {
    /// Whether it runs from right to left.
    pub(super) fn right_to_left(&self) -> bool {
        self.level.is_rtl()
    }
}

/// Runs one after another: of nearly all texts just one.
pub(super) type RunList = SmallVec<[TextRun; 1]>;

/// A text cut into runs, in logical order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TextRuns {
    runs: RunList,
    base: Level,
}

impl TextRuns {
    /// Whether the text as a whole runs from right to left.
    pub(super) fn right_to_left(&self) -> bool {
        self.base.is_rtl()
    }

    /// Whether all runs have the same direction, so that visual order is logical
    /// order or its reverse.
    pub(super) fn one_direction(&self) -> bool {
        let first = self.runs.first().map(|run| run.level);
        self.runs.iter().all(|run| Some(run.level) == first)
    }

    /// The scripts in which the text has letters.
    pub(super) fn scripts(&self) -> impl Iterator<Item = Script> {
        self.runs.iter().filter_map(|run| run.script)
    }

    /// The runs cut where the face changes; `faces` tells it by stretches in logical order
    /// that cover the text.
    pub(super) fn in_faces(&self, faces: &[(Range<usize>, u8)]) -> Self {
        let mut cut = RunList::new();
        for run in &self.runs {
            for (stretch, face) in faces {
                let range = stretch.start.max(run.range.start)..stretch.end.min(run.range.end);
                if !range.is_empty() {
                    cut.push(TextRun { range, face: *face, ..run.clone() });
                }
            }
        }
        Self { runs: cut, base: self.base }
    }

    /// Whether a run begins at this byte.
    pub(super) fn begin_at(&self, byte: usize) -> bool {
        self.runs.iter().any(|run| run.range.start == byte)
    }

    /// The runs of a part of the text in visual order, left to right (rule L2).
    pub(super) fn visual(&self, part: &Range<usize>) -> RunList {
        let clip = |run: &TextRun| TextRun {
            range: run.range.start.max(part.start)..run.range.end.min(part.end),
            ..run.clone()
        };
        if let [run] = &self.runs[..] {
            // The way of nearly all texts.
            let seen = part.start < run.range.end && run.range.start < part.end;
            return if seen { smallvec![clip(run)] } else { RunList::new() };
        }
        let first = self.runs.partition_point(|run| run.range.end <= part.start);
        let clipped: RunList = self
            .runs
            .get(first..)
            .unwrap_or_default()
            .iter()
            .take_while(|run| run.range.start < part.end)
            .map(clip)
            .collect();
        if clipped.len() < 2 {
            return clipped;
        }
        let levels: Vec<Level> = clipped.iter().map(|run| run.level).collect();
        BidiInfo::reorder_visual(&levels)
            .into_iter()
            .filter_map(|index| clipped.get(index).cloned())
            .collect()
    }
}

/// The runs of a text.
pub(super) fn text_runs(text: &str) -> TextRuns {
    if is_printable_ascii(text) || text.chars().all(is_plain) {
        let latin =
            text.chars().any(|c| c.is_ascii_alphabetic() || c >= LATIN_FROM && c.is_alphabetic());
        let script = latin.then_some(Script::Latin);
        let run = TextRun { range: 0..text.len(), level: Level::ltr(), script, face: 0 };
        let runs = if text.is_empty() { RunList::new() } else { smallvec![run] };
        return TextRuns { runs, base: Level::ltr() };
    }
    any_runs(text)
}

/// Whether a text is of printable ASCII alone, which most are.
pub(super) fn is_printable_ascii(text: &str) -> bool {
    // All bytes are looked at, without stopping at the first that is not: so many at a time.
    text.bytes().fold(true, |all, byte| all & matches!(byte, b' '..=b'~'))
}

/// First of the Latin letters after the signs of Latin-1.
const LATIN_FROM: char = 'À';

/// Whether a character is of the Latin script or of none, and runs from left to right or
/// takes its neighbours' direction: printable ASCII, Latin-1 from À on and Latin
/// Extended-A (blocks of Unicode), and the dashes and quotes of U+2013 to U+201F. A text
/// of these alone is one run; a test holds this against the general rules.
fn is_plain(character: char) -> bool {
    matches!(character, ' '..='~' | LATIN_FROM..='\u{17F}' | '\u{2013}'..='\u{201F}')
}

/// The runs of a text by the general rules.
fn any_runs(text: &str) -> TextRuns {
    runs_from(text, base(text))
}

/// Level of a text by its first strong character.
fn base(text: &str) -> Level {
    match unicode_bidi::get_base_direction_full(text) {
        unicode_bidi::Direction::Rtl => Level::rtl(),
        _ => Level::ltr(),
    }
}

/// The runs of a text with this base.
fn runs_from(text: &str, base: Level) -> TextRuns {
    let levels = levels(text, base);
    let scripts = scripts(text);
    let mut runs = RunList::new();
    for ((start, character), script) in text.char_indices().zip(scripts) {
        let level = levels.get(start).copied().unwrap_or(base);
        let end = start + character.len_utf8();
        match runs.last_mut() {
            Some(run) if run.level == level && run.script == script => run.range.end = end,
            _ => runs.push(TextRun { range: start..end, level, script, face: 0 }),
        }
    }
    TextRuns { runs, base }
}

/// Levels by byte of a text with this base, each paragraph taken for a row (rule L1).
fn levels(text: &str, base: Level) -> Vec<Level> {
    let info = BidiInfo::new(text, Some(base));
    let mut levels = info.levels.clone();
    for paragraph in &info.paragraphs {
        let row = info.reordered_levels(paragraph, paragraph.range.clone());
        for byte in paragraph.range.clone() {
            if let (Some(level), Some(own)) = (levels.get_mut(byte), row.get(byte)) {
                *level = *own;
            }
        }
    }
    levels
}

/// Stretches of one script, in logical order, with their script.
pub(super) fn script_runs(text: &str) -> Vec<(Range<usize>, Option<Script>)> {
    let mut runs: Vec<(Range<usize>, Option<Script>)> = Vec::new();
    for ((start, character), script) in text.char_indices().zip(scripts(text)) {
        let end = start + character.len_utf8();
        match runs.last_mut() {
            Some((range, last)) if *last == script => range.end = end,
            _ => runs.push((start..end, script)),
        }
    }
    runs
}

/// Brackets and quotes that come in pairs.
const PAIRS: [(char, char); 6] =
    [('(', ')'), ('[', ']'), ('{', '}'), ('«', '»'), ('‹', '›'), ('“', '”')];

/// Most pairs open at once that are remembered (UAX #9 allows 63 of its brackets).
const MOST_OPEN: usize = 63;

/// For each character its script: that of its grapheme, so that a mark stays with
/// its letter, and neighbours lend theirs to graphemes without one.
fn scripts(text: &str) -> Vec<Option<Script>> {
    let own = |character: char| match character.script() {
        Script::Common | Script::Inherited | Script::Unknown => None,
        script => Some(script),
    };
    let mut last = text.chars().find_map(own);
    let mut scripts = Vec::with_capacity(text.len());
    // Closing marks that are waited for, with the script of what opened them.
    let mut open: Vec<(char, Option<Script>)> = Vec::new();
    for grapheme in text.graphemes(true) {
        last = grapheme.chars().find_map(own).or(last);
        let first = grapheme.chars().next().unwrap_or(' ');
        if let Some((_, closing)) = PAIRS.iter().find(|(opening, _)| *opening == first) {
            if open.len() < MOST_OPEN {
                open.push((*closing, last));
            }
        } else if let Some(at) = open.iter().rposition(|(closing, _)| *closing == first) {
            last = open.get(at).map_or(last, |(_, script)| *script);
            open.truncate(at);
        }
        scripts.extend(grapheme.chars().map(|_| last));
    }
    scripts
}

#[cfg(test)]
mod tests {
    use unicode_bidi::Level;
    use unicode_script::Script;

    use super::{any_runs, base, is_plain, runs_from, script_runs, text_runs};

    /// Unicode's own cases for UAX #9 (`BidiCharacterTest.txt`), of Debian's package
    /// `unicode-data`: levels, and the order from left to right.
    #[test]
    fn directions_are_those_of_unicodes_own_cases() {
        let path = "/usr/share/unicode/BidiCharacterTest.txt";
        let Ok(file) = std::fs::read_to_string(path) else {
            let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
            assert!(!must, "{path} is not there (Debian package unicode-data)");
            eprintln!("SKIPPED: {path} is not there (Debian package unicode-data)");
            return;
        };
        eprintln!("compared with {}", file.lines().next().unwrap());
        let cases = file.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        let (mut count, mut other) = (0, Vec::new());
        for line in cases {
            let fields: Vec<&str> = line.split(';').collect();
            let code = |text: &str| char::from_u32(u32::from_str_radix(text, 16).unwrap());
            let chars: Vec<char> = fields[0].split(' ').map(|c| code(c).unwrap()).collect();
            let text: String = chars.iter().collect();
            let level = match fields[1] {
                "0" => Level::ltr(),
                "1" => Level::rtl(),
                _ => base(&text),
            };
            let runs = runs_from(&text, level);
            let mut starts: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            starts.push(text.len());
            let index = |byte: usize| starts.binary_search(&byte).unwrap();
            let mut levels = vec![0; chars.len()];
            for run in &runs.runs {
                levels[index(run.range.start)..index(run.range.end)].fill(run.level.number());
            }
            let expected: Vec<&str> = fields[3].split(' ').collect();
            let shown = |at: &usize| expected[*at] != "x";
            let mut order: Vec<usize> = Vec::new();
            for run in runs.visual(&(0..text.len())) {
                let part = index(run.range.start)..index(run.range.end);
                if run.right_to_left() {
                    order.extend(part.rev().filter(shown));
                } else {
                    order.extend(part.filter(shown));
                }
            }
            let order: Vec<String> = order.iter().map(ToString::to_string).collect();
            let same = fields[2] == level.number().to_string()
                && (0..chars.len()).all(|at| !shown(&at) || expected[at] == levels[at].to_string())
                && order.join(" ") == fields[4].trim();
            count += 1;
            other.extend((!same).then_some(line));
        }
        assert!(count >= 91_000, "{count}");
        assert!(
            other.is_empty(),
            "{} of {count} differ: {:?}",
            other.len(),
            other.iter().take(5).collect::<Vec<_>>()
        );
    }

    #[test]
    fn a_closing_bracket_goes_with_its_opening_one() {
        let parts = |text: &'static str| {
            let runs = script_runs(text).into_iter();
            runs.map(|(range, script)| (&text[range], script.unwrap())).collect::<Vec<_>>()
        };
        let (latin, hebrew) = (Script::Latin, Script::Hebrew);
        assert_eq!(
            parts("Vale (שלום) ring."),
            [("Vale (", latin), ("שלום", hebrew), (") ring.", latin)]
        );
        assert_eq!(parts("שלום (Vale)."), [("שלום (", hebrew), ("Vale", latin), (").", hebrew)]);
        assert_eq!(parts("«שלום» 12"), [("«שלום» 12", hebrew)]);
    }

    #[test]
    fn plain_texts_have_the_runs_of_the_general_rules() {
        let plain: Vec<char> = ('\0'..='\u{2100}').filter(|c| is_plain(*c)).collect();
        assert!(plain.len() > 290);
        for &c in &plain {
            for text in [format!("{c}"), format!("a {c}"), format!("1{c}2"), format!("{c}é 3")] {
                assert_eq!(text_runs(&text), any_runs(&text), "{text:?}");
            }
        }
        assert_eq!(text_runs(""), any_runs(""));
        let all: String = plain.iter().collect();
        assert_eq!(text_runs(&all), any_runs(&all));
    }
}
