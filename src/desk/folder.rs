//! The one folder that a desk holds: which files of it are layouts, and no path out of it.

use std::path::{Path, PathBuf};

use crate::files::load::vocabulary;
use crate::files::starters::{STARTERS, Starter};
use crate::files::{Failure, folder};
use crate::layout::{Edited, Shop, Source, read};

use super::wire::{Entry, Folder, NewLayout};

/// Most letters of a file's name that is made of a title.
const LONGEST_NAME: usize = 60;

/// Most layouts that are listed: more are no folder of layouts.
const MOST_LISTED: usize = 1000;

/// What stands in a new layout but its title: enough to be read, and to see at once. Satin and
/// paint, since unfilled letters in polished metal are hard to read.
const BLANK: &str = "\
ansata = 1

[plate]
size     = \"120 x 80 mm\"
material = \"brass\"
finish   = \"satin\"

[engraving]
fill = \"black\"

[lettering]
default = \"EB Garamond\"

[[line]]
text = \"The first line\"
";

/// The file of a layout's name, which must be in the folder: neither a path nor a link may
/// lead out of it.
pub(super) fn layout(folder: &Path, name: &str) -> Option<PathBuf> {
    let path = folder.join(name);
    let inside = || path.canonicalize().ok()?.parent().map(Path::to_owned);
    let own = folder.canonicalize().ok();
    (is_layout(name) && path.is_file() && own.is_some() && inside() == own).then_some(path)
}

/// Whether a name is that of a layout: one step, visible, `.toml`, and neither the record of a
/// sign-off nor the shop's figures.
fn is_layout(name: &str) -> bool {
    let one_step = Path::new(name).file_name().is_some_and(|file| file == name);
    let stem = name.strip_suffix(".toml").unwrap_or_default();
    let own = stem.is_empty() || stem.ends_with(".signed") || stem == "shop";
    one_step && !own && !name.starts_with('.') && !name.contains(['\\', '\0'])
}

/// What is in the folder.
pub(super) fn told(own: &Path, opened: Option<String>) -> Folder {
    let mut layouts: Vec<Entry> = folder::named(own, is_layout)
        .into_iter()
        .take(MOST_LISTED)
        .filter_map(|path| {
            let name = path.file_name()?.to_str()?.to_owned();
            layout(own, &name)?;
            let about = title(&path).unwrap_or_default();
            Some(Entry { name, about })
        })
        .collect();
    layouts.sort_by(|a, b| a.name.cmp(&b.name));
    let starter = |starter: &Starter| Entry {
        name: starter.name.to_owned(),
        about: starter.about.to_owned(),
    };
    Folder {
        folder: own.display().to_string(),
        layouts,
        starters: STARTERS.iter().map(starter).collect(),
        opened,
    }
}

fn title(path: &Path) -> Option<String> {
    let text = crate::files::load::text_of(path).ok()?.text;
    Some(Edited::of(&text).ok()?.values().get("title")?.as_str()?.to_owned())
}

/// A new layout in the folder, under a name made of its title; gives the name.
pub(super) fn begun(own: &Path, new: &NewLayout) -> Result<String, Failure> {
    let title = new.title.trim();
    if title.is_empty() {
        return Err(Failure::Input("say what the work is called".to_owned()));
    }
    readable(title)?;
    let name = free_name(own, title);
    let path = own.join(&name);
    let starter = new.from.as_deref().map(Starter::named).transpose()?;
    match starter {
        Some(starter) => {
            starter.copied_as(path, &titled(starter.layout, title))?;
        }
        None => folder::write_one(&path, titled(BLANK, title).as_bytes(), false, &[])?,
    }
    Ok(name)
}

/// Whether a layout of this title could be read again; its reader's words where it could not.
fn readable(title: &str) -> Result<(), Failure> {
    let source = Source { name: String::new(), text: titled(BLANK, title) };
    let none = |_: &str| Err(String::new());
    let told = read(&source, Shop::default(), &vocabulary(), &none);
    told.map(|_| ()).map_err(Failure::Mistakes)
}

/// A layout's text under another title.
fn titled(text: &str, title: &str) -> String {
    let path = [crate::layout::Step::Key("title".to_owned())];
    let edited = Edited::of(text).and_then(|mut edited| {
        edited.set(&path, &title.into())?;
        Ok(edited.text())
    });
    edited.unwrap_or_else(|_| text.to_owned())
}

/// A name that no file of the folder has yet.
fn free_name(own: &Path, title: &str) -> String {
    let mut stem = String::new();
    for letter in title.to_lowercase().chars() {
        if letter.is_alphanumeric() {
            stem.push(letter);
        } else if !stem.is_empty() && !stem.ends_with('-') {
            stem.push('-');
        }
        if stem.chars().count() >= LONGEST_NAME {
            break;
        }
    }
    let stem = stem.trim_end_matches('-');
    let stem = if stem.is_empty() || stem == "shop" { "layout" } else { stem };
    let names = (2..).map(|n| format!("{stem}-{n}.toml"));
    let taken = |name: &String| own.join(name).symlink_metadata().is_ok();
    let mut names = std::iter::once(format!("{stem}.toml")).chain(names);
    names.find(|name| !taken(name)).unwrap_or_else(|| "layout.toml".to_owned())
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::{begun, is_layout, layout, told};
    use crate::desk::wire::NewLayout;

    #[test]
    fn only_layouts_are_layouts() {
        for name in ["cup.toml", "Cup of 1976.toml", "é.toml", "a.b.toml"] {
            assert!(is_layout(name), "{name}");
        }
        for name in [
            "cup.signed.toml",
            "shop.toml",
            ".toml",
            ".cup.toml",
            "cup.txt",
            "",
            "a/b.toml",
            "../cup.toml",
            "..",
            "/etc/x.toml",
            "a\\b.toml",
            "cup.toml/",
            "a\0.toml",
        ] {
            assert!(!is_layout(name), "{name}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_that_leads_out_of_the_folder_is_no_layout() {
        let (inside, outside) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        fs::write(outside.path().join("other.toml"), "x = 1").unwrap();
        std::os::unix::fs::symlink(
            outside.path().join("other.toml"),
            inside.path().join("in.toml"),
        )
        .unwrap();
        assert!(layout(inside.path(), "in.toml").is_none());
        assert!(told(inside.path(), None).layouts.is_empty());
    }

    #[test]
    fn a_new_layout_is_named_by_its_title_and_replaces_none() {
        let folder = tempfile::tempdir().unwrap();
        let new = |title: &str, from: Option<&str>| {
            let new = NewLayout { title: title.to_owned(), from: from.map(str::to_owned) };
            begun(folder.path(), &new)
        };
        assert_eq!(new("Striking cup: \"1976\"", None).unwrap(), "striking-cup-1976.toml");
        assert_eq!(new("Striking Cup 1976", Some("oval")).unwrap(), "striking-cup-1976-2.toml");
        assert_eq!(new("../../etc/passwd", None).unwrap(), "etc-passwd.toml");
        assert_eq!(new("!", None).unwrap(), "layout.toml");
        assert_eq!(new("Shop", None).unwrap(), "layout-2.toml");
        assert!(new("  ", None).is_err());
        assert!(new("a", Some("ovall")).is_err());
        let listed = told(folder.path(), None);
        let about: Vec<&str> = listed.layouts.iter().map(|entry| entry.about.as_str()).collect();
        assert_eq!(listed.layouts.len(), 5);
        assert!(about.contains(&"Striking cup: \"1976\"") && about.contains(&"Striking Cup 1976"));
    }
}
