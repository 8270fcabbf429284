//! What was answered, and the layout file made of it.

use crate::layout::{Fill, Finish, Named, Process};

/// How the plate is fixed, as answered.
#[derive(Clone)]
pub(super) struct Fixing {
    /// Keys of `fixing` with their values as TOML, the kind first.
    pub(super) keys: Vec<(&'static str, String)>,
    /// Hole set and inset as TOML, the inset where it is not left to the set; none where
    /// nothing goes through the plate.
    pub(super) holes: Option<(String, Option<String>)>,
}

/// The face that the plate goes on, each value as TOML.
#[derive(Clone)]
pub(super) struct Face {
    pub(super) size: String,
    pub(super) material: String,
    pub(super) thickness: String,
}

/// All answers; what has not been asked yet holds something that reads well.
#[derive(Clone)]
pub(super) struct Answers {
    pub(super) title: String,
    pub(super) size: String,
    /// Keys of the outline with their values as TOML; none for a rectangle.
    pub(super) outline: Vec<(&'static str, String)>,
    pub(super) material: String,
    pub(super) lines: Vec<String>,
    pub(super) lettering: String,
    pub(super) fixing: Option<Fixing>,
    pub(super) face: Option<Face>,
    /// Whether the plate was given in inches.
    pub(super) inches: bool,
}

/// A text as TOML writes it.
pub(super) fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

impl Answers {
    /// Before the first question.
    pub(super) fn begun(lettering: &str) -> Self {
        Self {
            title: "Plaque".to_owned(),
            size: "120 x 80 mm".to_owned(),
            outline: Vec::new(),
            material: "brass".to_owned(),
            lines: vec!["Words".to_owned()],
            lettering: lettering.to_owned(),
            fixing: None,
            face: None,
            inches: false,
        }
    }

    /// The layout file. What stands in a comment shows the usual further keys; each can
    /// be switched on as it stands.
    pub(super) fn layout(&self) -> String {
        let mut text = block(
            "",
            &[
                row("ansata", "1".to_owned(), ""),
                row("title", quoted(&self.title), "what the sheets call it"),
            ],
        );
        text.push_str(&block(
            "\n# Printed beside the plaque. Take away the # of what you want to say.\n[proof]\n",
            &[
                spare("client", quoted("For whom it is made"), ""),
                spare("date", quoted("2026-11-25"), "year-month-day"),
                spare("spelling", quoted("Who answers for the spelling"), ""),
            ],
        ));
        text.push_str(&block("\n[plate]\n", &self.plate()));
        text.push_str(&block(
            "\n[engraving]\n",
            &[
                spare("process", quoted("rotary"), &words::<Process>()),
                spare("fill", quoted("black"), &format!("paint: {}", words::<Fill>())),
                spare("read_from", self.either("400 mm", "16 in"), "reading distance"),
            ],
        ));
        text.push_str(&block(
            "\n[lettering]\n",
            &[row("default", quoted(&self.lettering), "all names: ansata lettering")],
        ));
        text.push_str(
            "\n# Line by line. The fit finds the heights; size says which line is higher.\n",
        );
        for line in &self.lines {
            let keys = [row("text", quoted(line), ""), row("size", "1.0".to_owned(), "")];
            text.push_str(&block("[[line]]\n", &keys));
            text.push('\n');
        }
        text.push_str(&block("[mount]\n", &self.mount()));
        if let Some(face) = &self.face {
            let keys = [
                row("size", face.size.clone(), "width x height"),
                row("material", face.material.clone(), ""),
                row("thickness", face.thickness.clone(), "wood behind the plate"),
                spare(
                    "place",
                    format!("{{ from_bottom = {} }}", self.either("15 mm", "5/8 in")),
                    "centred without it",
                ),
            ];
            text.push_str(&block("\n# What the plate goes on.\n[face]\n", &keys));
        }
        text
    }

    /// The word for the outline, if it is none of the plain ones.
    pub(super) fn shape(&self) -> Option<&str> {
        self.outline.first().map(|(_, word)| word.trim_matches('"'))
    }

    fn plate(&self) -> Vec<Row> {
        let mut keys = vec![row("size", quoted(&self.size), "width x height")];
        keys.extend(self.outline.iter().map(|(key, value)| row(key, value.clone(), "")));
        let border = format!("{{ inset = {}, lines = 1 }}", self.either("3 mm", "1/8 in"));
        keys.extend([
            row("material", quoted(&self.material), ""),
            spare("thickness", self.either("1 mm", "1/16 in"), ""),
            spare("finish", quoted("satin"), &words::<Finish>()),
            spare("margin", self.either("6 mm", "1/4 in"), "from the edge to the nearest letter"),
            spare("border", border, ""),
        ]);
        keys
    }

    fn mount(&self) -> Vec<Row> {
        let Some(fixing) = &self.fixing else {
            return vec![row("holes", quoted("none"), "nothing is said of a fixing")];
        };
        let keys: Vec<String> =
            fixing.keys.iter().map(|(key, value)| format!("{key} = {value}")).collect();
        let mut rows = vec![row("fixing", format!("{{ {} }}", keys.join(", ")), "")];
        match &fixing.holes {
            Some((holes, inset)) => {
                rows.push(row("holes", holes.clone(), ""));
                rows.extend(inset.iter().map(|inset| {
                    row("inset", inset.clone(), "from the edges to the hole centres")
                }));
            }
            None => rows.push(row("holes", quoted("none"), "")),
        }
        rows
    }

    /// A length in the unit that the plate was given in.
    fn either(&self, millimetres: &str, inches: &str) -> String {
        quoted(if self.inches { inches } else { millimetres })
    }
}

/// All words for a value, for a comment.
fn words<T: Named>() -> String {
    T::ALL.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", ")
}

/// A key, its value and what is said of it.
struct Row {
    key: String,
    value: String,
    about: String,
}

fn row(key: &str, value: String, about: &str) -> Row {
    Row { key: key.to_owned(), value, about: about.to_owned() }
}

/// A key that is not asked for, shown in a comment.
fn spare(key: &str, value: String, about: &str) -> Row {
    Row { key: format!("# {key}"), value, about: about.to_owned() }
}

/// Beyond this column a comment is not lined up with others.
const WIDEST: usize = 40;

/// A header and keys, equals signs and comments lined up.
fn block(header: &str, rows: &[Row]) -> String {
    let length = |text: &str| text.chars().count();
    let key_width = rows.iter().map(|row| length(&row.key)).max().unwrap_or(0);
    let commented = rows.iter().filter(|row| !row.about.is_empty());
    let value_width =
        commented.map(|row| length(&row.value)).filter(|width| *width <= WIDEST).max().unwrap_or(0);
    let mut text = header.to_owned();
    for Row { key, value, about } in rows {
        if about.is_empty() {
            text.push_str(&format!("{key:key_width$} = {value}\n"));
        } else {
            text.push_str(&format!("{key:key_width$} = {value:value_width$}  # {about}\n"));
        }
    }
    text
}
