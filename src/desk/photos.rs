//! Photographs that come over the page, and how they are shown there.

use std::path::Path;

use crate::drawing::Pixels;
use crate::drawing::write::png_of_pixels;
use crate::files::folder::write_one;
use crate::layout::Photo;
use crate::picture;

use super::made::told;
use super::wire::Stored;

/// Most bytes of a photograph's file: as many as the reader takes.
pub(super) const MOST_BYTES: usize = 64 * 1024 * 1024;

/// What is said of a larger one.
pub(super) const TOO_LARGE: &str =
    "the photograph is larger than 64 MiB: save it smaller, or as JPEG";

/// Most pixels of a side as it is shown for the crop.
const SHOWN: u32 = 800;

/// Lays a photograph into the folder under a name like the one that it came with. A file that
/// is there is never written over: one that holds the same is taken, else another name.
pub(super) fn stored(folder: &Path, called: &str, bytes: &[u8]) -> Result<Stored, String> {
    if bytes.len() > MOST_BYTES {
        return Err(TOO_LARGE.to_owned());
    }
    // Read before it is kept, so that nothing else is laid into the folder.
    picture::read(bytes).map_err(|why| why.to_string())?;
    let (stem, ending) = name(called);
    for n in 1..1000 {
        let name = if n == 1 { format!("{stem}.{ending}") } else { format!("{stem}-{n}.{ending}") };
        let path = folder.join(&name);
        if path.symlink_metadata().is_err() {
            write_one(&path, bytes, false, &[]).map_err(|failure| told(&failure))?;
            return Ok(Stored { name });
        }
        if path.is_file() && std::fs::read(&path).is_ok_and(|there| there == bytes) {
            return Ok(Stored { name });
        }
    }
    Err("there are a thousand files of this name".to_owned())
}

/// A name without a way in it, that every system takes: stem and ending.
fn name(called: &str) -> (String, String) {
    let last = called.rsplit(['/', '\\']).next().unwrap_or_default();
    let plain = |text: &str| -> String {
        let kept =
            text.chars().map(|c| if c.is_alphanumeric() || "-_ ".contains(c) { c } else { '-' });
        kept.take(80).collect::<String>().trim_matches(['-', ' ']).to_owned()
    };
    let (stem, ending) = last.rsplit_once('.').unwrap_or((last, ""));
    let (stem, ending) = (plain(stem), plain(ending).to_lowercase());
    let or = |text: String, usual: &str| if text.is_empty() { usual.to_owned() } else { text };
    (or(stem, "photograph"), or(ending, "jpg"))
}

/// The whole picture, upright, as a PNG of at most some hundred pixels a side.
pub(super) fn whole(photo: &Photo) -> Result<Vec<u8>, String> {
    let (width, height) = (photo.picture.width, photo.picture.height);
    let most = width.max(height).max(1);
    let shown = |side: u32| {
        let shown = u64::from(side) * u64::from(SHOWN.min(most)) / u64::from(most);
        u32::try_from(shown).unwrap_or(SHOWN).max(1)
    };
    let all = [0.0, 0.0, f64::from(width), f64::from(height)];
    let part = photo.picture.part(all, shown(width), shown(height));
    png_of_pixels(&Pixels::Colour(part), 1.0).map_err(|why| why.to_string())
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::{name, stored};

    #[test]
    fn a_name_leads_nowhere_else() {
        let told = |called: &str| {
            let (stem, ending) = name(called);
            format!("{stem}.{ending}")
        };
        assert_eq!(told("tower.JPG"), "tower.jpg");
        assert_eq!(told("../../etc/passwd"), "passwd.jpg");
        assert_eq!(told("C:\\Bells\\the tower.png"), "the tower.png");
        assert_eq!(told(".hidden"), "photograph.hidden");
        assert_eq!(told("<script>.jpg"), "script.jpg");
        assert_eq!(told(""), "photograph.jpg");
        assert_eq!(told("a\0b\n.tiff"), "a-b.tiff");
    }

    #[test]
    fn what_is_no_photograph_is_not_kept_and_nothing_is_written_over() {
        let folder = tempfile::tempdir().unwrap();
        assert!(stored(folder.path(), "a.jpg", b"<svg/>").is_err());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
        let tower = include_bytes!("../../layouts/tower.jpg");
        fs::write(folder.path().join("tower.jpg"), "another").unwrap();
        assert_eq!(stored(folder.path(), "tower.jpg", tower).unwrap().name, "tower-2.jpg");
        assert_eq!(stored(folder.path(), "tower.jpg", tower).unwrap().name, "tower-2.jpg");
        assert_eq!(fs::read(folder.path().join("tower.jpg")).unwrap(), b"another");
        assert_eq!(fs::read(folder.path().join("tower-2.jpg")).unwrap(), tower);
    }
}
