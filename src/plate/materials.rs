//! Figures and looks of materials, colours and fills, from `materials.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{Colour, Colours, Fill, Material, Named, Plate};

use super::{contrast, outline};

/// A plain gradient of our own that suggests the surface, and the colour of a bare cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Stops from the top left to the bottom right: offset 0 to 1, red, green, blue.
    pub stops: Vec<(f64, [u8; 3])>,
    /// Colour of an unfilled cut.
    pub cut: [u8; 3],
}

impl Look {
    /// The least contrast ratio of a colour against any tone of the surface (WCAG 2.2);
    /// 21 for a surface without tones.
    #[must_use]
    pub fn contrast(&self, colour: [u8; 3]) -> f64 {
        self.stops.iter().map(|(_, tone)| contrast(*tone, colour)).fold(21.0, f64::min)
    }
}

/// Three tones, dark to bright.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
struct Tones {
    shade: [u8; 3],
    body: [u8; 3],
    light: [u8; 3],
}

/// Figures of a material.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct MaterialRow {
    name: String,
    /// Density, g/cm³.
    pub density: f64,
    /// Linear expansion, 10⁻⁶ per °C: least and greatest published.
    pub expansion: (f64, f64),
    /// Source of the figures.
    pub source: String,
    /// Cautions in working it; see [`cautions`].
    cautions: Vec<String>,
    /// Absent where the look is that of the plate's colours.
    #[serde(flatten)]
    tones: Option<Tones>,
    cut: Option<[u8; 3]>,
}

/// A metal that lies on another.
#[derive(Debug, Deserialize)]
struct PlatingRow {
    name: String,
    #[serde(flatten)]
    tones: Tones,
    cautions: Vec<String>,
}

#[derive(Debug, Deserialize)]
struct ColourRow {
    name: String,
    #[serde(flatten)]
    tones: Tones,
}

/// The colour of paint.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct FillLook {
    name: String,
    /// Red, green, blue.
    pub rgb: [u8; 3],
}

#[derive(Debug, Deserialize)]
struct FinishRow {
    name: String,
    /// Offset, tone.
    stops: Vec<(f64, f64)>,
}

#[derive(Debug, Deserialize)]
struct Tables {
    material: Vec<MaterialRow>,
    plating: Vec<PlatingRow>,
    colour: Vec<ColourRow>,
    finish: Vec<FinishRow>,
    fill: Vec<FillLook>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("materials.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// Figures of a material.
#[must_use]
pub fn material_row(material: Material) -> &'static MaterialRow {
    known_material(material.word())
}

/// The row of a name that is a material's word.
fn known_material(name: &str) -> &'static MaterialRow {
    let row = TABLES.material.iter().find(|row| row.name == name);
    row.expect("a test holds every material's word to a row")
}

/// The plating of a plate, where it has one.
fn plating(plate: &Plate) -> Option<&'static PlatingRow> {
    let word = plate.coating?.word();
    TABLES.plating.iter().find(|row| row.name == word)
}

/// Cautions in working a plate: those of its material, then of what lies on it.
pub fn cautions(plate: &Plate) -> impl Iterator<Item = &'static str> {
    let plating = plating(plate).map(|row| &row.cautions);
    let all = std::iter::once(&material_row(plate.material).cautions).chain(plating);
    all.flatten().map(String::as_str)
}

/// Weight of a plate, g: area × thickness × density, nothing taken off for holes, bevel
/// or lettering. 0 for a plate without area or thickness.
#[must_use]
pub fn grams(plate: &Plate) -> f64 {
    // mm³ × g/cm³ / 1000 = g.
    outline(plate).area() * plate.thickness * material_row(plate.material).density / 1000.0
}

/// How much a length of a plate changes with its warmth, mm: least and greatest
/// published for its material, over a change of temperature in K.
#[must_use]
pub fn growth(plate: &Plate, length: f64, kelvin: f64) -> (f64, f64) {
    let (least, greatest) = material_row(plate.material).expansion;
    let share = length * kelvin * 1e-6;
    (share * least, share * greatest)
}

/// The row of a name that is a finish's word.
fn known_finish(name: &str) -> &'static FinishRow {
    let row = TABLES.finish.iter().find(|row| row.name == name);
    row.expect("a test holds every finish's word to a row")
}

/// The tones of a colour.
fn tones(colour: Colour) -> Tones {
    let row = TABLES.colour.iter().find(|row| row.name == colour.word());
    row.expect("a test holds every colour's word to a row").tones
}

/// How a plate is drawn: its colours, its finish, and what a bare cut shows.
#[must_use]
pub fn look(plate: &Plate) -> Look {
    let row = material_row(plate.material);
    let own = || row.tones.unwrap_or_else(|| tones(Colour::White));
    let (surface, cut) = match plate.colours {
        Colours::Own => (plating(plate).map_or_else(own, |row| row.tones), row.cut),
        // What lies under the coat.
        Colours::Coat(coat) => (tones(coat), Some(own().body)),
        Colours::Layers { cap, core } => (tones(cap), Some(tones(core).body)),
        Colours::Through(colour) => (tones(colour), None),
    };
    let finish = known_finish(plate.finish.word());
    let stops = finish.stops.iter().map(|(offset, tone)| (*offset, surface.tone(*tone))).collect();
    Look { stops, cut: cut.unwrap_or_else(|| scratched(surface.body)) }
}

/// Darkest and brightest scratches in a plastic of one colour: our own choice.
const SCRATCHES: [[u8; 3]; 2] = [[70, 70, 72], [206, 206, 204]];

/// What a bare cut in a plastic of one colour looks like on a proof: a grey, darker or
/// brighter, whichever is seen better.
fn scratched(body: [u8; 3]) -> [u8; 3] {
    let [dark, bright] = SCRATCHES;
    if contrast(body, dark) >= contrast(body, bright) { dark } else { bright }
}

/// The colour of a paint; `None` for no paint.
#[must_use]
pub fn fill_row(fill: Fill) -> Option<FillLook> {
    TABLES.fill.iter().find(|row| row.name == fill.word()).cloned()
}

impl Tones {
    /// Shade at 0, body at ½, light at 1, evenly between.
    fn tone(&self, tone: f64) -> [u8; 3] {
        let (from, to, share) = if tone < 0.5 {
            (self.shade, self.body, tone * 2.0)
        } else {
            (self.body, self.light, tone * 2.0 - 1.0)
        };
        [0, 1, 2].map(|channel: usize| {
            let pick = |colour: [u8; 3]| colour.get(channel).copied().unwrap_or(0);
            between(pick(from), pick(to), share)
        })
    }
}

/// The whole number nearest to a share of the way from one level to another.
fn between(from: u8, to: u8, share: f64) -> u8 {
    let wanted = f64::from(from) + (f64::from(to) - f64::from(from)) * share;
    let (low, high) = (from.min(to), from.max(to));
    (low..=high).find(|level| f64::from(*level) + 0.5 >= wanted).unwrap_or(high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Coating, Finish, MaterialKind, Shape};
    use crate::picture::luminance;

    fn plate(material: Material, colours: Colours, finish: Finish) -> Plate {
        Plate {
            width: 120.0,
            height: 80.0,
            shape: Shape::Rectangle,
            thickness: 1.0,
            material,
            colours,
            finish,
            coating: None,
            bevel: 0.0,
            margin: 4.0,
            border: None,
            quantity: 1,
            from_face: None,
        }
    }

    /// Each material as it comes where the layout tells no colours.
    fn usual(material: Material) -> Colours {
        match material.kind() {
            MaterialKind::Laminate => Colours::Layers { cap: Colour::White, core: Colour::Black },
            MaterialKind::Plastic if material == Material::Pvc => Colours::Through(Colour::White),
            _ => Colours::Own,
        }
    }

    #[test]
    fn every_word_has_its_row_and_a_source() {
        for (word, material) in Material::ALL {
            let row = material_row(*material);
            assert_eq!(row.name, *word);
            assert!(!row.source.is_empty() && !row.cautions.is_empty(), "{word}");
            assert!(row.density > 0.3 && row.expansion.0 <= row.expansion.1, "{word}");
            let own = usual(*material) == Colours::Own;
            assert_eq!((row.tones.is_some(), row.cut.is_some()), (own, own), "{word}");
        }
        for (word, fill) in Fill::ALL {
            assert_eq!(fill_row(*fill).is_none(), *word == "none");
        }
        for (_, colour) in Colour::ALL {
            assert_ne!(tones(*colour).body, tones(*colour).light);
        }
        assert_eq!(TABLES.material.len(), Material::ALL.len());
        assert_eq!(TABLES.finish.len(), Finish::ALL.len());
        assert_eq!(TABLES.colour.len(), Colour::ALL.len());
    }

    #[test]
    fn every_look_reads_in_grey_print() {
        for (word, material) in Material::ALL {
            for (finish, value) in Finish::ALL {
                let look = look(&plate(*material, usual(*material), *value));
                assert!(look.stops.len() >= 2);
                assert!(look.stops.first().is_some_and(|stop| stop.0.abs() < 1e-12));
                assert!(look.stops.last().is_some_and(|stop| (stop.0 - 1.0).abs() < 1e-12));
                assert!(look.stops.windows(2).all(|pair| pair[0].0 < pair[1].0));
                // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
                let ratio = look.contrast(look.cut);
                assert!(ratio >= 4.5, "{word}, {finish}: {ratio}");
            }
        }
    }

    #[test]
    fn a_coat_a_cap_and_a_plastic_show_their_own_colours() {
        let coated = look(&plate(Material::Brass, Colours::Coat(Colour::Black), Finish::Matt));
        let bare = material_row(Material::Brass).tones.unwrap();
        assert_eq!(coated.cut, bare.body);
        assert!(coated.stops.iter().all(|(_, rgb)| luminance(*rgb) < 0.05), "black over brass");
        let colours = Colours::Layers { cap: Colour::Red, core: Colour::White };
        let laminate = look(&plate(Material::Laminate, colours, Finish::Matt));
        assert_eq!(laminate.cut, tones(Colour::White).body);
        assert!(laminate.stops.iter().all(|(_, [red, green, _])| red > green));
        // A scratch is bright in a dark sheet, dark in a bright one.
        for (colour, dark) in [(Colour::Black, false), (Colour::White, true)] {
            let look = look(&plate(Material::Acrylic, Colours::Through(colour), Finish::Matt));
            assert_eq!(luminance(look.cut) < 0.2, dark);
        }
    }

    #[test]
    fn a_plating_looks_like_itself_cut_like_what_is_beneath_and_warns() {
        for coating in [Coating::SilverPlate, Coating::NickelPlate] {
            let bare = plate(Material::Brass, Colours::Own, Finish::Satin);
            let plated = Plate { coating: Some(coating), ..bare.clone() };
            let (seen, under) = (look(&plated), look(&bare));
            assert_ne!(seen.stops, under.stops);
            assert_eq!(seen.cut, under.cut);
            assert!(seen.contrast(seen.cut) >= 4.5);
            assert!(cautions(&plated).count() > cautions(&bare).count());
        }
        assert_eq!(TABLES.plating.len(), 2);
    }

    #[test]
    fn satin_changes_less_than_polished() {
        let range = |finish| {
            let levels: Vec<f64> = look(&plate(Material::Brass, Colours::Own, finish))
                .stops
                .iter()
                .map(|(_, rgb)| luminance(*rgb))
                .collect();
            levels.iter().fold(0.0, |a: f64, b| a.max(*b))
                - levels.iter().fold(1.0, |a: f64, b| a.min(*b))
        };
        assert!(range(Finish::Satin) < range(Finish::Polished));
        assert!(range(Finish::Matt) < range(Finish::Satin));
    }
}
