//! From the file's text to a [`Layout`], or to all its mistakes. The file is walked by
//! hand rather than deserialised, so that every mistake is told at once and at its own
//! place, inside braces too.

mod accept;
mod colours;
mod date;
mod engraving;
mod face;
mod face_edge;
mod fixing;
mod from_face;
mod grain;
mod holes;
mod lettering;
mod line;
mod mount;
mod notes;
mod old_holes;
mod ornament;
mod photo;
mod photo_making;
mod photo_size;
mod plate;
mod polygon;
mod proof;
mod recess;
mod setting;
mod shape;
mod syntax;
mod table;
mod value;
mod wording;
mod words;

pub use date::is_date;
pub(super) use lettering::braces_keys;
pub(super) use notes::Notes;
pub use photo::{NoPhotograph, Photograph, Photographs};
pub(super) use syntax::parsed;
pub(super) use table::Table;
pub(super) use value::{LONGEST_LIST, LONGEST_NOTE, Within};

use serde_json::json;
use toml::de::DeValue;

use super::diagnostic::quoted;
use super::schema::{self, Schema};
use super::{Diagnostic, Layout, Shop, Source};
use super::{FitMode, Named};
use from_face::FaceTold;
use lettering::Letterings;
use line::Usual;

/// The version of the layout file that this program reads.
pub(super) const VERSION: u32 = 1;

/// Words that only later rooms know, so that the layout can check names and
/// offer the nearest.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    /// Names of shipped lettering; a layout may name no other.
    pub lettering: Vec<String>,
}

/// Reads a file named in a layout, by the path as written there. The error is
/// a sentence without the path.
pub type Companions<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, String>;

/// What editors and other programs are told of the whole file.
pub(super) fn keys() -> Schema {
    let wording = "The client's text as they sent it: path of a file, each line of which is a \
                   line of the inscription.";
    let fixed = json!({ "required": ["fit"], "properties": { "fit": { "required": ["mode"],
        "properties": { "mode": { "const": FitMode::Fixed.word() } } } } });
    let each_line = |keys: &[&str]| {
        let any: Vec<_> = keys.iter().map(|key| json!({ "required": [key] })).collect();
        json!({ "items": { "anyOf": any } })
    };
    schema::table(
        "What a plaque is to be: inscription, plate, lettering, mount.",
        [
            ("ansata", schema::version("Version of the layout file.", VERSION).needed()),
            ("title", schema::note("What the work is called.").needed()),
            ("proof", proof::keys()),
            ("plate", plate::keys().needed()),
            ("engraving", engraving::engraving_keys()),
            ("fit", engraving::fit_keys()),
            ("lettering", lettering::keys()),
            ("wording", schema::note(wording)),
            ("line", line::keys()),
            ("corners", ornament::corners_keys()),
            ("photo", photo::keys()),
            ("mount", mount::keys()),
            ("face", face::keys()),
            ("accept", accept::keys()),
        ],
    )
    .also(json!({ "oneOf": [{ "required": ["line"] }, { "required": ["wording"] }] }))
    // Without a default each line names its lettering, and a file of wording cannot.
    .also(json!({ "anyOf": [{ "required": ["lettering"] },
        { "required": ["line"], "properties": { "line": each_line(&["lettering", "divider", "emblem"]) } }] }))
    .also(mount::conditions())
    .also(json!({ "if": fixed,
        "then": { "required": ["line"],
            "properties": { "line": each_line(&["cap_height", "divider", "height"]) } } }))
}

/// Reads a layout: TOML of at most 1 MiB, each key known, each length with its unit.
/// Every default is filled in; what is returned has no contradictions left in it.
///
/// `companions` is asked for the client's wording, and for lettering files, drawings and
/// photographs of the user's own, and for nothing else.
///
/// # Errors
/// Every mistake in the file, sorted by place, then those in the wording file it names.
/// At most 40 are told, the last of them with the number left out; the list is never
/// empty.
pub fn read(
    source: &Source,
    shop: Shop,
    vocabulary: &Vocabulary,
    companions: Companions<'_>,
) -> Result<Layout, Vec<Diagnostic>> {
    read_with(source, shop, vocabulary, companions, &|path| {
        Photograph::of(&companions(path).map_err(NoPhotograph::File)?)
    })
}

/// As [`read`], with photographs from elsewhere, such as from a store of those that were read
/// before: reading one takes longer than all the rest.
///
/// # Errors
/// As [`read`].
pub fn read_with(
    source: &Source,
    shop: Shop,
    vocabulary: &Vocabulary,
    companions: Companions<'_>,
    photographs: Photographs<'_>,
) -> Result<Layout, Vec<Diagnostic>> {
    let mut notes = Notes::new(source);
    let letterings = Letterings::new(vocabulary, companions);
    match whole(&mut notes, source, shop, letterings, photographs) {
        Some(layout) if notes.clean() => Ok(layout),
        _ => Err(notes.told()),
    }
}

/// The whole file. `None` only where a mistake is noted.
fn whole(
    notes: &mut Notes<'_>,
    source: &Source,
    shop: Shop,
    mut letterings: Letterings<'_>,
    photographs: Photographs<'_>,
) -> Option<Layout> {
    let tree = parsed(notes, source)?;
    let mut root = Table::root(&tree);
    if !version(&mut root, notes) {
        return None;
    }
    let title = root.need(notes, "title", "title = \"…\": what the work is called");
    let title = title.and_then(|entry| notes.note(&entry));
    let proof = root.table(notes, "proof").map(|table| proof::proof(table, notes));
    // The plate may take its size from the face; the keys are offered in their own order.
    for key in
        ["plate", "engraving", "fit", "lettering", "line", "wording", "corners", "photo", "mount"]
    {
        let _ = root.take(notes, key);
    }
    let has_face = root.has("face");
    let face = root.table(notes, "face").and_then(|table| face::face(table, notes));
    let goes_on = match &face {
        Some((face, _)) => FaceTold::Told(face),
        None if has_face => FaceTold::Wrong,
        None => FaceTold::None,
    };
    let plate = root
        .need(notes, "plate", "[plate] and under it size = \"120 x 80 mm\"")
        .and_then(|entry| notes.table(&entry))
        .and_then(|table| plate::plate(table, notes, goes_on));
    let engraving = root.table(notes, "engraving");
    let engraving = engraving::engraving(engraving, notes);
    let fit = root.table(notes, "fit");
    let (fit, hyphens) = engraving::fit(fit, notes);
    if let Some(table) = root.table(notes, "lettering") {
        letterings.read_default(table, notes);
    }
    let lines = lines(&mut root, notes, &mut letterings, Usual { mode: fit.mode, hyphens });
    let shape = plate.as_ref().map(|plate| &plate.shape);
    let corners = root.table(notes, "corners");
    let corners = corners.map(|table| ornament::corners(table, notes, shape));
    let photos = root.take(notes, "photo");
    let photos = photos.map_or_else(Vec::new, |entry| photo::photos(&entry, notes, photographs));
    let mount = match root.table(notes, "mount") {
        Some(table) => mount::mount(table, notes, shape),
        None => Some(mount::unsaid()),
    };
    let face = face.map(|(face, span)| {
        face::thickness_told(&face, &span, mount.as_ref(), notes);
        face
    });
    if let Some(mount) = &mount {
        mount::slots_on(mount, face.as_ref(), has_face, notes);
    }
    let accepted = root.take(notes, "accept").map(|entry| accept::accepted(&entry, notes));
    root.finish(notes);

    let inches = notes.inch_lead > 0;
    let (title, plate, lines, mount) = (title?, plate?, lines?, mount?);
    Some(Layout {
        title,
        proof: proof.unwrap_or_default().filled(&shop, inches),
        plate,
        engraving,
        fit,
        lines,
        corners: corners.flatten(),
        photos,
        mount,
        face,
        accepted: accepted.unwrap_or_default(),
        shop,
        inches,
        keys: std::mem::take(&mut notes.keys),
    })
}

/// Whether the file is a layout of the version that is read here. Where it is not, its
/// keys may mean something else: nothing more is said of them.
fn version(root: &mut Table<'_>, notes: &mut Notes<'_>) -> bool {
    if root.has("ansata_shop") && !root.has("ansata") {
        notes.missing(
            "ansata",
            &root.span,
            "this is a shop file, not a layout",
            "name it with --shop, or write ansata = 1 if it is meant as a layout",
        );
        return false;
    }
    if root.has("ansata_signed") && !root.has("ansata") {
        notes.missing(
            "ansata",
            &root.span,
            "this is the record of a sign-off, not a layout",
            "name the layout that was signed, or give both to `ansata compare`",
        );
        return false;
    }
    let Some(entry) = root.need(notes, "ansata", "ansata = 1 on the first line") else {
        return true;
    };
    this_version(&entry, notes)
}

/// Whether a version is the one that is read here.
pub(super) fn this_version(entry: &value::Entry<'_>, notes: &mut Notes<'_>) -> bool {
    let right = format!("write {} = {VERSION}", entry.path);
    match entry.value {
        DeValue::Integer(n) if n.to_string() == VERSION.to_string() => return true,
        DeValue::Integer(n) => notes.wrong(
            &entry.span,
            format!(
                "the file is of version {}, this program reads version {VERSION}",
                quoted(&n.to_string()).trim_matches('`')
            ),
            format!("{right}, if its keys are those of version {VERSION}"),
        ),
        _ => notes.of_kind(entry, "a whole number", right),
    }
    false
}

/// The inscription: from `[[line]]` tables or from the client's own file, not both.
fn lines(
    root: &mut Table<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
    usual: Usual,
) -> Option<Vec<super::Line>> {
    root.contradiction(
        notes,
        "wording",
        "line",
        "take the inscription from the file or from [[line]] tables, not from both",
    );
    let typed = root.take(notes, "line");
    let file = root.take(notes, "wording");
    match (typed, file) {
        (Some(_), Some(_)) => None,
        (Some(entry), None) => line::lines(&entry, notes, letterings, usual),
        (None, Some(entry)) => wording::lines(&entry, notes, letterings, usual),
        (None, None) => {
            notes.missing(
                "line",
                &root.span,
                "there is no inscription",
                "write [[line]] and under it text = \"…\", or wording = \"the-clients-file.txt\"",
            );
            None
        }
    }
}
