//! A record as text.

use std::fmt::Write;

use crate::job::{Cut, Trace, millimetres};
use crate::units::digits::fixed;

use super::super::wording::invisible;
use super::{Record, SEAL, VERSION, digest};

const HEAD: &str = "\
# What was signed for, kept by `ansata signoff`; lengths in mm from the plate's top left.
# Do not edit it: its seal would break. To withdraw the sign-off, delete this file.
";

const CUT: &str = "
# What is cut: paths as SVG writes them, in whole micrometres; the proof mark is a digest of
# it. Each letter stands once among the shapes, drawn from its origin; a row is a list of
# shape (from 0), x, y.
[cut]
";

/// A text as TOML writes it on one line. What shows nothing is written by its number.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            ' ' => out.push(c),
            c if invisible(c) => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A name as a key: without quotes where TOML needs none.
fn key(name: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    if !name.is_empty() && name.chars().all(bare) { name.to_owned() } else { quoted(name) }
}

/// A length as it stands in the file: all three decimals, so that nothing is lost.
fn mm(um: i64) -> String {
    fixed(millimetres(um), 3)
}

impl Record {
    /// The record as its file, seal and all. The same record gives the same bytes.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = format!("{HEAD}ansata_signed = {VERSION}\n");
        let version = &self.version;
        // Writing into a String cannot fail.
        let _ = writeln!(text, "title = {}", quoted(&version.title));
        let _ = writeln!(text, "proof_mark = {}", quoted(&version.mark));
        self.signatures(&mut text);
        let _ = writeln!(text, "\n[plate]\nshape = {}", quoted(&version.shape));
        let _ = writeln!(text, "width_mm = {}", mm(version.size.0));
        let _ = writeln!(text, "height_mm = {}", mm(version.size.1));
        self.lines(&mut text);
        cut(&mut text, &version.cut);
        let seal = digest(&text);
        let _ = writeln!(text, "{SEAL}digest = \"{seal}\"");
        text
    }

    fn signatures(&self, text: &mut String) {
        for signature in &self.signatures {
            let _ = write!(
                text,
                "\n[[signed]]\nby = {}\nrole = {}\ndate = {}\nproof = {}\n",
                quoted(&signature.by),
                quoted(&signature.role),
                quoted(&signature.date),
                signature.proof
            );
            text.push_str("\n[signed.beside]\n");
            for (name, value) in &signature.beside {
                let _ = writeln!(text, "{} = {}", key(name), quoted(value));
            }
            for agreed in &signature.accepted {
                let _ = write!(
                    text,
                    "\n[[signed.accepted]]\ncode = {}\nwhere = {}\nfinding = {}\nreason = {}\n",
                    quoted(&agreed.code),
                    quoted(&agreed.place),
                    quoted(&agreed.finding),
                    quoted(&agreed.reason)
                );
            }
        }
    }

    fn lines(&self, text: &mut String) {
        for line in &self.version.lines {
            let _ = write!(
                text,
                "\n[[line]]\ntext = {}\ncap_height_mm = {}\n",
                quoted(&line.text),
                mm(line.cap_height)
            );
            text.push_str("lettering = [\n");
            for face in &line.faces {
                let _ = writeln!(
                    text,
                    "  {{ name = {}, set = {}, file_sha256 = {} }},",
                    quoted(&face.name),
                    quoted(&face.set),
                    quoted(&face.digest)
                );
            }
            text.push_str("]\nrows = [\n");
            for row in &line.rows {
                let _ = writeln!(
                    text,
                    "  {{ text = {}, left_mm = {}, right_mm = {}, baseline_mm = {} }},",
                    quoted(&row.text),
                    mm(row.place.left),
                    mm(row.place.right),
                    mm(row.place.baseline)
                );
            }
            text.push_str("]\n");
        }
    }
}

fn cut(text: &mut String, cut: &Cut) {
    text.push_str(CUT);
    let _ = writeln!(text, "raised = {}\nfrom_behind = {}", cut.raised, cut.behind);
    let _ = writeln!(text, "bevel_mm = {}", mm(cut.bevel));
    let _ = writeln!(text, "outline = {}", quoted(&cut.outline.text()));
    if let Some(border) = &cut.border {
        let _ = writeln!(text, "border_weight_mm = {}", mm(border.weight));
        list(text, "border", border.lines.iter().map(Trace::text));
    }
    text.push_str("holes = [\n");
    for hole in &cut.holes {
        let slot = hole.travel.map_or_else(String::new, |(across, down)| {
            format!(", slot_across_mm = {}, slot_down_mm = {}", mm(across), mm(down))
        });
        let _ = writeln!(
            text,
            "  {{ x_mm = {}, y_mm = {}, diameter_mm = {}, head_mm = {}{slot} }},",
            mm(hole.at.0),
            mm(hole.at.1),
            mm(hole.diameter),
            mm(hole.head)
        );
    }
    text.push_str("]\n");
    list(text, "rows", cut.rows.iter().map(|row| Cut::row_text(row)));
    list(text, "shapes", cut.shapes.iter().map(Trace::text));
    if !cut.decoration.is_empty() {
        list(text, "decoration", cut.decoration.iter().map(Trace::text));
    }
    for photo in &cut.photos {
        let _ = write!(
            text,
            "\n[[cut.photo]]\nfile_sha256 = {}\nmade = {}\ncrop_thousandths = [{}]\noutline = {}\n",
            quoted(&photo.file),
            quoted(&photo.made),
            photo.crop.map(|side| side.to_string()).join(", "),
            quoted(&photo.outline.text())
        );
        if let Some(pocket) = &photo.pocket {
            let _ = writeln!(text, "pocket = {}", quoted(&pocket.text()));
        }
        list(text, "engraved", photo.engraved.iter().map(Trace::text));
    }
}

fn list(text: &mut String, key: &str, items: impl Iterator<Item = String>) {
    let _ = writeln!(text, "{key} = [");
    for item in items {
        let _ = writeln!(text, "  {},", quoted(&item));
    }
    text.push_str("]\n");
}
