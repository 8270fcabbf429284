//! Figures and looks of materials and fills, from `materials.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{Fill, Finish, Material, Named, Plate};

use super::outline;

/// A plain gradient of our own that suggests the surface, and the colour of a bare cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Stops from the top left to the bottom right: offset 0 to 1, red, green, blue.
    pub stops: Vec<(f64, [u8; 3])>,
    /// Colour of an unfilled cut.
    pub cut: [u8; 3],
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
    /// Cautions in working it.
    pub cautions: Vec<String>,
    shade: [u8; 3],
    body: [u8; 3],
    light: [u8; 3],
    cut: [u8; 3],
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
/// Weight of a plate, g: area × thickness × density, nothing taken off for holes, bevel
/// or lettering. 0 for a plate without area or thickness.
#[must_use]
pub fn grams(plate: &Plate) -> f64 {
    // mm³ × g/cm³ / 1000 = g.
    outline(plate).area() * plate.thickness * material_row(plate.material).density / 1000.0
}

fn known_material(name: &str) -> &'static MaterialRow {
    let row = TABLES.material.iter().find(|row| row.name == name);
    row.expect("a test holds every material's word to a row")
}

/// The row of a name that is a finish's word.
fn known_finish(name: &str) -> &'static FinishRow {
    let row = TABLES.finish.iter().find(|row| row.name == name);
    row.expect("a test holds every finish's word to a row")
}

/// How a material with a finish is drawn.
#[must_use]
pub fn look(material: Material, finish: Finish) -> Look {
    let row = material_row(material);
    let finish = known_finish(finish.word());
    let stops = finish.stops.iter().map(|(offset, tone)| (*offset, row.tone(*tone))).collect();
    Look { stops, cut: row.cut }
}

/// The colour of a paint; `None` for no paint.
#[must_use]
pub fn fill_row(fill: Fill) -> Option<FillLook> {
    TABLES.fill.iter().find(|row| row.name == fill.word()).cloned()
}

impl MaterialRow {
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

    fn luminance(rgb: [u8; 3]) -> f64 {
        let [r, g, b] = rgb.map(|value| {
            let c = f64::from(value) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    #[test]
    fn every_word_has_its_row_and_a_source() {
        for (word, material) in Material::ALL {
            let row = material_row(*material);
            assert_eq!(row.name, *word);
            assert!(!row.source.is_empty() && !row.cautions.is_empty(), "{word}");
            assert!(row.density > 1.0 && row.expansion.0 <= row.expansion.1, "{word}");
        }
        for (word, fill) in Fill::ALL {
            assert_eq!(fill_row(*fill).is_none(), *word == "none");
        }
        assert_eq!(TABLES.material.len(), Material::ALL.len());
        assert_eq!(TABLES.finish.len(), Finish::ALL.len());
    }

    #[test]
    fn every_look_reads_in_grey_print() {
        for (word, material) in Material::ALL {
            for (finish, value) in Finish::ALL {
                let look = look(*material, *value);
                assert!(look.stops.len() >= 2);
                assert!(look.stops.first().is_some_and(|stop| stop.0.abs() < 1e-12));
                assert!(look.stops.last().is_some_and(|stop| (stop.0 - 1.0).abs() < 1e-12));
                assert!(look.stops.windows(2).all(|pair| pair[0].0 < pair[1].0));
                for (_, rgb) in &look.stops {
                    // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
                    let ratio = (luminance(*rgb) + 0.05) / (luminance(look.cut) + 0.05);
                    assert!(ratio >= 4.5, "{word}, {finish}: {ratio}");
                }
            }
        }
    }

    #[test]
    fn satin_changes_less_than_polished() {
        let range = |finish| {
            let levels: Vec<f64> = look(Material::Brass, finish)
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
