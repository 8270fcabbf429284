//! The shop's own figures, set once in `shop.toml`.

use std::collections::BTreeMap;

use super::cutter::{self, LAND};
use super::read::{Notes, Table, VERSION, Within, parsed, this_version};
use super::schema::{self, Schema};
use super::{Cutter, Diagnostic, Named, Paper, Process, Source};

/// A shop's own figures; everything absent falls back to the tables.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shop {
    /// Name printed on the sheets.
    pub name: Option<String>,
    /// Smallest cap height the shop makes, by process, mm.
    pub least_cap_height: BTreeMap<Process, f64>,
    /// Least white from lettering to a screw head, mm.
    pub text_to_head: Option<f64>,
    /// Paper for sheets where the layout names none.
    pub paper: Option<Paper>,
    /// Drills in the drawer, diameters in mm, ascending.
    pub drills: Vec<f64>,
    /// The shop's cutters, as listed.
    pub cutters: Vec<Cutter>,
    /// Least width of what is left standing between cuts, mm.
    pub least_land: Option<f64>,
}

/// Least cap heights, mm.
const CAP_HEIGHT: Within = Within::new(0.1, 1000.0);
/// White from lettering to a screw head, mm.
const TO_HEAD: Within = Within::new(0.0, 100.0);
/// Drills that a hole of a plaque may need, mm.
const DRILL: Within = Within::new(0.1, 50.0);

/// What editors and other programs are told of a shop file.
pub(super) fn keys() -> Schema {
    let least = Process::ALL.iter().map(|(word, _)| {
        (*word, schema::length(&format!("Least cap height, {word}."), CAP_HEIGHT))
    });
    let paper = "Paper of the sheets where a layout names none.";
    let to_head = "Least white from lettering to a screw head.";
    let drill = schema::length("Diameter.", DRILL);
    schema::table(
        "The shop's own figures, set once.",
        [
            ("ansata_shop", schema::version("Version of the shop file.", VERSION).needed()),
            ("name", schema::note("Name printed on the sheets.")),
            ("paper", schema::word::<Paper>(paper)),
            ("text_to_head", schema::length(to_head, TO_HEAD)),
            ("drills", schema::any_list("Drills in the drawer.", drill)),
            ("cutters", schema::any_list("Cutters of the shop.", cutter::keys("A cutter."))),
            (
                "least_land",
                schema::length("Least width of what is left standing between cuts.", LAND),
            ),
            ("least_cap_height", schema::table("Least cap heights, by process.", least)),
        ],
    )
}

/// Reads a `shop.toml`: TOML of at most 1 MiB, as strict as a layout. Drills come out in
/// ascending order, each once.
///
/// # Errors
/// Every mistake in the file, sorted by place, at most 40 of them; the list is never empty.
pub fn read_shop(source: &Source) -> Result<Shop, Vec<Diagnostic>> {
    let mut notes = Notes::new(source);
    match whole(&mut notes, source) {
        Some(shop) if notes.clean() => Ok(shop),
        _ => Err(notes.told()),
    }
}

fn whole(notes: &mut Notes<'_>, source: &Source) -> Option<Shop> {
    let tree = parsed(notes, source)?;
    let mut root = Table::root(&tree);
    if root.has("ansata") && !root.has("ansata_shop") {
        notes.missing(
            "ansata_shop",
            &root.span,
            "this is a layout, not a shop file",
            "a shop file begins with ansata_shop = 1",
        );
        return None;
    }
    let version = root.need(notes, "ansata_shop", "ansata_shop = 1 on the first line");
    if version.is_some_and(|entry| !this_version(&entry, notes)) {
        return None;
    }
    let name = root.note(notes, "name");
    let paper = root.word(notes, "paper");
    let text_to_head = root.length(notes, "text_to_head", TO_HEAD);
    let drills = root.take(notes, "drills").map_or_else(Vec::new, |entry| {
        let items = notes.list(&entry, "drills = [\"2 mm\", \"5/64 in\"]").unwrap_or_default();
        items.iter().filter_map(|item| notes.length(item, DRILL)).collect()
    });
    let cutters = root.take(notes, "cutters").map_or_else(Vec::new, |entry| {
        let items = notes.list(&entry, "cutters = [{ tip = \"0.25 mm\" }]").unwrap_or_default();
        let tables: Vec<_> = items.iter().filter_map(|item| notes.table(item)).collect();
        tables.into_iter().filter_map(|table| cutter::cutter(table, notes)).collect()
    });
    let least_land = root.length(notes, "least_land", LAND);
    let least_cap_height = root
        .table(notes, "least_cap_height")
        .map_or_else(BTreeMap::new, |table| least_cap_heights(table, notes));
    root.finish(notes);
    let drills = ascending(drills);
    Some(Shop { name, least_cap_height, text_to_head, paper, drills, cutters, least_land })
}

/// The table whose keys are the words for processes.
fn least_cap_heights(mut table: Table<'_>, notes: &mut Notes<'_>) -> BTreeMap<Process, f64> {
    let mut least = BTreeMap::new();
    for (word, process) in Process::ALL {
        if let Some(height) = table.length(notes, word, CAP_HEIGHT) {
            least.insert(*process, height);
        }
    }
    table.finish(notes);
    least
}

fn ascending(mut drills: Vec<f64>) -> Vec<f64> {
    drills.sort_by(f64::total_cmp);
    drills.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    drills
}
