//! The bytes of the shipped lettering, held in the program so that it works anywhere.
//!
//! The files stand unmodified, each beside its licence, as the Open Font License,
//! the Apache License and the makers of the Hershey Fonts ask (every copy carries its copyright notice and licence);
//! [`super::Family::licence_text`] shows it to the user.

/// The machine-readable list.
pub(super) const CATALOGUE: &str = include_str!("../../fonts-open/catalogue.toml");

macro_rules! shipped {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_bytes!(concat!("../../fonts-open/", $path)))),*]
    };
}

macro_rules! licences {
    ($($folder:literal $(+ $further:literal)?),* $(,)?) => {
        &[$(($folder, concat!(
            include_str!(concat!("../../fonts-open/", $folder, "/LICENSE.txt")),
            $("\n", include_str!(concat!("../../fonts-open/", $folder, "/", $further)),)?
        ))),*]
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
    "marcellus/Marcellus-Regular.ttf",
    "bodoni-moda/BodoniModa[opsz,wght].ttf",
    "bodoni-moda/BodoniModa-Italic[opsz,wght].ttf",
    "roboto-slab/RobotoSlab[wght].ttf",
    "roboto/Roboto[wdth,wght].ttf",
    "cabin/Cabin[wdth,wght].ttf",
    "cabin/Cabin-Italic[wdth,wght].ttf",
    "jost/Jost[wght].ttf",
    "jost/Jost-Italic[wght].ttf",
    "oswald/Oswald[wght].ttf",
    "pinyon-script/PinyonScript_400Regular.ttf",
    "yellowtail/Yellowtail-Regular.ttf",
    "unifraktur-maguntia/UnifrakturMaguntia_400Regular.ttf",
    "berenika/Berenika.ttf",
    "berenika/Berenika-Bold.ttf",
    "amiri/Amiri-Regular.ttf",
    "amiri/Amiri-Bold.ttf",
    "noto-sans-devanagari/NotoSansDevanagari[wdth,wght].ttf",
    "ems-readability/EMSReadability.svg",
    "ems-readability/EMSReadabilityItalic.svg",
    "ems-nixish/EMSNixish.svg",
    "ems-allure/EMSAllure.svg",
    "hershey-svg/HersheySans1.svg",
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
    "marcellus",
    "bodoni-moda",
    "roboto-slab",
    "roboto",
    "cabin",
    "jost",
    "oswald",
    "pinyon-script",
    "yellowtail",
    "unifraktur-maguntia",
    "berenika",
    "amiri",
    "noto-sans-devanagari",
    "ems-readability",
    "ems-nixish",
    "ems-allure",
    "hershey-svg" + "LICENSE-package-MIT.txt",
];

/// A shipped file by its path below `fonts-open/`.
pub(super) fn file(path: &str) -> Option<&'static [u8]> {
    FILES.iter().find(|(name, _)| *name == path).map(|(_, bytes)| *bytes)
}

/// The licence that stands in a family's folder.
pub(super) fn licence(folder: &str) -> Option<&'static str> {
    LICENCES.iter().find(|(name, _)| *name == folder).map(|(_, text)| *text)
}
