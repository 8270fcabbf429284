//! The shipped lettering: what there is, under which licence, and where it stands.
//!
//! The list is `fonts-open/catalogue.toml`; the files themselves are in
//! [`super::shipped`].

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

use super::{Figures, Group, SmallCapitals, shipped};
use crate::layout::{Axis, Named};

/// An axis of a family.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyAxis {
    /// Which.
    pub axis: Axis,
    /// Least value.
    pub least: f32,
    /// Greatest value.
    pub most: f32,
    /// Words for values within the range, rising.
    pub words: Vec<(&'static str, f32)>,
}

/// One style of a family that a layout can name.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Name as a layout writes it, such as `EB Garamond Italic`.
    pub name: String,
    /// Index of its family in the catalogue.
    pub family: usize,
    /// File in `fonts-open/`.
    pub file: String,
    /// SHA-256 of the file, hexadecimal.
    pub sha256: String,
    /// Values at which the axes stand; every axis of the file.
    pub axes: Vec<(String, f32)>,
    /// Reference letter of the cap height where flat capitals differ (scripts).
    pub reference: Option<char>,
    /// Cap height as the catalogue states it, font units; a test measures it again.
    pub cap_units: f64,
    /// Height of x as the catalogue states it, font units; a test measures it again.
    pub x_units: f64,
    /// Heights above the baseline of the reference letters of scripts other than Latin,
    /// font units; a test measures them again.
    pub letters: Vec<(String, f64)>,
}

impl Entry {
    /// Whether it is of centre lines, which a tool follows once (see
    /// [`Face::single_stroke`](super::Face::single_stroke)).
    #[must_use]
    pub fn single_stroke(&self) -> bool {
        std::path::Path::new(&self.file).extension().is_some_and(|kind| kind == "svg")
    }
}

/// A family with its licence.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Name.
    pub name: String,
    /// Folder in `fonts-open/`.
    pub folder: String,
    /// SPDX licence id.
    pub spdx: String,
    /// Names that the licence reserves for the unmodified files.
    pub reserved_names: Vec<String>,
    /// Copyright line.
    pub copyright: String,
    /// Words that a customer uses for its look.
    pub look: Vec<String>,
    /// Where it is listed.
    pub group: Group,
    /// Scripts covered (ISO 15924), each with its reference letter.
    pub scripts: Vec<(String, char)>,
    /// Small capitals.
    pub small_capitals: SmallCapitals,
    /// Styles of figures beside the usual ones.
    pub figures: Vec<Figures>,
    /// Axes that a layout can set; none for a family of single files.
    pub axes: Vec<FamilyAxis>,
    /// Where the files came from: registry, package, version.
    pub source: String,
    /// The whole licence, as it stands beside the files.
    pub licence_text: &'static str,
}

impl Family {
    /// An axis, where the family has it.
    #[must_use]
    pub fn axis(&self, axis: Axis) -> Option<&FamilyAxis> {
        self.axes.iter().find(|known| known.axis == axis)
    }

    /// Whether a script (ISO 15924) is covered.
    #[must_use]
    pub fn has_script(&self, code: &str) -> bool {
        self.scripts.iter().any(|(known, _)| known == code)
    }
}

/// The whole catalogue.
#[derive(Debug, Clone, PartialEq)]
pub struct Catalogue {
    /// Families in the order of the list.
    pub families: Vec<Family>,
    /// Entries in the order of the list.
    pub entries: Vec<Entry>,
}

impl Catalogue {
    /// The entry of a name as the catalogue spells it.
    #[must_use]
    pub fn entry(&self, name: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.name == name)
    }

    /// The family of an entry.
    #[must_use]
    pub fn family(&self, entry: &Entry) -> Option<&Family> {
        self.families.get(entry.family)
    }

    /// The list as it is shipped, read anew.
    ///
    /// # Errors
    /// None that a user can meet: a test reads the list. For its speed, and for whoever
    /// changes it.
    pub fn shipped() -> Result<Self, CatalogueError> {
        read(shipped::CATALOGUE)
    }

    /// Entries in the order in which they are shown: by group, then as in the list.
    #[must_use]
    pub fn shown(&self) -> Vec<&Entry> {
        let mut entries: Vec<&Entry> = self.entries.iter().collect();
        entries.sort_by_key(|entry| self.family(entry).map(|family| family.group));
        entries
    }

    /// The single-stroke letterings, in the order of the list: what a tool that only scratches
    /// or burnishes a line can make.
    pub fn single_stroke(&self) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(|entry| entry.single_stroke())
    }

    /// Names of all entries, in the order of the list.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.entries.iter().map(|entry| entry.name.as_str())
    }
}

/// A broken catalogue (cannot happen with the shipped one, which a test reads).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CatalogueError(pub String);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCatalogue {
    family: Vec<RawFamily>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFamily {
    name: String,
    folder: String,
    spdx: String,
    reserved_names: Vec<String>,
    copyright: String,
    look: Vec<String>,
    group: String,
    scripts: BTreeMap<String, char>,
    small_capitals: String,
    figures: Vec<String>,
    #[serde(default)]
    axes: BTreeMap<String, [f32; 2]>,
    #[serde(default)]
    optical_sizes: BTreeMap<String, f32>,
    source: RawSource,
    file: Vec<RawFile>,
    entry: Vec<RawEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSource {
    registry: String,
    package: String,
    version: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    name: String,
    sha256: String,
    #[serde(rename = "path")]
    _path: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawEntry {
    name: String,
    file: String,
    axes: BTreeMap<String, f32>,
    reference: Option<char>,
    cap: f64,
    x: f64,
    #[serde(default)]
    letters: BTreeMap<String, f64>,
}

/// The shipped catalogue.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    static READ: OnceLock<Catalogue> = OnceLock::new();
    READ.get_or_init(shipped_catalogue)
}

fn shipped_catalogue() -> Catalogue {
    read(shipped::CATALOGUE).expect("the embedded list is fixed at build time and read by a test")
}

/// The catalogue that a text states.
///
/// # Errors
/// Text that is not such a list; an entry whose file is not in its family or not
/// embedded; a family without an embedded licence; a name given twice.
fn read(text: &str) -> Result<Catalogue, CatalogueError> {
    let raw: RawCatalogue = toml::from_str(text).map_err(|e| CatalogueError(e.to_string()))?;
    let mut catalogue = Catalogue { families: Vec::new(), entries: Vec::new() };
    for family in raw.family {
        let entries = entries(&family, catalogue.families.len())?;
        for entry in entries {
            if catalogue.entry(&entry.name).is_some() {
                return Err(CatalogueError(format!("`{}` is listed twice", entry.name)));
            }
            catalogue.entries.push(entry);
        }
        let licence_text = shipped::licence(&family.folder)
            .ok_or_else(|| CatalogueError(format!("no licence of `{}`", family.name)))?;
        let axes = axes(&family)?;
        let figures: Result<_, _> = family.figures.iter().map(|figures| word(figures)).collect();
        let RawSource { registry, package, version } = family.source;
        catalogue.families.push(Family {
            name: family.name,
            folder: family.folder,
            spdx: family.spdx,
            reserved_names: family.reserved_names,
            copyright: family.copyright,
            look: family.look,
            group: word(&family.group)?,
            scripts: scripts(family.scripts),
            small_capitals: word(&family.small_capitals)?,
            figures: figures?,
            axes,
            source: format!("{registry}: {package} {version}"),
            licence_text,
        });
    }
    Ok(catalogue)
}

/// Latin first, then by code.
fn scripts(listed: BTreeMap<String, char>) -> Vec<(String, char)> {
    let mut scripts: Vec<(String, char)> = listed.into_iter().collect();
    scripts.sort_by_key(|(code, _)| code != "Latn");
    scripts
}

/// A value of a closed list of words.
fn word<T: Named>(text: &str) -> Result<T, CatalogueError> {
    let found = T::ALL.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
    found.ok_or_else(|| CatalogueError(format!("`{text}` is none of the words for it")))
}

/// The axes of a family in the order in which they are named, with their words: those of
/// the family, else the usual ones within its range.
fn axes(family: &RawFamily) -> Result<Vec<FamilyAxis>, CatalogueError> {
    if let Some(tag) = family.axes.keys().find(|tag| Axis::of_tag(tag).is_none()) {
        return Err(CatalogueError(format!("`{tag}` is no axis that a layout can set")));
    }
    let read = |axis: Axis| {
        let [least, most] = *family.axes.get(axis.tag())?;
        let own = |word: &str| family.optical_sizes.get(word).copied();
        let words = axis.words().iter().filter_map(|(word, usual)| {
            let value = usual.map_or_else(|| own(word), |usual| Some(thousandths(usual)))?;
            (least..=most).contains(&value).then_some((*word, value))
        });
        Some(FamilyAxis { axis, least, most, words: words.collect() })
    };
    Ok(Axis::ALL.into_iter().filter_map(read).collect())
}

/// A value on the grid of layouts as fonts take it.
#[expect(
    clippy::cast_possible_truncation,
    reason = "fonts hold such values with fewer digits than f32"
)]
pub(super) fn thousandths(value: u32) -> f32 {
    (f64::from(value) / 1000.0) as f32
}

fn entries(family: &RawFamily, index: usize) -> Result<Vec<Entry>, CatalogueError> {
    let one = |raw: &RawEntry| {
        let file = format!("{}/{}", family.folder, raw.file);
        let listed = family.file.iter().find(|f| f.name == raw.file);
        let (Some(listed), Some(_)) = (listed, shipped::file(&file)) else {
            return Err(CatalogueError(format!("`{}` names no shipped file", raw.name)));
        };
        Ok(Entry {
            name: raw.name.clone(),
            family: index,
            file,
            sha256: listed.sha256.clone(),
            axes: raw.axes.iter().map(|(tag, value)| (tag.clone(), *value)).collect(),
            reference: raw.reference,
            cap_units: raw.cap,
            x_units: raw.x,
            letters: raw.letters.iter().map(|(script, top)| (script.clone(), *top)).collect(),
        })
    };
    family.entry.iter().map(one).collect()
}

/// The entry whose name is nearest to what was written, if any is near.
///
/// Case and spaces do not count. Near: at most `1 + length / 4` letters wrong, missing,
/// added or exchanged (Damerau and Levenshtein's distance); else a name that
/// begins with what was written, or is the beginning of it. The first of the list
/// wins a tie.
#[must_use]
pub fn nearest_entry(written: &str) -> Option<&'static Entry> {
    let plain = |name: &str| -> String {
        name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    let written = plain(written);
    // Longer than any name by far: nothing is near, and the distance is quadratic.
    if written.is_empty() || written.len() > 200 {
        return None;
    }
    let allowed = 1 + written.chars().count() / 4;
    let entries = &catalogue().entries;
    let distance = |entry: &Entry| strsim::damerau_levenshtein(&plain(&entry.name), &written);
    let near = entries.iter().min_by_key(|entry| distance(entry))?;
    if distance(near) <= allowed {
        return Some(near);
    }
    let begins = |entry: &&Entry| {
        let name = plain(&entry.name);
        written.chars().count() >= 3 && (name.starts_with(&written) || written.starts_with(&name))
    };
    entries.iter().find(begins)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_list_reads_and_holds_what_it_promises() {
        let list = read(shipped::CATALOGUE).unwrap();
        assert_eq!(list.families.len(), 25);
        assert_eq!(list.entries.len(), 53);
        for family in &list.families {
            let text = family.licence_text.to_uppercase();
            let licence = match family.spdx.as_str() {
                "Apache-2.0" => "APACHE LICENSE",
                "LicenseRef-Hershey" => "THE HERSHEY FONTS WERE ORIGINALLY CREATED BY DR.",
                _ => "SIL OPEN FONT LICENSE",
            };
            assert!(text.contains(licence), "{}", family.name);
            // The Apache License is the same for everyone and names nobody; Debian puts the
            // years of its copyright lines otherwise.
            let text: Vec<&str> = family.licence_text.split_whitespace().collect();
            let named = text.join(" ").contains(&family.copyright);
            assert!(named || ["Roboto Slab", "Yellowtail", "Berenika"].contains(&&*family.name));
        }
    }

    #[test]
    fn a_broken_list_is_told_not_shipped() {
        assert!(read("family = 3").is_err());
        let twice = format!("{0}\n{0}", shipped::CATALOGUE);
        assert!(read(&twice).unwrap_err().0.contains("listed twice"));
        let lost = shipped::CATALOGUE.replace("Besley_700Bold.ttf", "Besley_800.ttf");
        assert!(read(&lost).unwrap_err().0.contains("names no shipped file"));
    }

    #[test]
    fn a_slip_of_the_pen_finds_the_name() {
        let near = |written| nearest_entry(written).map(|entry| entry.name.as_str());
        assert_eq!(near("EB Garamnd Italic"), Some("EB Garamond Italic"));
        assert_eq!(near("cinzel"), Some("Cinzel"));
        assert_eq!(near("Atkinson"), Some("Atkinson Hyperlegible"));
        assert_eq!(near("Libre Baskerville Bold Condensed"), Some("Libre Baskerville"));
        assert_eq!(near("zzzzzz"), None);
        assert_eq!(near(""), None);
    }
}
