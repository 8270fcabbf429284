//! The bytes of the shipped lettering, held in the program so that it works anywhere.
//!
//! The files stand unmodified, each beside its licence, as the Open Font License
//! asks (condition 2 allows bundling where every copy carries copyright notice
//! and licence); [`super::Family::licence_text`] shows it to the user.

/// The machine-readable list.
pub(super) const CATALOGUE: &str = include_str!("../../fonts-open/catalogue.toml");

macro_rules! shipped {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_bytes!(concat!("../../fonts-open/", $path)))),*]
    };
}

macro_rules! licences {
    ($($folder:literal),* $(,)?) => {
        &[$(($folder, include_str!(concat!("../../fonts-open/", $folder, "/LICENSE.txt")))),*]
    };
}

const FILES: &[(&str, &[u8])] = shipped![
    "cinzel/Cinzel[wght].ttf",
    "eb-garamond/EBGaramond[wght].ttf",
    "eb-garamond/EBGaramond-Italic[wght].ttf",
    "libre-baskerville/LibreBaskerville[wght].ttf",
    "libre-baskerville/LibreBaskerville-Italic[wght].ttf",
    "besley/Besley_400Regular.ttf",
    "besley/Besley_400Regular_Italic.ttf",
    "besley/Besley_700Bold.ttf",
    "archivo/Archivo[wdth,wght].ttf",
    "atkinson-hyperlegible/AtkinsonHyperlegible-Regular.ttf",
    "atkinson-hyperlegible/AtkinsonHyperlegible-Italic.ttf",
    "atkinson-hyperlegible/AtkinsonHyperlegible-Bold.ttf",
    "atkinson-hyperlegible/AtkinsonHyperlegible-BoldItalic.ttf",
    "great-vibes/GreatVibes-Regular.ttf",
    "frank-ruhl-libre/FrankRuhlLibre[wght].ttf",
];

const LICENCES: &[(&str, &str)] = licences![
    "cinzel",
    "eb-garamond",
    "libre-baskerville",
    "besley",
    "archivo",
    "atkinson-hyperlegible",
    "great-vibes",
    "frank-ruhl-libre",
];

/// A shipped file by its path below `fonts-open/`.
pub(super) fn file(path: &str) -> Option<&'static [u8]> {
    FILES.iter().find(|(name, _)| *name == path).map(|(_, bytes)| *bytes)
}

/// The licence that stands in a family's folder.
pub(super) fn licence(folder: &str) -> Option<&'static str> {
    LICENCES.iter().find(|(name, _)| *name == folder).map(|(_, text)| *text)
}
