//! `ansata new --from`: a shipped layout, copied.

use std::path::PathBuf;

use crate::cli::{Outcome, say};
use crate::files::{Failure, folder};

/// A shipped layout with the files that it names.
struct Starter {
    name: &'static str,
    about: &'static str,
    layout: &'static str,
    companions: &'static [(&'static str, &'static str)],
}

const STARTERS: &[Starter] = &[
    Starter {
        name: "dedication",
        about: "a dedication plaque for a cup, four wood screws on walnut",
        layout: include_str!("../../../layouts/dedication.toml"),
        companions: &[],
    },
    Starter {
        name: "long-dedication",
        about: "a long dedication as the family sent it, on a small plate",
        layout: include_str!("../../../layouts/long-dedication.toml"),
        companions: &[(
            "from-the-tower-captain.txt",
            include_str!("../../../layouts/from-the-tower-captain.txt"),
        )],
    },
    Starter {
        name: "oval",
        about: "an oval plate with two pins",
        layout: include_str!("../../../layouts/oval.toml"),
        companions: &[],
    },
    Starter {
        name: "inches",
        about: "a plate in inch fractions, stuck on",
        layout: include_str!("../../../layouts/inches.toml"),
        companions: &[],
    },
    Starter {
        name: "ansate",
        about: "a tablet with two dovetail handles, screwed through them",
        layout: include_str!("../../../layouts/ansate.toml"),
        companions: &[],
    },
    Starter {
        name: "replacement",
        about: "a new plate over the four holes of an old one",
        layout: include_str!("../../../layouts/replacement.toml"),
        companions: &[],
    },
    Starter {
        name: "wide-walnut",
        about: "a long brass plate across a walnut board, in slots under caps",
        layout: include_str!("../../../layouts/wide-walnut.toml"),
        companions: &[],
    },
];

pub(super) fn copied(from: &str, file: Option<PathBuf>) -> Result<Outcome, Failure> {
    let Some(starter) = STARTERS.iter().find(|starter| starter.name == from) else {
        let nearest = STARTERS
            .iter()
            .min_by_key(|starter| strsim::damerau_levenshtein(starter.name, from))
            .map_or("", |starter| starter.name);
        let list: Vec<String> =
            STARTERS.iter().map(|s| format!("  {:<16} {}", s.name, s.about)).collect();
        return Err(Failure::Input(format!(
            "error: there is no starter `{from}`; the nearest is `{nearest}`\n{}",
            list.join("\n")
        )));
    };
    let file = file.unwrap_or_else(|| PathBuf::from(format!("{}.toml", starter.name)));
    let beside = file.parent().map_or_else(PathBuf::new, PathBuf::from);
    let mut files: Vec<(PathBuf, &str)> =
        starter.companions.iter().map(|(name, text)| (beside.join(name), *text)).collect();
    files.push((file, starter.layout));
    // All or none: every name is looked at before the first file is written.
    folder::refuse_existing(files.iter().map(|(path, _)| path.as_path()))?;
    for (path, text) in &files {
        folder::write_one(path, text.as_bytes(), false, &[])?;
        say::out(&format!("wrote {}\n", path.display()));
    }
    Ok(Outcome::Clear)
}
