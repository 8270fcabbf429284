//! What a process does to a material, from `suits.toml`: what stands against the two
//! together, and what lifts it.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::finding::Severity;
use crate::layout::{Cut, Finish, Layout, Material, Named, Process};

/// What an objection is called where the table gives it no name of its own.
const USUAL_CODE: &str = "process-on-material";

/// Something that stands against a process on a material.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Objection {
    #[serde(default)]
    materials: Vec<String>,
    #[serde(default)]
    processes: Vec<String>,
    #[serde(default)]
    coatings: Vec<String>,
    cut: Option<String>,
    #[serde(default)]
    lifted_by: Vec<String>,
    code: Option<String>,
    severity: Grave,
    says: String,
    /// Whose rule it is.
    pub source: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Grave {
    Note,
    Caution,
    Stop,
}

#[derive(Debug, Deserialize)]
struct Row {
    name: String,
    #[cfg(test)]
    suits: Vec<String>,
    #[serde(default)]
    objection: Vec<Objection>,
}

#[derive(Debug, Deserialize)]
struct Tables {
    process: Vec<Row>,
    through: Vec<Objection>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("suits.toml"))
        .expect("the table is part of the program and a test reads it")
});

impl Objection {
    /// The code of its finding.
    #[must_use]
    pub fn code(&'static self) -> &'static str {
        self.code.as_deref().unwrap_or(USUAL_CODE)
    }

    /// How grave it is.
    #[must_use]
    pub fn severity(&self) -> Severity {
        match self.severity {
            Grave::Note => Severity::Note,
            Grave::Caution => Severity::Caution,
            Grave::Stop => Severity::Stop,
        }
    }

    /// It in words, of a plate of this material.
    #[must_use]
    pub fn told(&self, material: Material) -> String {
        self.says.replace("{material}", material.word())
    }

    fn stands(&self, process: &str, material: Material, cut: Cut, surface: &[&str]) -> bool {
        let among = |words: &[String], word: &str| words.iter().any(|own| own == word);
        let on = |words: &[String]| surface.iter().any(|word| among(words, word));
        (self.materials.is_empty() || among(&self.materials, material.word()))
            && (self.processes.is_empty() || among(&self.processes, process))
            && (self.coatings.is_empty() || on(&self.coatings))
            && self.cut.as_deref().is_none_or(|own| own == cut.word())
            && !on(&self.lifted_by)
    }
}

/// Everything that stands against a layout's process on its plate, in the table's order:
/// nothing where the two suit each other.
#[must_use]
pub fn objections(layout: &Layout) -> Vec<&'static Objection> {
    objections_to(layout, layout.engraving.process)
}

/// As [`objections`], of a process of which something else on the plate is made.
#[must_use]
pub fn objections_to(layout: &Layout, process: Process) -> Vec<&'static Objection> {
    let (plate, process) = (&layout.plate, process.word());
    let lacquer = (plate.finish == Finish::Lacquered).then(|| plate.finish.word());
    let surface: Vec<&str> = lacquer.into_iter().chain(plate.coating.map(Named::word)).collect();
    let cut = if layout.incised() { Cut::Incised } else { Cut::Raised };
    let rows = TABLES.process.iter().filter(|row| row.name == process);
    rows.flat_map(|row| &row.objection)
        .chain(&TABLES.through)
        .filter(|objection| objection.stands(process, plate.material, cut, &surface))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Coating;

    #[test]
    fn every_process_speaks_of_every_material_once() {
        for (word, _) in Process::ALL {
            let rows: Vec<&Row> = TABLES.process.iter().filter(|row| row.name == *word).collect();
            assert_eq!(rows.len(), 1, "{word}");
            for (material, _) in Material::ALL {
                let suits = rows[0].suits.iter().filter(|own| own == material).count();
                let against = rows[0].objection.iter();
                let against = against.filter(|own| own.materials.iter().any(|m| m == material));
                assert!(suits <= 1, "{word} on {material}");
                assert!((suits == 1) != (against.count() > 0), "{word} on {material}");
            }
        }
        assert_eq!(TABLES.process.len(), Process::ALL.len());
    }

    #[test]
    fn every_word_of_the_table_is_one_of_the_layout_s() {
        fn known<T: Named>(word: &String) -> bool {
            T::ALL.iter().any(|(own, _)| own == word)
        }
        let rows = TABLES.process.iter();
        let all = rows.clone().flat_map(|row| &row.objection).chain(&TABLES.through);
        for own in all {
            assert!(own.materials.iter().all(known::<Material>), "{own:?}");
            assert!(own.processes.iter().all(known::<Process>), "{own:?}");
            assert!(own.coatings.iter().all(known::<Coating>), "{own:?}");
            assert!(own.cut.iter().all(known::<Cut>), "{own:?}");
            let lifts = |word: &String| word == "lacquered" || known::<Coating>(word);
            assert!(own.lifted_by.iter().all(lifts), "{own:?}");
            assert!(!own.source.is_empty() && own.says.ends_with('.'), "{own:?}");
        }
        assert!(rows.flat_map(|row| &row.suits).all(known::<Material>));
    }

    /// Share of the light that a metal takes in at 10.6 µm, by Hagen and Rubens: 0.365 times
    /// the root of resistivity over wavelength, both in cm. Resistivities in Ω m: Callister
    /// and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed., table B.9
    /// (from memory, unverified).
    #[test]
    fn metals_throw_the_light_of_a_co2_laser_back() {
        for (metal, resistivity, most) in [
            (Material::Copper, 1.72e-8, 0.05),
            (Material::Brass, 6.2e-8, 0.05),
            (Material::Bronze, 14.4e-8, 0.05),
            (Material::Aluminium, 3.7e-8, 0.05),
            (Material::StainlessSteel, 72e-8, 0.1),
        ] {
            let taken = 0.365 * (resistivity * 100.0 / 10.6e-4_f64).sqrt();
            assert!(taken < most, "{metal:?}: {taken}");
            let stands = |surface: &[&str]| {
                let row = TABLES.process.iter().find(|row| row.name == "co2 laser").unwrap();
                let mut all = row.objection.iter();
                all.any(|own| {
                    own.stands("co2 laser", metal, Cut::Incised, surface)
                        && own.severity() == Severity::Stop
                })
            };
            assert!(stands(&[]), "{metal:?}");
            assert!(!stands(&["marking compound"]) && !stands(&["paint"]), "{metal:?}");
            // Plated with a metal it is as bright as before.
            assert!(stands(&["nickel plate"]), "{metal:?}");
        }
    }
}
