//! `ansata compare`: what one version has otherwise than another.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::files::Failure;
use crate::files::load::{loaded_alone, record, text_of};
use crate::layout::Paper;
use crate::report::changes_json;
use crate::sheets::{self, Side};
use crate::signoff::{Change, Version, changes, is_record};

use super::one::{format, write};
use super::{CompareArguments, FileArguments, Outcome, say};

/// One of the two.
struct Read {
    name: String,
    version: Version,
    /// Who signed for it, where it is a record.
    signed: Vec<String>,
    paper: Option<Paper>,
    inputs: Vec<PathBuf>,
}

pub(super) fn compare(arguments: &CompareArguments) -> Result<Outcome, Failure> {
    let format = arguments.output.as_deref().map(format).transpose()?;
    if arguments.old.as_os_str() == "-" && arguments.new.as_os_str() == "-" {
        let message = "error: only one of the two can come from standard input";
        return Err(Failure::Input(message.to_owned()));
    }
    let (old, new) = (read(arguments, &arguments.old)?, read(arguments, &arguments.new)?);
    let all = changes(&old.version, &new.version);
    if let Some((output, format)) = arguments.output.as_ref().zip(format) {
        let paper = new.paper.or(old.paper).unwrap_or(Paper::A4);
        let sheet = sheets::comparison(side(&old), side(&new), &all, paper);
        let file = FileArguments {
            output: output.clone(),
            replace: arguments.replace,
            dpi: arguments.dpi,
        };
        let inputs = [old.inputs.as_slice(), &new.inputs].concat();
        write(&sheet.drawing, format, &file, &inputs)?;
    }
    if arguments.json {
        say::out(&as_json(&old, &new, &all));
    } else if !arguments.quiet {
        say::out(&told(&old, &new, &all));
        if let Some(output) = &arguments.output {
            say::out(&format!("wrote {}\n", output.display()));
        }
    }
    Ok(Outcome::Clear)
}

fn side(read: &Read) -> Side<'_> {
    Side { name: &read.name, version: &read.version, signed: &read.signed }
}

/// A record, or a layout with the job done.
fn read(arguments: &CompareArguments, path: &Path) -> Result<Read, Failure> {
    let from_stdin = path.as_os_str() == "-";
    let name = if from_stdin {
        "standard input".to_owned()
    } else {
        path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
    };
    if !from_stdin && path.is_file() {
        let source = text_of(path)?;
        if is_record(&source.text) {
            let record = record(&source)?;
            let signed = record.signatures.iter().map(|s| format!("{}, {}", s.by, s.date));
            return Ok(Read {
                name,
                signed: signed.collect(),
                version: record.version,
                paper: None,
                inputs: vec![path.to_owned()],
            });
        }
    }
    let loaded = loaded_alone(path, arguments.shop.as_deref())?;
    Ok(Read {
        name,
        version: Version::of(&loaded.job),
        signed: Vec::new(),
        paper: Some(loaded.job.layout.proof.paper),
        inputs: loaded.inputs,
    })
}

fn told(old: &Read, new: &Read, all: &[Change]) -> String {
    let mut text = format!(
        "old  {}  proof mark {}\nnew  {}  proof mark {}\n",
        old.name, old.version.mark, new.name, new.version.mark
    );
    if all.is_empty() {
        text.push_str("nothing differs\n");
        return text;
    }
    if all.iter().all(|change| !change.is_cut()) {
        text.push_str("nothing is cut otherwise\n");
    }
    for change in all {
        if change.words.is_empty() {
            text.push_str(&format!("{}\n", change.told()));
            continue;
        }
        let row = |text: &str| text.replace('\n', "\n        ");
        text.push_str(&format!("{}, {}\n", change.place, change.what));
        text.push_str(&format!("  was   {}\n", row(&change.old)));
        text.push_str(&format!("  now   {}\n", row(&change.new)));
        for word in &change.words {
            text.push_str(&format!("  {}\n", word.told()));
        }
    }
    text
}

fn as_json(old: &Read, new: &Read, all: &[Change]) -> String {
    let one = |read: &Read| {
        json!({
            "file": read.name,
            "title": read.version.title,
            "proof_mark": read.version.mark,
            "signed": read.signed,
        })
    };
    let value: Value = json!({
        "format": "ansata-comparison",
        "version": 1,
        "old": one(old),
        "new": one(new),
        "cut_alike": all.iter().all(|change| !change.is_cut()),
        "changes": changes_json(all),
    });
    let mut text = serde_json::to_string_pretty(&value).unwrap_or_default();
    text.push('\n');
    text
}
