//! Shipped layouts to begin with.

use std::path::PathBuf;

use super::{Failure, folder};

/// A shipped layout with the files that it names.
pub(crate) struct Starter {
    /// What it is called.
    pub(crate) name: &'static str,
    /// What it is.
    pub(crate) about: &'static str,
    /// Its text.
    pub(crate) layout: &'static str,
    companions: &'static [(&'static str, &'static str)],
}

/// All of them.
pub(crate) const STARTERS: &[Starter] = &[
    Starter {
        name: "dedication",
        about: "a dedication plaque for a cup, four wood screws on walnut",
        layout: include_str!("../../layouts/dedication.toml"),
        companions: &[],
    },
    Starter {
        name: "long-dedication",
        about: "a long dedication as the family sent it, on a small plate",
        layout: include_str!("../../layouts/long-dedication.toml"),
        companions: &[(
            "from-the-tower-captain.txt",
            include_str!("../../layouts/from-the-tower-captain.txt"),
        )],
    },
    Starter {
        name: "oval",
        about: "an oval plate with two pins",
        layout: include_str!("../../layouts/oval.toml"),
        companions: &[],
    },
    Starter {
        name: "inches",
        about: "a plate in inch fractions, stuck on",
        layout: include_str!("../../layouts/inches.toml"),
        companions: &[],
    },
    Starter {
        name: "ansate",
        about: "a tablet with two dovetail handles, screwed through them",
        layout: include_str!("../../layouts/ansate.toml"),
        companions: &[],
    },
    Starter {
        name: "replacement",
        about: "a new plate over the four holes of an old one",
        layout: include_str!("../../layouts/replacement.toml"),
        companions: &[],
    },
    Starter {
        name: "wide-walnut",
        about: "a long brass plate across a walnut board, in slots under caps",
        layout: include_str!("../../layouts/wide-walnut.toml"),
        companions: &[],
    },
];

impl Starter {
    /// The starter of a name.
    ///
    /// # Errors
    /// There is none: with the nearest, and all of them.
    pub(crate) fn named(from: &str) -> Result<&'static Self, Failure> {
        STARTERS.iter().find(|starter| starter.name == from).ok_or_else(|| {
            let nearest = STARTERS
                .iter()
                .min_by_key(|starter| strsim::damerau_levenshtein(starter.name, from))
                .map_or("", |starter| starter.name);
            let list: Vec<String> =
                STARTERS.iter().map(|s| format!("  {:<16} {}", s.name, s.about)).collect();
            Failure::Input(format!(
                "error: there is no starter `{from}`; the nearest is `{nearest}`\n{}",
                list.join("\n")
            ))
        })
    }

    /// Copies it to a file that is not there yet, and what it names beside that; gives all that
    /// was written.
    pub(crate) fn copied(&self, file: PathBuf) -> Result<Vec<PathBuf>, Failure> {
        self.copied_as(file, self.layout)
    }

    /// As [`Self::copied`], with another text of the layout.
    pub(crate) fn copied_as(&self, file: PathBuf, text: &str) -> Result<Vec<PathBuf>, Failure> {
        let beside = file.parent().map_or_else(PathBuf::new, PathBuf::from);
        let companions = self.companions.iter().map(|(name, text)| (beside.join(name), *text));
        let files: Vec<(PathBuf, &str)> = companions.chain([(file, text)]).collect();
        // All or none: every name is looked at before the first file is written.
        folder::refuse_existing(files.iter().map(|(path, _)| path.as_path()))?;
        for (path, text) in &files {
            folder::write_one(path, text.as_bytes(), false, &[])?;
        }
        Ok(files.into_iter().map(|(path, _)| path).collect())
    }
}
