//! Promises about lettering files of the user's own.

use ansata::finding::Severity;
use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};
use ansata::lettering::catalogue;
use ansata::{drawing, sheets};

fn file(path: &str) -> Vec<u8> {
    std::fs::read(format!("{}/fonts-open/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// Offset of a table in a file of one face, and its length.
fn table(bytes: &[u8], tag: &[u8; 4]) -> (usize, usize) {
    let record = bytes[12..].chunks(16).find(|record| record.starts_with(tag)).unwrap();
    let number = |at: usize| u32::from_be_bytes(record[at..at + 4].try_into().unwrap());
    (number(8).try_into().unwrap(), number(12).try_into().unwrap())
}

/// Puts the right checksum of a changed table into the directory.
fn sealed(mut bytes: Vec<u8>, tag: &[u8; 4]) -> Vec<u8> {
    let (offset, length) = table(&bytes, tag);
    let mut words = bytes[offset..offset + length].to_vec();
    words.resize(length.next_multiple_of(4), 0);
    let sum = words
        .chunks(4)
        .fold(0_u32, |sum, word| sum.wrapping_add(u32::from_be_bytes(word.try_into().unwrap())));
    let record = bytes[12..].chunks(16).position(|record| record.starts_with(tag)).unwrap();
    bytes[12 + 16 * record + 4..][..4].copy_from_slice(&sum.to_be_bytes());
    bytes
}

fn with_embedding(bytes: &[u8], embedding: u16) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    let (offset, _) = table(&bytes, b"OS/2");
    bytes[offset + 8..offset + 10].copy_from_slice(&embedding.to_be_bytes());
    sealed(bytes, b"OS/2")
}

/// A job whose lines are set in this file.
fn set_in(bytes: &[u8], text: &str) -> Job {
    let layout = format!(
        "ansata = 1\ntitle = \"Cup\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
         [lettering]\ndefault = {{ file = \"our.ttf\" }}\n[[line]]\ntext = \"{text}\"\n\
         [[line]]\ntext = \"Vale\"\n"
    );
    let source = Source { name: "cup.toml".to_owned(), text: layout };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let own = |_: &str| Ok(bytes.to_vec());
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &own).unwrap();
    job(&layout).unwrap()
}

/// Findings of the file itself: code, place and message.
fn told(job: &Job) -> Vec<(&str, Severity, &str, &str)> {
    let own =
        ["lettering-damaged", "lettering-restricted", "lettering-without-licence", "blank-letter"];
    (job.findings.iter().map(|judged| &judged.finding))
        .filter(|finding| own.contains(&finding.code))
        .map(|f| (f.code, f.severity, f.place.key.as_str(), f.message.as_str()))
        .collect()
}

#[test]
fn a_whole_file_with_its_licence_has_no_finding_and_is_named_as_it_names_itself() {
    let job = set_in(&file("besley/Besley_700Bold.ttf"), "TENOR");
    assert_eq!(told(&job), []);
    let inside = job.lines[0].face.inside.as_ref().unwrap();
    assert_eq!(inside.name.as_deref(), Some("Besley Bold"));
    let proof = format!("{:?}", sheets::proof(&job, &[]).drawing);
    assert!(proof.contains("Besley Bold"), "the proof names what the file holds");
    assert!(proof.contains("which says"), "and the licence in it");
}

#[test]
fn a_file_without_a_licence_is_noted_once() {
    // Yellowtail holds neither name 13 nor 14 (fontTools).
    let job = set_in(&file("yellowtail/Yellowtail-Regular.ttf"), "Tenor");
    let [(code, severity, place, message)] = told(&job)[..] else { panic!("{:?}", told(&job)) };
    assert_eq!((code, severity), ("lettering-without-licence", Severity::Note));
    assert_eq!(place, "lettering.default");
    assert!(
        message.starts_with("our.ttf (Yellowtail Regular) holds no word of its licence"),
        "{message}"
    );
}

#[test]
fn a_restricted_file_is_a_caution_and_no_sheet_holds_the_font() {
    // A letter that the label face lacks: labels take it from the job's own lettering.
    let garamond = file("eb-garamond/EBGaramond[wght].ttf");
    let holds = |job: &Job| {
        let pdf = drawing::write::pdf(&sheets::proof(job, &[]).drawing).unwrap();
        pdf.windows(10).any(|part| part == b"EBGaramond")
    };
    let free = set_in(&garamond, "Ѣ");
    assert!(told(&free).is_empty() && holds(&free), "{:?}", told(&free));
    let job = set_in(&with_embedding(&garamond, 2), "Ѣ");
    let [(code, severity, _, message)] = told(&job)[..] else { panic!("{:?}", told(&job)) };
    assert_eq!((code, severity), ("lettering-restricted", Severity::Caution));
    assert!(message.contains("outlines"), "{message}");
    assert!(!job.stopped());
    let face = &job.lines[0].face;
    assert!(!face.embeddable());
    let proof = sheets::proof(&job, &[]);
    let own = format!("{:?}", proof.drawing).matches(&format!("{face:?}")).count();
    assert_eq!(own, 0, "labels are set in the restricted font");
}

#[test]
fn a_damaged_table_is_a_caution_that_names_it() {
    let mut bytes = file("besley/Besley_700Bold.ttf");
    let (offset, _) = table(&bytes, b"glyf");
    bytes[offset + 2000] ^= 0x10;
    let job = set_in(&bytes, "TENOR");
    let told = told(&job);
    assert_eq!((told[0].0, told[0].1), ("lettering-damaged", Severity::Caution));
    assert!(told[0].3.contains("its table glyf does not agree"), "{}", told[0].3);
}

#[test]
fn a_letter_without_a_shape_stops_the_artwork() {
    // Besley's T made empty: its place in `loca` begins where the next one does.
    let mut bytes = file("besley/Besley_700Bold.ttf");
    let face = crate::lettering::shipped("Besley Bold");
    let glyph = usize::from(ansata::lettering::shaped_run("T", &face, &[]).glyphs[0].id);
    let (head, _) = table(&bytes, b"head");
    let wide = bytes[head + 51] == 1;
    let (loca, _) = table(&bytes, b"loca");
    let width = if wide { 4 } else { 2 };
    let next = bytes[loca + (glyph + 1) * width..][..width].to_vec();
    bytes[loca + glyph * width..][..width].copy_from_slice(&next);
    let job = set_in(&sealed(bytes, b"loca"), "TENOR");
    let told = told(&job);
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!((told[0].0, told[0].1, told[0].2), ("blank-letter", Severity::Stop, "line.1.text"));
    assert!(told[0].3.contains("draws nothing for “T” (U+0054)"), "{}", told[0].3);
    assert!(job.withholds(ansata::finding::Scope::Lettering));
}
