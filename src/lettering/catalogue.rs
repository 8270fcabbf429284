//! The shipped lettering: what there is, under which licence, and where it stands.

/// One style of a family that a layout can name.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Name as a layout writes it, such as `EB Garamond Italic`.
    pub name: String,
    /// Index of its family in the catalogue.
    pub family: usize,
    /// File in `fonts-open/`.
    pub file: String,
    /// Values at which the axes stand; every axis of the file.
    pub axes: Vec<(String, f32)>,
    /// Reference letter of the cap height where flat capitals differ (scripts).
    pub reference: Option<char>,
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
    /// Copyright line.
    pub copyright: String,
    /// Words that a customer uses for its look.
    pub look: Vec<String>,
    /// Scripts covered (ISO 15924).
    pub scripts: Vec<String>,
}

/// The whole catalogue.
#[derive(Debug, Clone, PartialEq)]
pub struct Catalogue {
    /// Families in the order of the list.
    pub families: Vec<Family>,
    /// Entries in the order of the list.
    pub entries: Vec<Entry>,
}

/// A broken catalogue (cannot happen with the shipped one, which a test reads).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CatalogueError(pub String);

/// The shipped catalogue.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    todo!()
}

/// The entry whose name is nearest to what was written, if any is near.
#[must_use]
pub fn nearest_entry(written: &str) -> Option<&'static Entry> {
    let _ = written;
    todo!()
}
